/** A pair's own feed from weighed feeds: drawn toward what is published, with an honest uncertainty; off until there are three. */
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { guidedBaby } from '../../src/feed/recording/guided.ts';
import { scaledProfile } from '../../src/pacing/profile/scaled-profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { ownFeedKnown, type WeighedFeed } from '../../src/pacing/profile/weighed-feeds.ts';
import { ownFeedCurve, peakAheadMl } from '../../src/pacing/rules/own-feed.ts';
import { babyEntry } from '../support/babies.ts';

const weighed = (grams: readonly number[], minutes = 15): WeighedFeed[] =>
  grams.map((change, i) => ({
    atMs: i,
    minutes,
    sides: 2,
    beforeGrams: 5000,
    afterGrams: 5000 + change,
  }));

describe('the own feed', () => {
  it('is not known before three feeds', () => {
    expect(ownFeedKnown(weighed([60, 62]))).toBeNull();
    expect(ownFeedKnown(weighed([60, 62, 64]))).not.toBeNull();
  });

  it('is the mean of a normal prior and of normal feeds, worked by hand', () => {
    // Three feeds of 100 g: spread (0 + 4 · (25² + 7²)) ÷ 6 = 449.3, of the mean 149.8; prior 12.6² = 158.8.
    // Weight 158.8 ÷ (158.8 + 149.8) = 0.5146: 76 + 0.5146 · 24 = 88.35 g = 85.8 mL; sd √(0.5146 · 149.8) = 8.78 g = 8.52 mL.
    const own = ownFeedKnown(weighed([100, 100, 100]))!;
    expect(own.feedMl).toBeCloseTo(85.8, 1);
    expect(own.sdMl).toBeCloseTo(8.52, 1);
    expect(own).toMatchObject({ minutes: 15, sides: 2, feeds: 3 });
  });

  it.each([3, 6, 12])(
    'lies within two standard deviations of the truth in 93 to 98 of 100 pairs, by %i feeds, and nearer than their mean',
    (count) => {
      const random = new Random(17, `pairs with ${count}`);
      let covered = 0;
      let squares = 0;
      let plainSquares = 0;
      const pairs = 4000;
      for (let i = 0; i < pairs; i++) {
        // Between mothers 12.6 g (Kent 2006), from feed to feed 25 g (assumed), the scale 7 g (Savenije and Brand 2006).
        const truth = 76 + 12.6 * random.normal();
        const grams = Array.from({ length: count }, () => truth + 25 * random.normal() + 7 * random.normal());
        const { feedMl, sdMl } = ownFeedKnown(weighed(grams))!;
        const off = feedMl - truth / 1.03;
        if (Math.abs(off) <= 1.96 * sdMl) covered++;
        squares += off ** 2;
        plainSquares += (grams.reduce((sum, one) => sum + one, 0) / count / 1.03 - truth / 1.03) ** 2;
      }
      expect(covered / pairs).toBeGreaterThan(0.93);
      expect(covered / pairs).toBeLessThan(0.98);
      expect(squares).toBeLessThan(plainSquares);
    },
  );
});

describe('the pace by it', () => {
  it('lets her own feed pass in silence, with more room where it is known poorly', () => {
    const own = ownFeedKnown(weighed([120, 125, 130], 9))!;
    const { profile, followsOwnFeed } = scaledProfile({
      usualFeedMl: null,
      strictness: 'usual',
      weighed: own,
    });
    expect(followsOwnFeed).toBe(true);
    const curve = ownFeedCurve({ usualFeedMl: own.feedMl, minutes: own.minutes, sides: own.sides });
    for (const bucket of [profile.buckets.lasting, profile.buckets.pouring])
      expect(peakAheadMl(curve, bucket.rateMlPerMin.value)).toBeLessThan(bucket.depthMl.value);
    const sure = scaledProfile({ usualFeedMl: null, strictness: 'usual', weighed: { ...own, sdMl: 0 } });
    const [loose, tight] = [profile, sure.profile].map(({ buckets: { lasting } }) => [
      lasting.rateMlPerMin.value,
      lasting.depthMl.value,
    ]);
    // The looser profile has a deeper bucket, or a faster one of the same depth.
    expect(loose![0]! > tight![0]! || (loose![0] === tight![0] && loose![1]! > tight![1]!)).toBe(true);
    expect(profile.buckets.lasting.depthMl.source).toMatch(/± \d+ mL \(k = 2\) in 9 min by 3 weighed feeds/);
  });

  it('is off until three are there, and in a family that does not breastfeed', () => {
    const baby = (part: object) => ({
      ...babyEntry({ birthDate: '2025-09-02', ...part }),
      id: 'wren',
      createdAtMs: 0,
      answeredAtMs: Date.UTC(2026, 0, 5),
      quietSinceMs: null,
    });
    const profileOf = (part: object) =>
      guidedBaby(baby(part), [], null, Date.UTC(2026, 0, 5)).ran.profile.buckets;
    expect(profileOf({ weighed: weighed([120, 125], 9) })).toEqual(SHIPPED_PROFILE.buckets);
    expect(profileOf({ weighed: weighed([120, 125, 130], 9), breastfed: false })).toEqual(
      SHIPPED_PROFILE.buckets,
    );
    expect(profileOf({ weighed: weighed([120, 125, 130], 9) })).not.toEqual(SHIPPED_PROFILE.buckets);
  });
});
