import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { type PaceWishes, scaledProfile } from '../../src/pacing/profile/scaled-profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { type OwnFeed, ownFeedCurve, peakAheadMl } from '../../src/pacing/rules/own-feed.ts';
import { intakeAt } from '../support/breast-flows.ts';
import { seededDraws } from '../support/distributions.ts';
import { inputList, inputsOf, pace } from '../support/pacing-inputs.ts';
import { steadySucks, suckOut } from '../support/suck-trains.ts';

const bucketsOf = (wishes: PaceWishes) => paceParams(scaledProfile(wishes).profile).buckets;

describe('a profile scaled to the usual feed', () => {
  it('is 9 % of it a minute and 27 % of it deep; the pouring bucket in the shipped proportion', () => {
    expect(bucketsOf({ usualFeedMl: 120, strictness: 'usual' })).toEqual({
      lasting: { rateMlPerMin: 10.8, depthMl: 32.4 },
      pouring: { rateMlPerMin: 18.9, depthMl: 10.8 },
    });
  });

  it('is the shipped one for small feeds: never tighter', () => {
    for (const usualFeedMl of [30, 60, 66]) {
      expect(bucketsOf({ usualFeedMl, strictness: 'usual' })).toEqual(paceParams(SHIPPED_PROFILE).buckets);
    }
  });

  it('leaves the shipped profile and all other figures as they are', () => {
    const before = structuredClone(SHIPPED_PROFILE);
    const { profile } = scaledProfile({ usualFeedMl: 150, strictness: 'gentle' });
    expect(SHIPPED_PROFILE).toEqual(before);
    expect({ ...profile, name: 'shipped', buckets: before.buckets }).toEqual(before);
  });

  it('says that it is our assumption', () => {
    const { buckets } = scaledProfile({ usualFeedMl: 70, strictness: 'strict' }).profile;
    expect(buckets.lasting.rateMlPerMin.source).toMatch(/70 mL, strict: our assumption, no source/);
  });

  it('gentle comes later than usual, strict sooner', () => {
    const at = (strictness: PaceWishes['strictness']): number => {
      const { profile } = scaledProfile({ usualFeedMl: 90, strictness });
      const plan = { sucks: steadySucks(24, 0, 200), endSec: 200 };
      return pace(inputsOf(plan), null, { profile }).cues.find((cue) => cue.kind === 'tilt-down')!.atSec;
    };
    expect(at('strict')).toBeLessThan(at('usual') - 5);
    expect(at('gentle')).toBeGreaterThan(at('usual') + 5);
  });

  it.each([
    [{ usualFeedMl: 5, strictness: 'usual' }, /usual feed is 5.*20 to 300 mL/],
    [{ usualFeedMl: Number.NaN, strictness: 'usual' }, /usual feed/],
    [{ usualFeedMl: 90, strictness: 'usual', breast: { minutes: 1, sides: 2 } }, /breast is 1.*3 to 60/],
  ] as const)('refuses %o', (wishes, named) => {
    expect(() => scaledProfile(wishes)).toThrow(named);
    expect(() => scaledProfile(wishes)).toThrow(PlainError);
  });
});

describe('her own feed at the breast', () => {
  it('has the published shape in its own time: two sides of 12½ min give 50 % by 2 min, 85 % by 4 min', () => {
    const curve = ownFeedCurve({ usualFeedMl: 75, minutes: 25, sides: 2 });
    expect(intakeAt(curve, 2)).toBeCloseTo(37.5 * 0.5, 9);
    expect(intakeAt(curve, 4)).toBeCloseTo(37.5 * 0.85, 9);
    expect(intakeAt(curve, 12.5)).toBeCloseTo(37.5, 9);
    expect(intakeAt(curve, 25)).toBeCloseTo(75, 9);
  });

  it('has a peak worked by hand: 18.75 mL in 2 min at 8 mL/min are 2.75 mL ahead', () => {
    const curve = ownFeedCurve({ usualFeedMl: 75, minutes: 25, sides: 2 });
    expect(peakAheadMl(curve, 8)).toBeCloseTo(2.75, 9);
    expect(peakAheadMl(curve, 20)).toBe(0);
  });

  const feeds: OwnFeed[] = [60, 90, 126, 180].flatMap((usualFeedMl) =>
    [10, 17, 29].flatMap((minutes) => ([1, 2] as const).map((sides) => ({ usualFeedMl, minutes, sides }))),
  );
  it.each(feeds)('stays silent, suck by suck: $usualFeedMl mL in $minutes min, sides $sides', (own) => {
    const sucks = suckOut(ownFeedCurve(own), seededDraws(own.minutes));
    const inputs = inputList({ sucks, endSec: own.minutes * 60 });
    for (const strictness of ['gentle', 'usual', 'strict'] as const) {
      const { profile, followsOwnFeed } = scaledProfile({
        usualFeedMl: own.usualFeedMl,
        strictness,
        breast: own,
      });
      const tiltDowns = pace(inputs, null, { profile }).cues.filter((cue) => cue.kind === 'tilt-down');
      if (followsOwnFeed) expect(tiltDowns).toEqual([]);
      // Only a profile faster than the ranges allow may say so.
      else
        expect((0.5 * own.usualFeedMl) / own.sides / ((0.16 * own.minutes) / own.sides)).toBeGreaterThan(20);
    }
  });

  it('never makes the pace tighter than the usual feed alone does', () => {
    const alone = bucketsOf({ usualFeedMl: 90, strictness: 'usual' });
    const slow = bucketsOf({ usualFeedMl: 90, strictness: 'usual', breast: { minutes: 45, sides: 2 } });
    expect(slow).toEqual(alone);
  });
});
