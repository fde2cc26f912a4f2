import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DAY_MS, HOUR_MS } from '../../src/base/calendar.ts';
import { PlainError } from '../../src/base/errors.ts';
import { containerStates, onHand, withEntry } from '../../src/planning/milk/ledger.ts';
import { EMPTY_LEDGER, type Ledger, type LedgerEntry } from '../../src/planning/milk/ledger-state.ts';
import { type Container, readContainers } from '../../src/planning/milk/milk.ts';
import { judged } from '../../src/planning/milk/milk-times.ts';
import { EXPRESSED_TIMES, FORMULA_TIMES } from '../../src/planning/milk/published-times.ts';
import { ledgerOf } from '../support/milk-ledger.ts';
import { at, container, FOURTEEN, frozen, listed } from './milk-on-hand.ts';

const T0 = at('2026-05-11T12:00:00Z');
const NOW = T0 + 3 * DAY_MS;
const hours = (count: number): number => T0 + count * HOUR_MS;

const got = (id: string, ml: number, more: object = {}) => ({
  what: 'got',
  atMs: T0,
  id,
  kind: 'expressed',
  ml,
  place: 'fridge',
  ...more,
});
const ledger = (...entries: object[]): Ledger => ledgerOf(entries, NOW);
const passing = (from: Ledger, id: string) => {
  const state = containerStates(from, NOW).find((one) => one.container.id === id)!;
  return (state.deciding.passesAtMs - T0) / HOUR_MS;
};

/**
 * CDC, storage and preparation of breast milk: room 4 h, fridge 4 d, freezer 6 months best and 12 acceptable, thawed 24 h in the
 * fridge and 1 to 2 h at room temperature, leftover within 2 h after the feed ends, cooler with ice packs 24 h. NHS: room 6 h, cool bag
 * 24 h, fridge 8 days (3 above 4 °C), freezer 6 months, within 1 h once the baby has drunk. CDC, formula: 2 h from making, 1 h from the
 * start of the feed, 24 h in the fridge; WHO/FAO 2007 the same 2 h and 24 h.
 */
describe('published times', () => {
  const of = (situation: string) =>
    [...EXPRESSED_TIMES, ...FORMULA_TIMES]
      .filter((time) => time.situation === situation)
      .map((time) => time.hours);

  it.each([
    ['room', [4]],
    ['fridge', [96]],
    ['freezer', [182 * 24, 365 * 24]],
    ['thawed-fridge', [24]],
    ['thawed-room', [1]],
    ['cooler', [24]],
    ['drunk-from', [1]],
    ['after-feed', [2]],
    ['made', [2]],
    ['made-fridge', [24]],
    ['feed-started', [1]],
  ])('%s: %j hours', (situation, expected) => {
    expect(of(situation)).toEqual(expected);
  });

  // Academy of Breastfeeding Medicine, Clinical Protocol 8 (2017; from memory): room 4 h, fridge 4 days, freezer 6 months, up to 12.
  it('are those of ABM too, where both speak', () => {
    expect(of('room')).toEqual([4]);
    expect(of('fridge')).toEqual([4 * 24]);
    expect(of('freezer').map((hoursLong) => Math.round(hoursLong / 24 / 30.4))).toEqual([6, 12]);
    for (const { source, situation } of EXPRESSED_TIMES)
      if (situation === 'fridge' || situation === 'freezer') expect(source).toContain('ABM');
  });

  it('each stand beside their source, and none says that milk is safe', () => {
    for (const { source, from } of [...EXPRESSED_TIMES, ...FORMULA_TIMES]) {
      expect(source).toMatch(/CDC|WHO|ABM/);
      expect(from).toMatch(/^when /);
      expect(`${source} ${from}`).not.toMatch(/\bsafe|\bgood\b|\bfresh/i);
    }
  });

  it('decide by the first to pass; where authorities differ, by the shorter: 6 months in the freezer', () => {
    expect(
      judged(frozen('F', 90)).clocks.map(
        ({ passesAtMs }) => (passesAtMs - at('2026-04-02T12:00:00Z')) / DAY_MS,
      ),
    ).toEqual([182, 365]);
    expect(judged(frozen('F', 90)).deciding.from).toMatch(/6 months/);
  });

  it('stand behind the rules of the place, longer or shorter', () => {
    const local = [{ situation: 'fridge' as const, hours: 48, name: 'Center’s sheet' }];
    const { clocks, deciding } = judged(container('A', 90), null, local);
    expect(clocks.map(({ source, local: isLocal }) => [source.slice(0, 8), isLocal])).toEqual([
      ['Center’s', true],
      ['CDC, sto', false],
    ]);
    expect(deciding.source).toBe('Center’s sheet');
  });
});

