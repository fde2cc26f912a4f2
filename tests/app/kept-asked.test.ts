/** What the commands about all stored data ask before they do something, and what they refuse. */
import { describe, expect, it, vi } from 'vitest';
import { checkAsAsked } from '../../src/app/kept/check-asked.ts';
import { makeSure } from '../../src/app/kept/forgetting.ts';
import { tellTrouble } from '../../src/app/kept/tell-trouble.ts';
import { fullFolder } from '../support/full-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describe('before a baby is forgotten', () => {
  const typing =
    (...answers: string[]) =>
    async () =>
      answers.shift() ?? null;

  it('its name and a yes are asked for', async () => {
    await expect(makeSure('Wren', typing('wren', 'yes'))).resolves.toBeUndefined();
  });

  it.each<[string, string[]]>([
    ['another name', ['Linnet', 'yes']],
    ['no yes', ['Wren', 'y']],
    ['the end of input', ['Wren']],
    ['no answer at all', []],
  ])('%s is no', async (_, answers) => {
    await expect(makeSure('Wren', typing(...answers))).rejects.toMatchObject({
      code: 'forget-unsure',
      message: 'Nothing was deleted.',
    });
  });

  it('nobody there is no, too', async () => {
    await expect(makeSure('Wren', null)).rejects.toMatchObject({
      message: expect.stringContaining('nobody'),
    });
  });
});

describe('a look over what is kept', () => {
  it('says what is in the folder', async () => {
    const folder = fullFolder(temporaryFolder());
    expect(await checkAsAsked(folder, false)).toEqual({ folder, feeds: 4, captures: 4, findings: [] });
  });

  it('makes no feeds again in a database', async () => {
    await expect(checkAsAsked({ database: 'postgres://a@127.0.0.1:1/b' }, true)).rejects.toMatchObject({
      code: 'check-rebuild',
    });
  });
});

it('a store that takes nothing is told of once, and so is its end', () => {
  vi.useFakeTimers();
  let now: string | null = null;
  const told: string[] = [];
  const stop = tellTrouble(
    () => now,
    (text) => told.push(text),
  );
  for (now of [null, 'Full.', 'Full.', 'Away.', null, null]) vi.advanceTimersByTime(1000);
  stop();
  now = 'Full.';
  vi.advanceTimersByTime(5000);
  vi.useRealTimers();
  expect(told).toEqual(['Full.', 'Away.', 'The store takes feeds again.']);
});
