/** Milk that is moved: once a time has passed, no later step makes the milk usable again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DAY_MS, HOUR_MS } from '../../src/base/calendar.ts';
import { PlainError } from '../../src/base/errors.ts';
import { planBottles } from '../../src/planning/bag/bottles.ts';
import { dayKinds, learnBaby } from '../../src/planning/intake/intake-model.ts';
import { containerStates, onHand, withEntry } from '../../src/planning/milk/ledger.ts';
import { EMPTY_LEDGER, type Ledger, type LedgerEntry } from '../../src/planning/milk/ledger-state.ts';
import type { LocalTime } from '../../src/planning/milk/milk-times.ts';
import { storedLedger } from '../../src/planning/milk/stored-ledger.ts';
import { ledgerOf } from '../support/milk-ledger.ts';
import { at } from './milk-on-hand.ts';

const T0 = at('2026-05-11T12:00:00Z');
/** Later than every published time. */
const END = T0 + 3 * 365 * DAY_MS;
const hours = (count: number): number => T0 + count * HOUR_MS;

type Step = [hour: number, what: string, place?: string];

/** One container A, through its steps; times in hours after it was expressed or made. */
const entriesOf = (steps: readonly Step[], kind = 'expressed'): object[] =>
  steps.map(([hour, what, place]) => ({
    what,
    atMs: hours(hour),
    id: 'A',
    ...(what === 'got' && { kind, ml: 90 }),
    ...(place !== undefined && { place }),
    ...(what === 'offered' && { feed: 'one' }),
  }));
const through = (steps: readonly Step[], kind = 'expressed'): Ledger => ledgerOf(entriesOf(steps, kind), END);

const standingOf = (ledger: Ledger, nowMs = END, local: readonly LocalTime[] = []) =>
  containerStates(ledger, nowMs, local).find(({ container }) => container.id === 'A')!;
/** Hours after it was expressed or made. */
const passes = (steps: readonly Step[], kind = 'expressed', local: readonly LocalTime[] = []): number =>
  (standingOf(through(steps, kind), END, local).deciding.passesAtMs - T0) / HOUR_MS;

/**
 * Published: CDC, storage and preparation of breast milk (room 4 h, fridge 4 days, freezer 6 months from expressing, the shorter of what CDC (6 best, 12 acceptable) and NHS (6) say, thawed 24 h in
 * the fridge and 1 to 2 h at room temperature); CDC, infant formula, and WHO/FAO 2007 (made 2 h, fridge 24 h). That the part used of one
 * place's time is used of the next one's too is our own rule, no source: it is never longer than what is published.
 */
