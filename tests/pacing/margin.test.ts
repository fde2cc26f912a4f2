/** How much certainty "too fast" waits for, and when it comes before it. The figures are our own; their effect: `npm run bench -- first-cue`. */
import { describe, expect, it } from 'vitest';
import type { PacingInput, RecentIntake } from '../../src/pacing/cues/cue.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { marginMl } from '../../src/pacing/rules/margin.ts';
import { inputList, pace } from '../support/pacing-inputs.ts';
import { steadySucks } from '../support/suck-trains.ts';

const { tiltDown } = paceParams(SHIPPED_PROFILE);
const DEPTH_ML = 6;

const recentOf = (input: PacingInput, sdMl: number): RecentIntake => ({
  count: 1,
  atSec: Float64Array.of(input.atSec),
  intakeMl: Float64Array.of(input.intakeMl),
  sdMl,
});
const [plain] = inputList({ sucks: steadySucks(24, 0, 10), endSec: 10 });
const margin = (doubtMl: number, sdMl: number, depthMl = DEPTH_ML, isFirst = true): number =>
  marginMl({ ...plain!, doubtMl, recentIntake: recentOf(plain!, sdMl) }, depthMl, isFirst, tiltDown);

describe('the margin of "too fast"', () => {
  it('is a quarter of the doubt of the last 10 s while the flow or all that was taken is known', () => {
    expect(margin(0, 0)).toBe(0);
    expect(margin(0.6, 4)).toBeCloseTo(0.15, 9);
    expect(margin(2, 1.2)).toBeCloseTo(0.5, 9);
    expect(marginMl({ ...plain!, doubtMl: 8 }, DEPTH_ML, true, tiltDown)).toBe(2);
    expect(marginMl(plain!, DEPTH_ML, true, tiltDown)).toBe(0);
  });

  it('is below none while neither is known, by what is above 1.5 mL', () => {
    expect(margin(1.6, 3)).toBeCloseTo(0.4 - 1.5, 9);
    // Halfway between 0.8 and 1.3 mL half of it.
    expect(margin(1.05, 3)).toBeCloseTo(0.2625 - 0.75, 9);
  });

  it('is a quarter of the doubt once the first has come, whatever is known', () => {
    expect(margin(1.6, 3, DEPTH_ML, false)).toBeCloseTo(0.4, 9);
  });

  it('never comes sooner by more than two fifths of the depth, else a bucket could not be re-armed', () => {
    expect(margin(1.6, 12)).toBeCloseTo(0.4 - 2.4, 9);
    expect(margin(1.6, 12, 18)).toBeCloseTo(0.4 - 7.2, 9);
    expect(tiltDown.soonerAtMostShare).toBeLessThan(paceParams(SHIPPED_PROFILE).rearmShare);
  });
});

describe('"too fast" where nobody knows yet what a suck gives', () => {
  const first = (sdMl: number, mlPerMin = 24): number | undefined => {
    const inputs = inputList({ sucks: steadySucks(mlPerMin, 0, 120), endSec: 120 }).map(
      (input): PacingInput => ({
        ...input,
        doubtMl: 1.6,
        quality: 'degraded',
        recentIntake: recentOf(input, sdMl),
      }),
    );
    return pace(inputs).cues.find(({ kind }) => kind === 'tilt-down')?.atSec;
  };

  it('comes sooner, by what 1.5 mL less in the bucket are: 9 s at 24 mL/min', () => {
    expect(first(1.5)! - first(3)!).toBeGreaterThan(7.5);
    expect(first(1.5)! - first(3)!).toBeLessThan(10.5);
  });

  it('does not come at the pace of a careful feed, however little is known', () => {
    expect(first(12, 8)).toBeUndefined();
  });
});