describe('clocks in the ledger', () => {
  const fedTwice = (kind: string) =>
    ledger(
      got('A', 90, { kind }),
      got('B', 60, { kind }),
      { what: 'offered', atMs: hours(3), id: 'A', feed: 'noon' },
      { what: 'fed', atMs: hours(3.5), feed: 'noon', taken: [{ id: 'A', ml: 60 }] },
      // A second bottle of the same feed, which ended a quarter of an hour later.
      { what: 'offered', atMs: hours(3.6), id: 'B', feed: 'noon' },
      { what: 'fed', atMs: hours(3.75), feed: 'noon', taken: [{ id: 'B', ml: 20 }] },
    );

  it('expressed milk: 1 h from when the baby drank (NHS) before 2 h from the end (CDC), shown both; a top-up starts nothing anew', () => {
    expect(passing(fedTwice('expressed'), 'A')).toBe(4);
    expect(passing(fedTwice('expressed'), 'B')).toBe(4);
    const ends = containerStates(fedTwice('expressed'), NOW)[0]!.clocks.map(({ situation, passesAtMs }) => [
      situation,
      (passesAtMs - T0) / HOUR_MS,
    ]);
    expect(ends).toContainEqual(['drunk-from', 4]);
    expect(ends).toContainEqual(['after-feed', 5.5]);
    const local = [{ situation: 'drunk-from' as const, hours: 3, name: 'Our clinic' }];
    expect(containerStates(fedTwice('expressed'), NOW, local)[0]!.deciding.situation).toBe('after-feed');
  });

  it('formula: start of the feed + 1 h, also for the top-up; made + 2 h', () => {
    const made = ledger(got('A', 90, { kind: 'formula', place: 'room' }));
    expect(passing(made, 'A')).toBe(2);
    expect(passing(ledger(got('A', 90, { kind: 'formula' })), 'A')).toBe(24);
    const early = ledger(
      got('A', 90, { kind: 'formula', place: 'room' }),
      { what: 'offered', atMs: hours(0.25), id: 'A', feed: 'one' },
      { what: 'fed', atMs: hours(0.75), feed: 'one', taken: [{ id: 'A', ml: 60 }] },
    );
    expect(passing(early, 'A')).toBe(1.25);
    const { deciding, passed } = containerStates(fedTwice('formula'), NOW)[0]!;
    expect(passed).toContainEqual(deciding);
  });

  it('mixed: the stricter of both', () => {
    const mixed = ledger(
      got('M', 80),
      got('F', 40, { kind: 'formula', place: 'room', atMs: hours(1) }),
      {
        what: 'poured',
        atMs: hours(1),
        into: 'X',
        from: [
          { id: 'M', ml: 80 },
          { id: 'F', ml: 40 },
        ],
      },
      { what: 'offered', atMs: hours(1.25), id: 'X', feed: 'one' },
      { what: 'fed', atMs: hours(1.75), feed: 'one', taken: [{ id: 'X', ml: 100 }] },
    );
    expect(containerStates(mixed, NOW)[0]!.container).toMatchObject({
      kind: 'mixed',
      expressedAtMs: T0,
      volumeMl: 20,
    });
    // Feed started + 1 h = 2.25 h; made at 1 h + 2 h = 3 h; end of the feed + 2 h = 3.75 h.
    expect(passing(mixed, 'X')).toBe(2.25);
    expect(
      containerStates(mixed, NOW)[0]!
        .clocks.map(({ situation }) => situation)
        .sort(),
    ).toEqual(['after-feed', 'drunk-from', 'feed-started', 'made', 'room'].sort());
  });

  it('thawed, then warmed: 24 h from thawing, 2 h from warming, whichever is first; warming again changes nothing', () => {
    const cold = [got('Z', 90, { place: 'freezer' }), { what: 'thawed', atMs: hours(20), id: 'Z' }];
    expect(passing(ledger(...cold), 'Z')).toBe(44);
    const warm = [...cold, { what: 'warmed', atMs: hours(24), id: 'Z' }];
    // 4 of 24 hours were used in the fridge: of thawed milk's hour at room temperature 50 minutes are left.
    expect(passing(ledger(...warm), 'Z')).toBeCloseTo(24 + 5 / 6, 5);
    expect(passing(ledger(...warm, { what: 'warmed', atMs: hours(24.5), id: 'Z' }), 'Z')).toBeCloseTo(
      24 + 5 / 6,
      5,
    );
  });

  it('pooled milk keeps the strictest dates', () => {
    const pooled = ledger(
      got('Z', 90, { place: 'freezer' }),
      got('A', 60, { atMs: hours(10) }),
      { what: 'thawed', atMs: hours(20), id: 'Z' },
      {
        what: 'poured',
        atMs: hours(21),
        into: 'P',
        from: [
          { id: 'A', ml: 60 },
          { id: 'Z', ml: 50 },
          { id: 'Z', ml: 40 },
        ],
      },
    );
    expect(onHand(pooled)).toMatchObject([
      { id: 'P', volumeMl: 150, place: 'fridge', expressedAtMs: T0, thawedAtMs: hours(20) },
    ]);
    expect(passing(pooled, 'P')).toBe(44);
  });
});

