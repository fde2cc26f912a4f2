/** The end of `ebbline start` while the disk takes nothing. */
import { expect, it } from 'vitest';
import { keepTrying, type Unkept } from '../../src/app/kept/keep-trying.ts';

/** @param room  seconds until there is room again @param askedIn  seconds in which it is asked to stop once more */
function ending({ room, askedIn = [] }: { room: number; askedIn?: number[] }) {
  let said = '';
  let second = 0;
  const unkept: Unkept = { feedIds: ['feed-1'], notice: 'The disk is full. Free some space.' };
  const kept = keepTrying(
    { keepRest: () => second >= room },
    {
      unkept: () => unkept,
      nextSecond: async () => askedIn.includes(++second),
      say: (text) => {
        said += text;
      },
    },
  );
  return kept.then((isKept) => ({ isKept, said, second }));
}

it('says nothing when all is kept at once', async () => {
  expect(await ending({ room: 0 })).toEqual({ isKept: true, said: '', second: 0 });
});

it('says what is only in memory and what to do, and goes on until it is kept', async () => {
  const { isKept, said, second } = await ending({ room: 5 });
  expect([isKept, second]).toEqual([true, 5]);
  expect(said).toMatch(
    /^ebbline: NOT kept yet: .* feed-1\. .* memory.* The disk is full\. Free some space\.\nLeave this program running/,
  );
  expect(said).toMatch(/all is kept now\.\n$/);
});

it('stopped once more it says what is lost', async () => {
  const { isKept, said, second } = await ending({ room: 9, askedIn: [3] });
  expect([isKept, second]).toEqual([false, 3]);
  expect(said).toMatch(/LOST: what was measured last of the feed feed-1\. What was written before stays/);
  expect(said).not.toContain('all is kept now');
});

it('one Ctrl-C that a shell sends twice is not taken for two', async () => {
  expect(await ending({ room: 4, askedIn: [1] })).toMatchObject({ isKept: true, second: 4 });
});

it('stopped once more it tries a last time', async () => {
  expect(await ending({ room: 3, askedIn: [3] })).toMatchObject({ isKept: true });
});