describe('a time that has passed', () => {
  it('at room temperature does not come back in the fridge', () => {
    expect(
      passes([
        [0, 'got', 'room'],
        [12.8, 'stored', 'fridge'],
      ]),
    ).toBe(4);
  });

  it('in the fridge does not come back in the freezer, nor by thawing', () => {
    const late: Step[] = [
      [0, 'got', 'fridge'],
      [8 * 24, 'stored', 'freezer'],
    ];
    expect(passes(late)).toBe(96);
    expect(passes([...late, [9 * 24, 'thawed']])).toBe(96);
  });

  it('in the freezer does not come back by thawing or warming', () => {
    const old: Step[] = [[0, 'got', 'freezer']];
    expect(passes([...old, [366 * 24, 'thawed']])).toBe(182 * 24);
    expect(passes([...old, [366 * 24, 'warmed']])).toBe(182 * 24);
  });

  it('of thawed milk does not come back by warming or in the fridge', () => {
    const thawed: Step[] = [
      [0, 'got', 'freezer'],
      [100, 'thawed'],
    ];
    expect(passes([...thawed, [125, 'warmed']])).toBe(124);
    expect(passes([...thawed, [101, 'stored', 'room'], [103, 'stored', 'fridge']])).toBeCloseTo(
      101 + 23 / 24,
      4,
    );
  });

  it('of warmed milk does not come back in the fridge', () => {
    expect(
      passes([
        [0, 'got', 'fridge'],
        [10, 'warmed'],
        [13, 'stored', 'fridge'],
      ]),
    ).toBe(12);
    expect(
      passes([
        [0, 'got', 'room'],
        [5, 'warmed'],
      ]),
    ).toBe(4);
  });

  it('of formula does not come back in the fridge', () => {
    expect(
      passes(
        [
          [0, 'got', 'room'],
          [3, 'stored', 'fridge'],
        ],
        'formula',
      ),
    ).toBe(2);
    expect(
      passes(
        [
          [0, 'got', 'fridge'],
          [30, 'stored', 'room'],
        ],
        'formula',
      ),
    ).toBe(24);
    expect(
      passes(
        [
          [0, 'got', 'fridge'],
          [30, 'warmed'],
        ],
        'formula',
      ),
    ).toBe(24);
  });

  it('of formula does not come back in the freezer, which has no published time of its own', () => {
    expect(
      passes(
        [
          [0, 'got', 'room'],
          [3, 'stored', 'freezer'],
          [4, 'stored', 'fridge'],
        ],
        'formula',
      ),
    ).toBe(2);
  });

  it('of a rule of the place does not come back either', () => {
    const local = [{ situation: 'fridge' as const, hours: 48, name: 'Center’s sheet' }];
    const moved: Step[] = [
      [0, 'got', 'fridge'],
      [50, 'stored', 'freezer'],
    ];
    expect(passes(moved, 'expressed', local)).toBe(48);
    expect(passes(moved)).toBe(182 * 24);
  });

  it('is that of the milk poured into it, wherever the pool stands and is moved', () => {
    const ledger = ledgerOf(
      [
        ...entriesOf([
          [0, 'got', 'room'],
          [12.8, 'stored', 'fridge'],
        ]),
        { what: 'got', atMs: hours(12), id: 'B', kind: 'expressed', ml: 60, place: 'fridge' },
        {
          what: 'poured',
          atMs: hours(13),
          into: 'P',
          from: [
            { id: 'B', ml: 60 },
            { id: 'A', ml: 90 },
          ],
        },
        { what: 'stored', atMs: hours(14), id: 'P', place: 'freezer' },
      ],
      END,
    );
    expect(containerStates(ledger, hours(15))[0]!.deciding.passesAtMs).toBe(hours(4));
  });

  it('of fresh milk decides where it was poured to thawed milk that has longer', () => {
    const ledger = ledgerOf(
      [
        { what: 'got', atMs: hours(0), id: 'A', kind: 'expressed', ml: 90, place: 'freezer' },
        { what: 'got', atMs: hours(1), id: 'B', kind: 'expressed', ml: 60, place: 'fridge' },
        { what: 'thawed', atMs: hours(90), id: 'A' },
        {
          what: 'poured',
          atMs: hours(91),
          into: 'P',
          from: [
            { id: 'A', ml: 90 },
            { id: 'B', ml: 60 },
          ],
        },
      ],
      END,
    );
    expect(containerStates(ledger, hours(92))[0]!.deciding.passesAtMs).toBe(hours(97));
  });
});

describe('a time that has not passed', () => {
  it('keeps the part that was used, between room and fridge, there and back', () => {
    // Three of four days are three of four parts: one of four hours is left.
    expect(
      passes([
        [0, 'got', 'fridge'],
        [72, 'stored', 'room'],
      ]),
    ).toBe(73);
    expect(
      passes([
        [0, 'got', 'room'],
        [2, 'stored', 'fridge'],
      ]),
    ).toBe(50);
    expect(
      passes([
        [0, 'got', 'room'],
        [2, 'stored', 'fridge'],
        [26, 'stored', 'room'],
      ]),
    ).toBe(27);
  });

  it('lies never before the move to where it runs', () => {
    expect(
      passes([
        [0, 'got', 'fridge'],
        [22, 'stored', 'room'],
      ]),
    ).toBeGreaterThan(22);
    expect(
      passes(
        [
          [0, 'got', 'fridge'],
          [18, 'stored', 'room'],
        ],
        'formula',
      ),
    ).toBe(18.5);
    expect(
      passes([
        [0, 'got', 'freezer'],
        [100, 'thawed'],
        [106, 'warmed'],
      ]),
    ).toBe(106.75);
  });

  it('of the fridge gives way to the freezer’s, which counts from expressing', () => {
    expect(
      passes([
        [0, 'got', 'fridge'],
        [72, 'stored', 'freezer'],
      ]),
    ).toBe(182 * 24);
  });

  it('of the freezer gives way to that of thawed milk, also where it was only moved out', () => {
    const frozen: Step[] = [[0, 'got', 'freezer']];
    expect(passes([...frozen, [1000, 'thawed']])).toBe(1024);
    expect(passes([...frozen, [1000, 'stored', 'fridge']])).toBe(1024);
    expect(passes([...frozen, [1000, 'stored', 'room']])).toBe(1001);
    expect(() => through([...frozen, [1000, 'stored', 'fridge'], [1001, 'stored', 'freezer']])).toThrow(
      /never refreeze|in the freezer/,
    );
  });

  it('of the fridge stops in the freezer and continues after thawing', () => {
    const late: Step[] = [
      [0, 'got', 'fridge'],
      [95, 'stored', 'freezer'],
    ];
    expect(passes([...late, [1000, 'thawed']])).toBe(1001);
    expect(passes([...late, [1000, 'thawed'], [1000.5, 'stored', 'room']])).toBeCloseTo(1000.5 + 0.5 / 24, 5);
    // Frozen with more than a day left, thawed milk has the whole published 24 hours.
    expect(
      passes([
        [0, 'got', 'fridge'],
        [72, 'stored', 'freezer'],
        [1000, 'thawed'],
      ]),
    ).toBe(1024);
  });

  it('of the place runs on beside that of warmed milk: the shorter decides', () => {
    expect(
      passes([
        [0, 'got', 'fridge'],
        [10, 'warmed'],
      ]),
    ).toBe(12);
    expect(
      passes([
        [0, 'got', 'fridge'],
        [95, 'warmed'],
      ]),
    ).toBe(96);
  });
});