describe('order of use', () => {
  it('is thawed, then the fridge oldest first, then the oldest frozen', () => {
    const milk = [...FOURTEEN, container('T', 60, { thawedAtMs: at('2026-05-11T20:00:00Z') })];
    const now = at('2026-05-12T00:00:00Z');
    expect(readContainers(milk.map(listed), now)).toEqual(milk);
    const entries = ledger(
      got('new', 60, { atMs: hours(5) }),
      got('deep', 60, { place: 'freezer' }),
      got('old', 60),
      got('out', 60, { place: 'freezer', atMs: hours(1) }),
      { what: 'thawed', atMs: hours(6), id: 'out' },
    );
    expect(onHand(entries).map(({ id }) => id)).toEqual(['out', 'old', 'new', 'deep']);
  });
});

describe('what cannot be', () => {
  const base = [got('A', 90), got('B', 60, { place: 'freezer' })];
  const offered = [...base, { what: 'offered', atMs: hours(2), id: 'A', feed: 'one' }];
  it.each([
    ['a label used twice', [...base, got('A', 50)], /^Container A is in the ledger already/],
    ['negative milk', [got('A', -5)], /^The amount: too little/],
    ['an impossible volume', [got('A', 5000)], /^The amount: too much/],
    ['no date', [{ ...got('A', 50), atMs: null }], /^The time: not given/],
    ['the future', [got('A', 50, { atMs: NOW + 1 })], /^Its date lies in the future/],
    ['an unknown container', [{ what: 'warmed', atMs: T0, id: 'Q' }], /no container Q/],
    ['an inherited name', [{ what: 'warmed', atMs: T0, id: 'constructor' }], /no container constructor/],
    [
      'refreezing',
      [
        got('A', 90, { place: 'freezer' }),
        { what: 'thawed', atMs: hours(1), id: 'A' },
        { what: 'stored', atMs: hours(2), id: 'A', place: 'freezer' },
      ],
      /never refreeze|thawed or warmed and is in the freezer/,
    ],
    [
      'thawing what is not frozen',
      [...base, { what: 'thawed', atMs: hours(1), id: 'A' }],
      /not in the freezer/,
    ],
    ['offering frozen milk', [...base, { what: 'offered', atMs: hours(1), id: 'B', feed: 'one' }], /frozen/],
    [
      'more than it holds',
      [...offered, { what: 'fed', atMs: hours(3), feed: 'one', taken: [{ id: 'A', ml: 120 }] }],
      /held 90 mL/,
    ],
    [
      'a feed nobody began',
      [...base, { what: 'fed', atMs: hours(3), feed: 'two', taken: [{ id: 'A', ml: 20 }] }],
      /Nothing was offered/,
    ],
    [
      'a feed that ends before it starts',
      [...offered, { what: 'fed', atMs: hours(1), feed: 'one', taken: [{ id: 'A', ml: 20 }] }],
      /had not begun/,
    ],
    [
      'a container used up',
      [
        ...offered,
        { what: 'fed', atMs: hours(3), feed: 'one', taken: [{ id: 'A', ml: 90 }] },
        { what: 'offered', atMs: hours(4), id: 'A', feed: 'two' },
      ],
      /used up \(fed\)/,
    ],
    [
      'a discarded one',
      [...base, { what: 'discarded', atMs: hours(1), id: 'A' }, { what: 'warmed', atMs: hours(2), id: 'A' }],
      /used up \(discarded\)/,
    ],
    [
      'leftovers poured into another',
      [...offered, { what: 'poured', atMs: hours(3), into: 'C', from: [{ id: 'A', ml: 20 }] }],
      /was offered at a feed/,
    ],
    [
      'more poured than there is',
      [
        ...base,
        {
          what: 'poured',
          atMs: hours(3),
          into: 'C',
          from: [
            { id: 'A', ml: 60 },
            { id: 'A', ml: 60 },
          ],
        },
      ],
      /cannot be poured/,
    ],
    [
      'an entry before the latest',
      [...base, { what: 'warmed', atMs: hours(5), id: 'A' }, { what: 'discarded', atMs: hours(4), id: 'A' }],
      /later entry/,
    ],
  ])('%s is refused in a clear sentence', (_, entries, message) => {
    expect(() => ledgerOf(entries, NOW)).toThrow(PlainError);
    expect(() => ledgerOf(entries, NOW)).toThrow(message);
  });

  it('leaves nothing half done', () => {
    const before = ledgerOf(base, NOW);
    const copy = structuredClone(before);
    const pour: LedgerEntry = {
      what: 'poured',
      atMs: hours(3),
      into: 'C',
      from: [
        { id: 'A', ml: 60 },
        { id: 'B', ml: 10 },
      ],
    };
    expect(() => withEntry(before, pour, NOW)).toThrow(PlainError);
    expect(before).toEqual(copy);
  });

  it('in a list of containers is named with its container and field', () => {
    const now = at('2026-05-12T12:00:00Z');
    const read = (one: Container) => () => readContainers([container('A', 90), one].map(listed), now);
    expect(read(container('A', 60))).toThrow(/Container A is listed twice/);
    expect(read(container('B', -60))).toThrow(/Container 2, volumeMl/);
    expect(read(container('B', 60, { expressedAtMs: now + 1 }))).toThrow(/lies in the future/);
    expect(read(container('B', 60, { thawedAtMs: T0 - DAY_MS }))).toThrow(/before it was expressed/);
    expect(read(frozen('B', 60, '2020-01-01'))).toThrow(/three years/);
    expect(read({ ...frozen('B', 60), thawedAtMs: T0 })).toThrow(/in the freezer/);
    expect(() => readContainers({}, now)).toThrow(/list of containers/);
  });
});

