import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { BETWEEN_BABIES_SD_LOG, dailyIntake } from '../../src/planning/intake/daily-intake.ts';

/** Rios-Leyvraz and Yao 2023, Breastfeed Med 18(3): the abstract's table, and its curve worked out at the same ages. */
const PUBLISHED = [
  { ageDays: 30, tableMl: 624, curveMl: 621 },
  { ageDays: 90, tableMl: 735, curveMl: 735 },
  { ageDays: 180, tableMl: 729, curveMl: 734 },
  { ageDays: 365, tableMl: 593, curveMl: 602 },
];

describe('the published daily intake', () => {
  it.each(PUBLISHED)('at $ageDays days is the curve, near the table', ({ ageDays, tableMl, curveMl }) => {
    const { middleMl } = dailyIntake(ageDays);
    expect(Math.round(middleMl)).toBe(curveMl);
    expect(Math.abs(middleMl / tableMl - 1)).toBeLessThan(0.016);
  });

  it('spans between babies about what was seen: 478 to 1298 mL a day at 1 to 6 months', () => {
    const ends = [30, 90, 180].map(dailyIntake);
    // The range of some 71 babies is wider than 95 of 100, and its middle (798) is above the curve's.
    expect(Math.min(...ends.map(({ lowMl }) => lowMl))).toBeGreaterThan(400);
    expect(Math.max(...ends.map(({ highMl }) => highMl))).toBeLessThan(1298);
    expect(Math.exp(2.4 * 2 * BETWEEN_BABIES_SD_LOG)).toBeCloseTo(1298 / 478, 10);
  });

  it('says where the table has no row', () => {
    expect(dailyIntake(10).inTable).toBe(false);
    expect(dailyIntake(30).inTable).toBe(true);
  });

  it.each([-1, 0, Number.NaN, Number.POSITIVE_INFINITY, 400])('refuses an age of %s days', (ageDays) => {
    expect(() => dailyIntake(ageDays)).toThrow(PlainError);
  });
});
