/** Babies that do not follow the model: what is stated of their days holds about as often as it is stated. */
import { describe, expect, it } from 'vitest';
import { rowOf } from '../../src/planning/bag/plain-plans.ts';
import { mixed, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
import { dayKinds, learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { seenDay, strangeBaby } from '../support/strange-babies.ts';

describe('babies that do not follow the model', () => {
  it.each(['plain', 'emptied', 'refusing', 'poured'] as const)(
    'lie inside what is stated about as often as it is stated: %s',
    (habit) => {
      let [in80, in95, days] = [0, 0, 0];
      for (let baby = 0; baby < 10; baby++) {
        const past: PastDay[] = [];
        for (const day of strangeBaby(40 + baby, 14, habit)) {
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
      // Days of one baby hang together: ten babies tell a share to about five points.
      expect(in80 / days).toBeGreaterThan(0.68);
      expect(in80 / days).toBeLessThan(0.94);
      expect(in95 / days).toBeGreaterThan(0.87);
    },
  );
});