describe('milk whose time had passed before it was moved', () => {
  const moved = through([
    [0, 'got', 'room'],
    [12.8, 'stored', 'fridge'],
  ]);

  it('may be entered, stays in the list as passed, and is told of', () => {
    const { container, passed, clocks, deciding, passedBeforeMove } = standingOf(moved, hours(13));
    expect(container.place).toBe('fridge');
    expect(passed).toContainEqual(deciding);
    // No limit is shown that would still lie ahead.
    expect(clocks.filter(({ passesAtMs }) => passesAtMs > hours(13))).toEqual([]);
    expect(passedBeforeMove).toBe(true);
    expect(
      standingOf(
        through([
          [0, 'got', 'room'],
          [3, 'stored', 'fridge'],
        ]),
      ).passedBeforeMove,
    ).toBe(false);
    expect(standingOf(through([[0, 'got', 'room']])).passedBeforeMove).toBe(false);
  });

  it.each([
    [
      'room, then fridge',
      [
        [0, 'got', 'room'],
        [12.8, 'stored', 'fridge'],
      ],
      'expressed',
    ],
    [
      'fridge, then freezer',
      [
        [0, 'got', 'fridge'],
        [192, 'stored', 'freezer'],
      ],
      'expressed',
    ],
    [
      'formula at room, then fridge',
      [
        [0, 'got', 'room'],
        [3, 'stored', 'fridge'],
      ],
      'formula',
    ],
  ] as [string, Step[], string][])('fills no bottle of a plan: %s', (_, steps, kind) => {
    const [last] = steps.at(-1)!;
    const ledger = withEntry(
      through(steps, kind),
      { what: 'got', atMs: hours(last), id: 'fresh', kind: 'expressed', ml: 600, place: 'fridge' },
      END,
    );
    const plan = planBottles(dayKinds(learnBaby(120, []), { feeds: 3, hours: 9 }), onHand(ledger), {
      fromMs: hours(last),
      untilMs: hours(last + 9),
    });
    expect(plan.left).toContainEqual({ id: 'A', because: 'time-passes' });
    const used = plan.bottles.flatMap(({ from }) => from.map(({ id }) => id));
    expect(new Set(used)).toEqual(new Set(['fresh']));
  });
});

describe('a milk ledger stored by an earlier version', () => {
  const events = (steps: readonly Step[]) => entriesOf(steps).map((entry, i) => ({ no: i + 1, entry }));

  it('gets its times from its entries, since none were stored in it', () => {
    const book = storedLedger(
      events([
        [0, 'got', 'room'],
        [12.8, 'stored', 'fridge'],
        [20, 'stored', 'freezer'],
      ]),
      END,
    );
    expect(book.leftOut).toEqual([]);
    expect(standingOf(book.ledger).deciding.passesAtMs).toBe(hours(4));
  });

  it('opens where milk was moved out of the freezer and back: it is thawed from then on, and the way back is left out', () => {
    const book = storedLedger(
      events([
        [0, 'got', 'freezer'],
        [100, 'stored', 'fridge'],
        [101, 'stored', 'freezer'],
        [102, 'warmed'],
      ]),
      END,
    );
    expect(book.leftOut.map(({ no }) => no)).toEqual([3]);
    expect(standingOf(book.ledger).container).toMatchObject({ place: 'room', thawedAtMs: hours(100) });
  });
});

