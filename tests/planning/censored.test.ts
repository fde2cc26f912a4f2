/** An emptied bottle is a censored reading: checked against a published worked example. */
import { describe, expect, it } from 'vitest';
import { unitGamma } from '../../src/planning/intake/gamma.ts';
import { feedLikelihood } from '../../src/planning/intake/seen-feed.ts';

/**
 * Weeks of remission under 6-MP, 21 children (Freireich et al. 1963; in Cox and Oakes 1984, table 1.1; values from memory): 9 ended, 12
 * went on when the study closed. Under an exponential law the most likely mean is the sum of all weeks over the number that ended,
 * 359/9 = 39.9. Kaplan and Meier's estimate from the same data is 0.753 at 10 weeks (standard error 0.096) and 0.448 at 23 (0.135).
 */
const ENDED = [6, 6, 6, 7, 10, 13, 16, 22, 23];
const WENT_ON = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35];

describe('a reading that says "at least this"', () => {
  // A gamma law of scatter 1 is the exponential one.
  const exponential = { usual: unitGamma(1), odd: unitGamma(1) };
  const likeliestMean = (withCensored: boolean): number => {
    const readings = [
      ...ENDED.map((ml) => ({ ml, emptied: false })),
      ...(withCensored ? WENT_ON.map((ml) => ({ ml, emptied: true })) : []),
    ];
    const logOf = (mean: number): number =>
      readings.reduce(
        (sum, one) =>
          sum +
          Math.log(
            feedLikelihood({ ...one, hours: 3, pouredShare: 0 }, exponential, Math.log(one.ml / mean), 0),
          ),
        0,
      );
    const means = Array.from({ length: 1000 }, (_, i) => 5 + i * 0.1);
    return means.reduce((a, b) => (logOf(b) > logOf(a) ? b : a));
  };

  it('gives the published mean of censored readings, and not that of the others alone', () => {
    expect(likeliestMean(true)).toBeCloseTo(359 / 9, 0);
    expect(likeliestMean(false)).toBeCloseTo(109 / 9, 0);
  });

  it('agrees with Kaplan and Meier within their standard errors', () => {
    const mean = likeliestMean(true);
    expect(Math.abs(Math.exp(-10 / mean) - 0.753)).toBeLessThan(0.096);
    expect(Math.abs(Math.exp(-23 / mean) - 0.448)).toBeLessThan(0.135);
  });
});
