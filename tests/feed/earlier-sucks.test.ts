/** What a suck gave in earlier feeds: found right, drawn towards what is usual, and never a cue the less for it. */
import { describe, expect, it } from 'vitest';
import { createEngine, endEngine, refineEngine, runEngine } from '../../src/feed/engine.ts';
import {
  EARLIER_FEEDS,
  earlierSucks,
  levelSuckGrams,
  profileKnowing,
  startedFrom,
} from '../../src/feed/recording/earlier-sucks.ts';
import { isRowDue } from '../../src/feed/replay.ts';
import { BARE_GUIDANCE } from '../../src/pacing/guidance.ts';
import { paceParams } from '../../src/pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { type EarlierSucks, parseCalibration, type SensedMoment } from '../../src/sensing/index.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';
import type { Overrides } from '../../src/simulation/parameters.ts';
import { truthAt } from '../support/judge.ts';
import { type SimulatedCapture, simulateCapture } from '../support/simulated-capture.ts';

const USUAL_GRAMS = MILK_NOISE.perSuckGrams;
const STEEP_FACTOR = MILK_NOISE.perSuckSteepGrams / MILK_NOISE.perSuckGrams;

function watch({ bytes, calibration }: SimulatedCapture, earlier?: EarlierSucks) {
  const engine = createEngine({
    calibration: parseCalibration(calibration, 'simulated'),
    portionMl: null,
    ...(earlier && { earlierSucks: earlier, profile: profileKnowing(SHIPPED_PROFILE, earlier) }),
  });
  const moments: SensedMoment[] = [];
  let cueSec: number | null = null;
  runEngine(engine, bytes, ({ moment, cues }) => {
    moments.push(moment);
    if (cues.some(({ kind }) => kind === 'tilt-down')) cueSec ??= moment.atSec;
  });
  endEngine(engine);
  return { moments, cueSec: cueSec as number | null, refined: () => refineEngine(engine) };
}

const rowsOf = (moments: readonly SensedMoment[]): SensedMoment[] => {
  let lastSec = Number.NEGATIVE_INFINITY;
  return moments.filter(({ atSec }) => {
    const due = isRowDue(atSec, lastSec);
    if (due) lastSec = atSec;
    return due;
  });
};

const tippedUp = (seed: number, longestSec: number, overrides: Overrides = {}): SimulatedCapture =>
  simulateCapture({ scenario: 'tipped-up', seed, longestSec, overrides });

describe('what a suck gave', () => {
  it('is found in the refined pass, as from a level bottle', () => {
    const feed = tippedUp(71, 110);
    const { moments, refined } = watch(feed);
    const { truth } = feed;
    const sucks = 60;
    const takenMl = truthAt(truth, truth.intakeSoFarMl, truth.suckTimes[sucks]!);
    // Milk weighs 1.03 g/mL; this bottle is steep from the beginning.
    const trueLevelGrams = (1.03 * takenMl) / sucks / STEEP_FACTOR;
    const found = levelSuckGrams(refined(), rowsOf(moments))!;
    expect(Math.abs(found / trueLevelGrams - 1)).toBeLessThan(0.15);
  });

  it('is not said after a handful of sucks, or without milk', () => {
    const seconds = Array.from({ length: 40 }, (_, i) => i);
    const rows = seconds.map((atSec) => ({ atSec, teatInMouth: true, tiltDeg: 90 }));
    const intakeMl = seconds.map((sec) => 0.3 * sec);
    expect(levelSuckGrams({ suckAtSec: seconds.slice(0, 20), atSec: seconds, intakeMl }, rows)).toBeNull();
    const dry = seconds.map(() => 0);
    expect(levelSuckGrams({ suckAtSec: seconds, atSec: seconds, intakeMl: dry }, rows)).toBeNull();
    const level = levelSuckGrams({ suckAtSec: seconds, atSec: seconds, intakeMl }, rows);
    expect(level).toBeCloseTo(0.3 * 1.03, 6);
    const steep = rows.map((row) => ({ ...row, tiltDeg: 150 }));
    expect(levelSuckGrams({ suckAtSec: seconds, atSec: seconds, intakeMl }, steep)).toBeCloseTo(
      (0.3 * 1.03) / STEEP_FACTOR,
      6,
    );
    // Only how it is held at the beginning counts.
    const later = rows.map((row) => ({ ...row, tiltDeg: row.atSec > 8 ? 150 : 90 }));
    expect(levelSuckGrams({ suckAtSec: seconds, atSec: seconds, intakeMl }, later)).toBeCloseTo(0.309, 6);
  });
});

