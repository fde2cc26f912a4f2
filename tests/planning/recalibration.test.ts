import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DAY_MS } from '../../src/base/calendar.ts';
import { planRecord, shifted, shiftOf } from '../../src/planning/bag/recalibration.ts';

const days = (modelChance: number, count: number, shortCount: number) =>
  Array.from({ length: count }, (_, i) => ({ modelChance, short: i < shortCount }));

describe('the plan’s own record', () => {
  it('moves nothing while nothing is known', () => {
    expect(shiftOf([])).toBe(0);
    expect(shifted(0.3, 0)).toBe(0.3);
  });

  it('goes up by what a short day was not promised, and down by what another day was', () => {
    expect(shiftOf(days(0.2, 1, 1))).toBeCloseTo(0.8, 12);
    expect(shiftOf(days(0.2, 1, 0))).toBeCloseTo(-0.2, 12);
    // By hand: after the short day 0.2 stands for 0.8 more of logit, 1 ÷ (1 + e^0.5863) = 0.3575.
    expect(shiftOf(days(0.2, 2, 1))).toBeCloseTo(0.8 - 0.3575, 4);
  });

  it('settles at the odds that really come out', () => {
    // Each fifth day short where 0.05 is claimed: logit(0.2) − logit(0.05) = 1.558, in the mean over a turn of five days.
    const fifths = Array.from({ length: 200 }, (_, i) => ({ modelChance: 0.05, short: i % 5 === 0 }));
    const turn = [0, 1, 2, 3, 4].map((back) => shifted(0.05, shiftOf(fifths.slice(0, 200 - back))));
    expect(turn.reduce((sum, one) => sum + one, 0) / 5).toBeCloseTo(0.2, 1);
  });

  it('promises as many short days as come out, whatever comes: no order of days outwits it for long', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.001, max: 0.5, noNaN: true }), fc.boolean()), {
          minLength: 1,
          maxLength: 300,
        }),
        (drawn) => {
          const all = drawn.map(([modelChance, short]) => ({ modelChance, short }));
          let [promised, realised] = [0, 0];
          all.forEach(({ modelChance, short }, i) => {
            promised += shifted(modelChance, shiftOf(all.slice(0, i)));
            realised += Number(short);
          });
          // The difference is the shift, and it is limited: nearly all, or nearly no, days short.
          expect(realised - promised).toBeCloseTo(shiftOf(all), 6);
          expect(Math.abs(realised - promised)).toBeLessThan(Math.log(0.999 / 0.001) + Math.log(300) + 1);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('takes days in the order in which they went, and leaves out those not told and those of long ago', () => {
    const nowMs = 200 * DAY_MS;
    const promise = (daysAgo: number, short: boolean | null) => ({
      ...{
        atMs: 0,
        fromMs: nowMs - daysAgo * DAY_MS,
        untilMs: nowMs,
        feeds: 3,
        ids: [],
        thrownMl: 10,
        cameBack: [],
      },
      claimed: { shortChance: 0.1, modelChance: 0.2, thrownMl: 20, bottles: 4 },
      short,
    });
    const record = planRecord(
      [promise(1, false), promise(2, true), promise(3, null), promise(90, true)],
      nowMs,
    );
    expect(record).toMatchObject({ days: 2, promisedShort: 0.2, realisedShort: 1, promisedThrownMl: 40 });
    expect(record.shift).toBeCloseTo(0.8 - 0.3575, 4);
  });

  it('turns back: what is shifted there and back is the same', () => {
    for (const chance of [0.02, 0.1, 0.5]) expect(shifted(shifted(chance, 0.6), -0.6)).toBeCloseTo(chance, 9);
  });
});