describe('any ledger', () => {
  it('keeps every millilitre: got = on hand + fed + discarded, whatever is entered and refused', () => {
    const id = fc.constantFrom(...'ABCDEFGHIJ');
    const ml = fc.integer({ min: 1, max: 150 });
    const entry = fc.oneof(
      fc.record({
        what: fc.constant('got'),
        id,
        kind: fc.constantFrom('expressed', 'formula'),
        ml,
        place: fc.constantFrom('fridge', 'freezer', 'room'),
      }),
      fc.record({ what: fc.constantFrom('thawed', 'warmed', 'discarded'), id }),
      fc.record({
        what: fc.constant('poured'),
        into: id,
        from: fc.array(fc.record({ id, ml }), { minLength: 1, maxLength: 3 }),
      }),
      fc.record({ what: fc.constant('offered'), id, feed: fc.constantFrom('one', 'two') }),
      fc.record({
        what: fc.constant('fed'),
        feed: fc.constantFrom('one', 'two'),
        taken: fc.array(fc.record({ id, ml }), { minLength: 1, maxLength: 2 }),
      }),
    );
    let accepted = 0;
    fc.assert(
      fc.property(fc.array(entry, { minLength: 30, maxLength: 60 }), (entries) => {
        let state = EMPTY_LEDGER;
        entries.forEach((one, i) => {
          try {
            state = withEntry(state, { ...one, atMs: T0 + i * 60_000 } as LedgerEntry, NOW);
            accepted += 1;
          } catch (error) {
            expect(error).toBeInstanceOf(PlainError);
          }
        });
        const volumes = Object.values(state.containers).map(({ container: { volumeMl } }) => volumeMl);
        for (const volume of volumes) expect(volume).toBeGreaterThanOrEqual(0);
        const { gotMl, fedMl, discardedMl } = state.totals;
        expect(volumes.reduce((sum, one) => sum + one, fedMl + discardedMl)).toBeCloseTo(gotMl, 6);
      }),
      { numRuns: 300, seed: 9 },
    );
    expect(accepted).toBeGreaterThan(1000);
  });
});