describe('the start of the next feed', () => {
  it('is the usual one without an earlier feed', () => {
    expect(earlierSucks([])).toBeNull();
    const ran = { profile: SHIPPED_PROFILE, guidance: BARE_GUIDANCE };
    expect(startedFrom(ran, [])).toBe(ran);
  });

  it('lies between the usual one and the mean, nearer to it with each feed, the latest ones alone', () => {
    const one = earlierSucks([0.6])!;
    const three = earlierSucks([0.6, 0.6, 0.6])!;
    expect(one.levelGrams).toBeGreaterThan(USUAL_GRAMS);
    expect(three.levelGrams).toBeGreaterThan(one.levelGrams);
    expect(three.levelGrams).toBeLessThan(0.6);
    expect(three.sdGrams / three.levelGrams).toBeLessThan(one.sdGrams / one.levelGrams);
    expect(EARLIER_FEEDS).toBe(3);
    expect(earlierSucks([0.6, 0.6, 0.6, 0.1, 0.1])).toEqual(three);
    // Precisions: 1/0.4² of the usual, 1/0.5² of one feed (normal-normal shrinkage, worked by hand).
    expect(one.knownShare).toBeCloseTo(4 / (4 + 6.25), 9);
    expect(Math.log(one.levelGrams / USUAL_GRAMS)).toBeCloseTo((4 / 10.25) * Math.log(0.6 / USUAL_GRAMS), 9);
    expect((one.sdGrams / one.levelGrams) ** 2).toBeCloseTo(0.25 + 1 / 10.25, 9);
    // After slow feeds the start is no surer than ever.
    expect(earlierSucks([0.05, 0.05, 0.05])!.sdGrams).toBe(MILK_NOISE.perSuckStartSdGrams);
  });

  it('makes the first cue come less soon by what is known, and changes no other figure', () => {
    const earlier = earlierSucks([0.6, 0.6, 0.6])!;
    const profile = startedFrom(
      { profile: SHIPPED_PROFILE, guidance: BARE_GUIDANCE },
      [0.6, 0.6, 0.6],
    ).profile;
    const { tiltDown, ...rest } = paceParams(profile);
    const { tiltDown: shipped, ...others } = paceParams(SHIPPED_PROFILE);
    expect(rest).toEqual(others);
    const share = shipped.soonerAtMostShare * (1 - earlier.knownShare);
    expect(tiltDown).toEqual({ ...shipped, soonerAtMostShare: share });
    // A nipple that was slow before may be a fast one now.
    expect(profileKnowing(SHIPPED_PROFILE, earlierSucks([0.1, 0.1, 0.1])!)).toEqual(SHIPPED_PROFILE);
  });
});

describe('a feed that begins with it', () => {
  const TWICE: Overrides = { teat: { holeMm: 0.585 * Math.SQRT2 } };
  const flowError = ({ moments }: ReturnType<typeof watch>, { truth }: SimulatedCapture): number => {
    const latchSec = truth.events.find(({ kind }) => kind === 'latch')!.atSec;
    const begin = moments.filter(({ atSec }) => atSec > latchSec && atSec < latchSec + 30);
    const squares = begin.map(
      ({ atSec, flowMlPerMin }) => ((flowMlPerMin ?? 0) - truthAt(truth, truth.flow10MlPerMin, atSec)) ** 2,
    );
    return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
  };

  it('knows the flow of a fast nipple sooner', () => {
    const feed = tippedUp(72, 60, TWICE);
    const earlier = earlierSucks([0.62, 0.66, 0.58])!;
    expect(flowError(watch(feed, earlier), feed)).toBeLessThan(0.8 * flowError(watch(feed), feed));
  });

  it('has its cue although a slow nipple was given before', () => {
    const feed = tippedUp(73, 120, TWICE);
    const usual = watch(feed).cueSec!;
    const told = watch(feed, earlierSucks([0.07, 0.06, 0.08])!).cueSec;
    expect(told).not.toBeNull();
    expect(told! - usual).toBeLessThan(12);
  });
});
