/** Milk that is promised to a plan, what came back of it, and refused entries, which change nothing. */
import { describe, expect, it } from 'vitest';
import { HOUR_MS } from '../../src/base/calendar.ts';
import { containerStates, onHand } from '../../src/planning/milk/ledger.ts';
import { ledgerOf } from '../support/milk-ledger.ts';
import { at } from './milk-on-hand.ts';

const T0 = at('2026-05-11T18:00:00Z');
const NOW = T0 + 40 * HOUR_MS;
const hours = (count: number): number => T0 + count * HOUR_MS;
const got = (id: string, ml = 90, more = {}) => ({
  what: 'got',
  atMs: T0,
  id,
  kind: 'expressed',
  ml,
  place: 'fridge',
  ...more,
});
const promised = (plan: string, ids: string[], more = {}) => ({
  what: 'promised',
  atMs: hours(1),
  plan,
  fromMs: hours(14),
  untilMs: hours(23),
  ids,
  claimed: { shortChance: 0.05, modelChance: 0.06, thrownMl: 40, bottles: ids.length },
  ...more,
});
const ledger = (...entries: object[]) => ledgerOf(entries, NOW);
const ids = (from: ReturnType<typeof ledger>, name: string, atMs: number) =>
  onHand(from, { name, atMs }).map(({ id }) => id);

describe('promised milk', () => {
  const two = ledger(got('A'), got('B'), got('C'), promised('wren', ['A', 'B']));

  it('is there for its own plan and for no other, until that is over', () => {
    expect(ids(two, 'wren', hours(2))).toEqual(['A', 'B', 'C']);
    expect(ids(two, 'ada', hours(2))).toEqual(['C']);
    expect(ids(two, 'ada', hours(24))).toEqual(['A', 'B', 'C']);
    expect(containerStates(two, hours(2)).map(({ promisedTo }) => promisedTo)).toEqual([
      'wren',
      'wren',
      null,
    ]);
  });

  it('is never promised twice', () => {
    expect(() => ledger(got('A'), promised('wren', ['A']), promised('ada', ['A']))).toThrow(
      /A is promised to another plan/,
    );
    // The same plan made again promises other containers.
    const again = ledger(got('A'), got('B'), promised('wren', ['A']), promised('wren', ['B']));
    expect(ids(again, 'ada', hours(2))).toEqual(['A']);
  });

  it('stays promised in the bottle it is poured into', () => {
    const poured = ledger(got('A'), promised('wren', ['A']), {
      what: 'poured',
      atMs: hours(2),
      into: 'bottle',
      from: [{ id: 'A', ml: 60 }],
    });
    expect(ids(poured, 'ada', hours(3))).toEqual([]);
  });
});

describe('what came back', () => {
  const back = (id: string, how: string, more = {}) => ({
    what: 'came-back',
    atMs: hours(24),
    id,
    how,
    ...more,
  });
  const start = [got('A'), got('B'), got('C'), promised('wren', ['A', 'B', 'C'])];

  it('is one entry a bottle: emptied, some left, unopened; every millilitre is accounted for', () => {
    const after = ledger(
      ...start,
      back('A', 'emptied'),
      back('B', 'left', { leftMl: 30 }),
      back('C', 'unopened'),
    );
    expect(after.totals).toEqual({ gotMl: 270, fedMl: 150, discardedMl: 30 });
    expect(Object.values(after.containers).map(({ gone }) => gone)).toEqual(['fed', 'discarded', null]);
    expect(after.promises.wren).toMatchObject({ ids: ['A', 'B'], thrownMl: 30, short: null });
  });

  it('puts what comes back in the cooler into the fridge; no time begins anew', () => {
    const cooler = [
      got('A'),
      promised('wren', ['A']),
      { what: 'stored', atMs: hours(12), id: 'A', place: 'cooler' },
    ];
    const [before] = containerStates(ledger(...cooler), hours(24));
    const [after] = containerStates(ledger(...cooler, back('A', 'unopened')), hours(24));
    expect(after!.container.place).toBe('fridge');
    // Half a day in a cooler is half of its 24 hours (CDC), an eighth of the fridge's four days went before.
    expect(before!.deciding.situation).toBe('cooler');
    expect(after!.deciding.passesAtMs).toBeLessThan(T0 + 96 * HOUR_MS);
  });

  it('tells how the day went', () => {
    const after = ledger(...start, { what: 'went', atMs: hours(24), plan: 'wren', short: true });
    expect(after.promises.wren!.short).toBe(true);
  });

  it.each([
    ['more left than there was', back('A', 'left', { leftMl: 120 }), /120 mL cannot be left/],
    ['nobody says how much was left', back('A', 'left'), /not said how much/],
    ['an unknown bottle', back('X', 'emptied'), /no container X/],
    ['a negative rest', back('A', 'left', { leftMl: -5 }), /leftMl/],
    ['an unknown plan', { what: 'went', atMs: hours(24), plan: 'ada', short: false }, /No such plan/],
    ['a day that has not begun', { what: 'went', atMs: hours(2), plan: 'wren', short: false }, /not begun/],
    ['times out of order', back('A', 'emptied', { atMs: T0 - HOUR_MS }), /later entry/],
    ['a time away that runs backwards', promised('ada', [], { untilMs: hours(13) }), /ends before it begins/],
    ['an unknown place', { what: 'stored', atMs: hours(2), id: 'A', place: 'shelf' }, /place/],
    ['a move before it was pumped', { what: 'stored', atMs: T0 - 1, id: 'A', place: 'room' }, /later entry/],
    ['a clock that jumped', { what: 'stored', atMs: NOW + HOUR_MS, id: 'A', place: 'room' }, /future/],
  ])('refuses %s, whole', (_, entry, says) => {
    expect(() => ledger(...start, entry)).toThrow(says);
  });
});

describe('places', () => {
  it('a deep freezer goes on with the freezer’s clock, and is no thawing', () => {
    const moved = ledger(got('A', 90, { place: 'freezer' }), {
      what: 'stored',
      atMs: hours(30),
      id: 'A',
      place: 'deep-freezer',
    });
    const [one] = containerStates(moved, NOW);
    expect(one!.container.thawedAtMs).toBeNull();
    expect((one!.deciding.passesAtMs - T0) / HOUR_MS).toBe(182 * 24);
    const out = ledger(got('A', 90, { place: 'deep-freezer' }), {
      what: 'stored',
      atMs: hours(30),
      id: 'A',
      place: 'fridge',
    });
    expect(containerStates(out, NOW)[0]!.deciding.situation).toBe('thawed-fridge');
  });

  it('a sleeve neither cools nor warms', () => {
    const inSleeve = ledger(got('A', 90, { place: 'sleeve' }));
    expect((containerStates(inSleeve, NOW)[0]!.deciding.passesAtMs - T0) / HOUR_MS).toBe(4);
  });

  it('a cooler with ice packs has 24 hours, of which the fridge before used its share', () => {
    const cooled = ledger(got('A'), { what: 'stored', atMs: hours(24), id: 'A', place: 'cooler' });
    // A quarter of four days was used: 18 of the 24 hours are left.
    expect((containerStates(cooled, NOW)[0]!.deciding.passesAtMs - T0) / HOUR_MS).toBe(42);
  });
});
