/** Intervals and effect sizes against worked examples of textbooks and tables of the distribution; all of them from memory. */
import { describe, expect, it } from 'vitest';
import { effectOf, meanInterval, participantsFor, summaryOf } from '../../src/research/statistics/effects.ts';
import { studentT95 } from '../../src/research/statistics/student-t.ts';
import { seededDraws } from '../support/distributions.ts';
import { runs } from '../support/runs.ts';

describe('Student’s t', () => {
  it('is that of printed tables, and falls towards the normal distribution’s', () => {
    // Quantiles as R's qt(0.975, df) gives them, from memory.
    for (const [degrees, t] of [
      [1, 12.7062],
      [2, 4.3027],
      [3, 3.1824],
      [5, 2.5706],
      [10, 2.2281],
      [25, 2.0595],
      [35, 2.0301],
      [50, 2.0086],
      [80, 1.9901],
      [100, 1.98397],
      [198, 1.97202],
    ] as const)
      expect(Math.abs(studentT95(degrees) - t)).toBeLessThan(0.00006);
    for (let degrees = 1; degrees < 300; degrees += 0.5)
      expect(studentT95(degrees + 0.5)).toBeLessThan(studentT95(degrees));
    expect(studentT95(1e6)).toBeCloseTo(1.959964, 4);
  });
});

describe('a difference of two arms', () => {
  // Student's sleep data (Biometrika 1908, 6:1-25), extra hours of sleep, as R's data set "sleep" has them.
  const SLEEP = [
    [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2],
    [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
  ] as const;

  it('has the interval that R’s t.test prints for Student’s sleep data', () => {
    const { difference } = effectOf(summaryOf(SLEEP[0])!, summaryOf(SLEEP[1])!);
    // "95 percent confidence interval: -3.3654832 0.2054832" for first less second.
    expect(difference.value).toBeCloseTo(1.58, 10);
    expect(Math.abs(difference.low - -0.2054832)).toBeLessThan(1e-6);
    expect(Math.abs(difference.high - 3.3654832)).toBeLessThan(1e-6);
  });

  it('has the interval of Gardner and Altman’s example (BMJ 1986, 292:746-750)', () => {
    // Systolic pressure of 100 diabetics and 100 others: 146.4 (SD 18.5) and 140.4 (SD 16.8) mmHg; 6.0, 95 % from 1.1 to 10.9.
    const diabetics = { n: 100, mean: 146.4, sd: 18.5 };
    const others = { n: 100, mean: 140.4, sd: 16.8 };
    const { difference } = effectOf(others, diabetics);
    expect([difference.value, difference.low, difference.high].map((mmHg) => mmHg.toFixed(1))).toEqual([
      '6.0',
      '1.1',
      '10.9',
    ]);
    // Their single mean: 142.7 to 150.1.
    const { low, high } = meanInterval(diabetics);
    expect([low.toFixed(1), high.toFixed(1)]).toEqual(['142.7', '150.1']);
  });

  it('has the effect size of Borenstein and others’ example (2009, chapter 4)', () => {
    // Means 103 and 100, standard deviations 5.5 and 4.5, 50 each: g = 0.5924, standard error 0.2028.
    const g = effectOf({ n: 50, mean: 100, sd: 4.5 }, { n: 50, mean: 103, sd: 5.5 }).hedgesG!;
    expect(g.value).toBeCloseTo(0.5924, 4);
    expect((g.high - g.low) / (2 * 1.96)).toBeCloseTo(0.2028, 4);
  });

  it('covers the truth in 95 of 100 studies, small and unequal as they may be', () => {
    const draws = seededDraws(4711);
    const arm = (n: number, mean: number, sd: number) =>
      summaryOf(Array.from({ length: n }, () => draws.normal(mean, sd)))!;
    let covered = 0;
    const studies = runs({ quick: 1000, all: 4000 });
    for (let i = 0; i < studies; i++) {
      const { difference } = effectOf(arm(8, 5, 1), arm(15, 7, 3));
      if (difference.low <= 2 && difference.high >= 2) covered++;
    }
    // Standard error of the share with all of them: 0.34 %.
    expect(covered / studies).toBeGreaterThan(0.938);
    expect(covered / studies).toBeLessThan(0.962);
  });

  it('says nothing of what does not vary, or of one participant', () => {
    const still = { n: 5, mean: 3, sd: 0 };
    expect(effectOf(still, still)).toMatchObject({
      hedgesG: null,
      difference: { value: 0, low: 0, high: 0 },
    });
    expect(summaryOf([1])).toBeNull();
  });
});

describe('participants for a wanted interval', () => {
  it('are those of the example turned round', () => {
    // Pooled standard deviation of Gardner and Altman's example, and the half-width of their interval.
    const sd = Math.sqrt((18.5 ** 2 + 16.8 ** 2) / 2);
    const half = meanIntervalHalf(sd);
    expect(participantsFor(sd, half)).toBe(100);
    expect(participantsFor(sd, half * 0.99)).toBeGreaterThan(100);
  });

  it('are 2 (1.96 sd / half)² where there are many, and one more where there are few', () => {
    expect(participantsFor(1, 0.05)).toBeCloseTo(2 * (1.96 / 0.05) ** 2, -2);
    expect(participantsFor(1, 1)).toBeGreaterThan(2 * 1.96 ** 2);
    expect(participantsFor(1, 1e-6)).toBeNull();
  });
});

const meanIntervalHalf = (sd: number): number => studentT95(198) * sd * Math.sqrt(2 / 100);
