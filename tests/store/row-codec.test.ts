import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { FeedRow } from '../../src/feed/record/feed.ts';
import { packRows, unpackRows } from '../../src/store/database/row-codec.ts';
import { openStore } from '../../src/store/open-store.ts';
import { begunFeed, partOfSecond, rowAt } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const number = fc.double({ noNaN: true });
const numberOrNull = fc.option(number);
const anyRow: fc.Arbitrary<FeedRow> = fc.record(
  {
    atSec: number,
    milkMl: numberOrNull,
    flowMlPerMin: numberOrNull,
    intakeMl: number,
    teatInMouth: fc.boolean(),
    tiltDeg: number,
  },
  { noNullPrototype: true },
);

test('rows come back to the last bit, whatever they are', () => {
  fc.assert(
    fc.property(fc.array(anyRow, { maxLength: 60 }), (rows) => {
      // toStrictEqual tells 0 from −0.
      expect(unpackRows(packRows(rows))).toStrictEqual(rows);
    }),
    { seed: 41, numRuns: 200 },
  );
});

test('in less than half of what they take as rows', () => {
  const rows = Array.from({ length: 3000 }, (_, i) => rowAt(i * 0.4));
  // Five doubles, a flag and two keys: SQLite needs 60 bytes a row for those of a feed.
  expect(packRows(rows).length).toBeLessThan((3000 * 60) / 2);
});

test('damaged ones are no rows', () => {
  const packed = packRows([rowAt(0), rowAt(1)]);
  expect(() => unpackRows(packed.subarray(0, packed.length - 4))).toThrow();
});

test('rows are packed once the feed is over, by whichever way it ends, and read the same as before', () => {
  const folder = temporaryFolder();
  const store = openStore(folder, { recording: true });
  const end = { endReason: 'button', endedAtMs: Date.UTC(2026, 0, 5, 9, 20, 0), refined: null } as const;
  for (const id of ['ends', 'no-feed', 'taken-back', 'cut']) {
    store.begin(begunFeed(id), null);
    for (let second = 0; second < 5; second++) store.append(id, partOfSecond(second));
  }
  const before = store.get('cut')!.rows;
  store.finish('ends', end);
  store.discard('no-feed');
  // The feed is discarded by another connection while it goes on; later rows must be stored too.
  const elsewhere = openStore(folder);
  elsewhere.discard('taken-back');
  elsewhere.close();
  store.append('taken-back', partOfSecond(5));
  store.finish('taken-back', end);
  store.close();
  const again = openStore(folder, { recording: true });
  again.recover('cut', null);
  for (const id of ['ends', 'no-feed', 'cut']) expect(again.get(id)!.rows).toEqual(before);
  expect(again.get('taken-back')!.rows).toHaveLength(12);
  again.close();
});