describe('any history', () => {
  const LOCAL: readonly LocalTime[] = [
    { situation: 'fridge', hours: 200, name: 'Room 2' },
    { situation: 'room', hours: 1, name: 'Room 2' },
    { situation: 'freezer', hours: 24, name: 'Room 2' },
  ];
  const place = fc.constantFrom('room', 'fridge', 'freezer');
  const step = fc.record({
    // Minutes, days and months between steps.
    gapHours: fc.oneof(
      fc.double({ min: 0, max: 6, noNaN: true }),
      fc.integer({ min: 0, max: 150 }),
      fc.constant(9000),
    ),
    id: fc.constantFrom('A', 'B', 'P'),
    what: fc.constantFrom('stored', 'stored', 'stored', 'thawed', 'warmed', 'poured', 'offered', 'fed'),
    place,
  });
  const kind = fc.constantFrom('expressed', 'formula', 'mixed');
  const history = fc.record({
    first: fc.record({ kind, place }),
    second: fc.record({ kind, place }),
    steps: fc.array(step, { minLength: 1, maxLength: 9 }),
    local: fc.constantFrom([], LOCAL),
  });
  type History = typeof history extends fc.Arbitrary<infer T> ? T : never;

  /** The ledger after each entry that could be, and when; what is refused changes nothing. */
  const ledgersOf = ({ first, second, steps }: History): { atMs: number; what: string; ledger: Ledger }[] => {
    const got = (id: string, { kind: what, place: where }: History['first']): LedgerEntry =>
      ({ what: 'got', atMs: T0, id, kind: what, ml: 60, place: where }) as LedgerEntry;
    let ledger = [got('A', first), got('B', second)].reduce(
      (l, one) => withEntry(l, one, END * 2),
      EMPTY_LEDGER,
    );
    const all = [{ atMs: T0, what: 'got', ledger }];
    let atMs = T0;
    for (const { gapHours, id, what, place: where } of steps) {
      atMs += Math.round(gapHours * HOUR_MS);
      const entry = {
        what,
        atMs,
        ...(what === 'poured' && { into: 'P', from: ['A', 'B'].map((one) => ({ id: one, ml: 20 })) }),
        ...(what === 'fed' && { feed: 'one', taken: [{ id, ml: 5 }] }),
        ...(what === 'offered' && { id, feed: 'one' }),
        ...(what === 'stored' && { id, place: where }),
        ...((what === 'thawed' || what === 'warmed') && { id }),
      } as LedgerEntry;
      try {
        ledger = withEntry(ledger, entry, atMs);
        all.push({ atMs, what, ledger });
      } catch (error) {
        expect(error).toBeInstanceOf(PlainError);
      }
    }
    return all;
  };
  const decided = (ledger: Ledger, local: readonly LocalTime[]): Map<string, number> =>
    new Map(containerStates(ledger, END, local).map((one) => [one.container.id, one.deciding.passesAtMs]));

  it('once passed is passed for good: no entry moves a time that lies before it', () => {
    let tried = 0;
    fc.assert(
      fc.property(history, (one) => {
        const all = ledgersOf(one);
        for (let i = 1; i < all.length; i++) {
          const before = decided(all[i - 1]!.ledger, one.local);
          const after = decided(all[i]!.ledger, one.local);
          for (const [id, passesAtMs] of after) {
            const known = before.get(id);
            // Poured milk is as old as the oldest in it.
            const sources = id === 'P' && known === undefined ? ['A', 'B'] : [id];
            for (const source of sources) {
              const earlier = before.get(source)!;
              if (earlier > all[i]!.atMs) continue;
              tried += 1;
              expect(passesAtMs).toBeLessThanOrEqual(earlier);
            }
            // Limits from a feed may lie before the entry, if a bottle is assigned to an earlier feed.
            const { what, atMs } = all[i]!;
            if (known === undefined || what === 'offered' || what === 'fed') continue;
            if (known <= atMs) expect(passesAtMs).toBe(known);
            // A move never sets a limit earlier than the move itself.
            else expect(passesAtMs).toBeGreaterThanOrEqual(atMs);
          }
        }
      }),
      { numRuns: 1500, seed: 31 },
    );
    expect(tried).toBeGreaterThan(1500);
  });

  it('of room and fridge lasts longest where it stood in the fridge throughout', () => {
    const stays = fc.array(
      fc.record({ gapHours: fc.double({ min: 0, max: 30, noNaN: true }), cold: fc.boolean() }),
      {
        minLength: 1,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(stays, fc.nat(7), fc.constantFrom('expressed', 'formula'), (made, chosen, what) => {
        const steps = (warm: number): Step[] => {
          let hour = 0;
          return made.map(({ gapHours, cold }, i) => {
            const where = cold && i !== warm ? 'fridge' : 'room';
            const one: Step = [hour, i === 0 ? 'got' : 'stored', where];
            hour = Math.round((hour + gapHours) * HOUR_MS) / HOUR_MS;
            return one;
          });
        };
        // A further stay at room temperature never makes the limit later.
        expect(passes(steps(chosen), what)).toBeLessThanOrEqual(passes(steps(-1), what) + 1e-6);
      }),
      { numRuns: 400, seed: 32 },
    );
  });
});
