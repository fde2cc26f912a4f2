/** Babies that do not follow the model: what is stated of their days holds about as often as it is stated. */
import { describe, expect, it } from 'vitest';
import { rowOf } from '../../src/planning/bag/plain-plans.ts';
import { mixed, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
import { dayKinds, learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { otherBaby, WORLDS } from '../support/other-worlds.ts';
import { HABITS, type Habit, type StrangeDay, seenDay, strangeBaby } from '../support/strange-babies.ts';

type Days = (baby: number) => StrangeDay[];

/** Shares of the days whose milk lies inside the stated 80 and 95 %. */
function shareInside(of: Days, habit: Habit): { in80: number; in95: number } {
  let [in80, in95, days] = [0, 0, 0];
  for (let baby = 0; baby < 10; baby++) {
    const past: PastDay[] = [];
    for (const day of of(baby)) {
      const known = past.map((one) => ({ ...one, daysAgo: day.ageDays - one.ageDays }));
      const feeds = day.wantedMl.length;
      const kinds = dayKinds(learnBaby(day.ageDays, known), { feeds, hours: day.hours });
      const total = mixed(kinds.map(({ chance, feeds: all }) => ({ chance, of: summed(all) })));
      const wanted = day.wantedMl.reduce((sum, ml) => sum + ml, 0);
      const isIn = (out: number): boolean =>
        wanted >= quantileMl(total, out / 2) - 2.5 && wanted <= quantileMl(total, 1 - out / 2) + 2.5;
      in80 += Number(isIn(0.2));
      in95 += Number(isIn(0.05));
      days += 1;
      past.push(seenDay(day, rowOf(90, feeds + 1, false, null), habit, baby));
    }
  }
  return { in80: in80 / days, in95: in95 / days };
}

describe('babies that do not follow the model', () => {
  it.each(HABITS)('lie inside what is stated about as often as it is stated: %s', (habit) => {
    const { in80, in95 } = shareInside((baby) => strangeBaby(40 + baby, 14, habit), habit);
    // Days of one baby are not independent: from ten babies a share is known to about five points.
    expect(in80).toBeGreaterThan(0.68);
    expect(in80).toBeLessThan(0.94);
    expect(in95).toBeGreaterThan(0.87);
  });

  it.each(WORLDS)('do so in a world by other laws: %s', (world) => {
    const { in80, in95 } = shareInside((baby) => otherBaby(40 + baby, 20, world), 'plain');
    // A strike and a week of illness are counted too, although no plan can foresee their first day.
    expect(in80).toBeGreaterThan(0.66);
    expect(in95).toBeGreaterThan(0.85);
  });
});
