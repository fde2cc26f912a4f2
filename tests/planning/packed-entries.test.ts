import { describe, expect, it } from 'vitest';
import { FieldError } from '../../src/base/errors.ts';
import { packedEntries } from '../../src/planning/bag/packed-entries.ts';
import { type EntryEvent, newEntries, storedLedger } from '../../src/planning/milk/stored-ledger.ts';

const T0 = Date.parse('2026-05-12T18:00:00Z');
const NOW = T0 + 3_600_000;
const got = (id: string, ml: number, place: string) => ({
  what: 'got',
  atMs: T0,
  id,
  kind: 'expressed',
  ml,
  place,
});
const BOOK: EntryEvent[] = [got('A', 90, 'fridge'), got('ice', 120, 'freezer'), got('B', 60, 'fridge')].map(
  (entry, i) => ({ no: i + 1, entry }),
);
const BOTTLES = [
  { role: 'feed' as const, ml: 59, from: [{ id: 'A', ml: 59 }] },
  {
    role: 'feed' as const,
    ml: 75,
    from: [
      { id: 'A', ml: 31 },
      { id: 'ice', ml: 44 },
    ],
  },
  { role: 'spare' as const, ml: 60, from: [{ id: 'B', ml: 60 }] },
];
const PLAN = {
  atMs: NOW,
  plan: 'wren 2026-05-13 08:30',
  fromMs: NOW + 12 * 3_600_000,
  untilMs: NOW + 21 * 3_600_000,
  claimed: { shortChance: 0.05, modelChance: 0.05, thrownMl: 40, bottles: 3 },
};
const WHEN = { day: '2026-05-13', plan: PLAN };

describe('filled bottles in the milk ledger', () => {
  const { ledger } = storedLedger(BOOK, NOW);
  const entries = packedEntries(BOTTLES, ledger, WHEN);

  it('are poured under labels of their day, frozen milk thawed first; a whole container stays what it is', () => {
    expect(
      entries.map((entry) => [entry.what, 'into' in entry ? entry.into : 'id' in entry && entry.id]),
    ).toEqual([
      ['thawed', 'ice'],
      ['poured', '5/13 #1'],
      ['poured', '5/13 #2'],
      ['promised', false],
    ]);
  });

  it('can be written as they are, and keep every millilitre and the strictest dates', () => {
    expect(newEntries(BOOK, entries, NOW)).toEqual(entries);
    const after = storedLedger([...BOOK, ...entries.map((entry, i) => ({ no: 10 + i, entry }))], NOW);
    expect(after.leftOut).toEqual([]);
    const volumes = Object.values(after.ledger.containers).map(({ container }) => container.volumeMl);
    expect(volumes.reduce((sum, ml) => sum + ml, 0)).toBeCloseTo(270, 6);
    // Thawed milk in it: its 24 hours (CDC) run for the whole bottle.
    expect(after.ledger.containers['5/13 #2']?.container.thawedAtMs).toBe(NOW);
    expect(after.ledger.containers.ice?.container.volumeMl).toBeCloseTo(76, 6);
    expect(after.ledger.promises[PLAN.plan]?.ids).toEqual(['5/13 #1', '5/13 #2', 'B']);
    expect(() => packedEntries(BOTTLES, after.ledger, WHEN)).toThrow(FieldError);
    // Another baby's bottles of that day stay promised.
    const other = { ...PLAN, plan: 'ada 2026-05-13 08:30' };
    const [first] = packedEntries([{ role: 'feed', ml: 40, from: [{ id: 'ice', ml: 40 }] }], after.ledger, {
      day: '2026-05-13',
      plan: other,
    });
    expect(first).toMatchObject({ what: 'poured', into: '5/13 #3' });
  });
});
