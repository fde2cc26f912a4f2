import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { pacingLearned, WITHHELD_FEEDS } from '../../src/research/study/learned.ts';

/** Minutes of fourteen feeds with cues withheld. @param change of the later half, as a factor @param scatter of the logarithm */
function minutes(random: Random, change: number, scatter: number): number[] {
  return Array.from(
    { length: WITHHELD_FEEDS },
    (_, i) => 12 * (i < WITHHELD_FEEDS / 2 ? 1 : change) * Math.exp(scatter * random.normal()),
  );
}

const share = (count: number, is: () => boolean): number =>
  Array.from({ length: count }, is).filter(Boolean).length / count;

describe('that pacing is learned', () => {
  it('is claimed of at most 5 % of 1,000 caregivers in whom nothing changed', () => {
    const random = new Random(41, 'nothing changed');
    const claimed = share(1000, () => pacingLearned(minutes(random, 1, 0.2), 'rise')!.isLearned);
    // Three standard errors of a share of 5 % of 1,000 are 2.1 points.
    expect(claimed).toBeLessThan(0.05 + 0.021);
    expect(claimed).toBeGreaterThan(0.02);
  });

  it('is found in at least 80 % where feeds became longer by a third', () => {
    const random = new Random(42, 'learned');
    // Scatter of feed lengths of one caregiver: assumed; between mothers it is 18 % (Howie et al. 1981, SD 3.1 of 17.3 min).
    expect(share(400, () => pacingLearned(minutes(random, 4 / 3, 0.18), 'rise')!.isLearned)).toBeGreaterThan(
      0.8,
    );
  });

  it('has intervals that cover the true change in about 95 %', () => {
    const random = new Random(43, 'coverage');
    const covered = share(300, () => {
      const { low, high } = pacingLearned(minutes(random, 4 / 3, 0.2), 'rise')!;
      return low <= 4 / 3 && high >= 4 / 3;
    });
    expect(covered).toBeGreaterThan(0.9);
    expect(covered).toBeLessThan(0.98);
  });

  it('is not looked at before there are fourteen such feeds, and not again afterwards', () => {
    expect(pacingLearned([10, 11, 12], 'rise')).toBeNull();
    const fourteen = minutes(new Random(44, 'look'), 1.5, 0.1);
    expect(pacingLearned([...fourteen, 1, 1, 1], 'rise')).toEqual(pacingLearned(fourteen, 'rise'));
  });

  it('asks for the change that was wanted', () => {
    const fourteen = minutes(new Random(45, 'wrong way'), 0.5, 0.05);
    expect(pacingLearned(fourteen, 'rise')!.isLearned).toBe(false);
    expect(pacingLearned(fourteen, 'fall')!.isLearned).toBe(true);
  });
});
