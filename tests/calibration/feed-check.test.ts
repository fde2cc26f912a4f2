/** The check at every feed, on the simulated bench: what rests in the sleeve, what a moved zero looks like, what holds teach. */
import { beforeAll, describe, expect, it } from 'vitest';
import { FEED_CHECK_START, opinionOf, stepFeedCheck } from '../../src/calibration/check/feed-check.ts';
import { learnFromHolds } from '../../src/calibration/fit/learned.ts';
import {
  driftGrams,
  historiesFrom,
  historyOf,
  learnedCalibration,
  withCheck,
  withHistory,
  withLesson,
  withoutLessons,
} from '../../src/calibration/walk/history.ts';
import { type Hold, holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { changedProfile } from '../../src/calibration/walk/profile.ts';
import { createRestingWatch, stepResting } from '../../src/calibration/walk/resting.ts';
import { drawnCountsPerGram, EXAMPLE_DESIGN } from '../../src/calibration/walk/sleeve-design.ts';
import type { Calibration } from '../../src/sensing/loads/calibration.ts';
import type { SensorSample } from '../../src/sensing/loads/loads.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { begun, benchFor, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

const NOW = { nowIso: '2026-01-06T09:00:00Z' };
const WATER = 0.9982;
let bench: CalibrationBench;
let calibration: Calibration;

beforeAll(() => {
  bench = benchFor(21);
  calibration = outcomeOf(walked(bench, begun(21)).walk, {
    finishedAt: '2026-01-05T09:40:00Z',
    softwareVersion: '1.2.3',
    uniform01: seededRandom(1),
  }).calibration;
});

const tilted = (degrees: number): [number, number, number] => {
  const tilt = (degrees * Math.PI) / 180;
  return [Math.sin(tilt), 0, Math.cos(tilt)];
};
const bottle = (grams: number, degrees = 10): Hold =>
  holdFromSamples(bench.hold(tilted(degrees), { bottleWithGrams: grams }));
const empty = (): Hold => holdFromSamples(bench.hold([0, 0, 1], {}));
const moved = (hold: Hold, frontGrams: number): Hold => ({
  ...hold,
  cells: [hold.cells[0], hold.cells[1] + frontGrams * drawnCountsPerGram(EXAMPLE_DESIGN)[1]!, hold.cells[2]],
});
const checked = (holds: readonly Hold[], portionMl: number | null = null) =>
  holds.reduce(
    (state, hold) => stepFeedCheck(state, calibration, hold, { ...NOW, portionMl }),
    FEED_CHECK_START,
  );

describe('what stands in the sleeve at rest', () => {
  it('is told apart: nothing but the cup, or the bottle', () => {
    expect(opinionOf(checked([empty(), empty()]))).toMatchObject({ inSleeve: 'nothing', verdict: 'good' });
    expect(opinionOf(checked([bottle(120), bottle(120)]))).toMatchObject({
      inSleeve: 'bottle',
      verdict: 'good',
    });
    expect(opinionOf(checked([empty(), empty(), bottle(120)]))).toMatchObject({
      inSleeve: 'bottle',
      holds: 1,
    });
  });

  it('tells nothing when it lies on its side', () => {
    const side = holdFromSamples(bench.hold([0, 1, 0], { bottleWithGrams: 120 }));
    expect(checked([side])).toBe(FEED_CHECK_START);
  });
});

describe('a zero that has moved', () => {
  it.each([
    [0, 'good', null],
    [5, 'watch', 'zero'],
    [20, 'again', 'zero'],
  ] as const)('by %s g, with the bottle in', (grams, verdict, finding) => {
    expect(opinionOf(checked([1, 2, 3].map(() => moved(bottle(120), grams))))).toMatchObject({
      verdict,
      finding,
    });
  });

  it('is seen with nothing in the sleeve, too', () => {
    expect(opinionOf(checked([1, 2].map(() => moved(empty(), 20))))).toMatchObject({
      verdict: 'again',
      inSleeve: 'nothing',
    });
  });

  it('is not told from one touch', () => {
    expect(opinionOf(checked([moved(bottle(120), 40)]))).toBeNull();
    expect(opinionOf(checked([bottle(120), moved(bottle(120), 40), bottle(120)]))).toMatchObject({
      verdict: 'good',
    });
  });

  it('is over once the sleeve rests well again', () => {
    const holds = [1, 2, 3].map(() => moved(bottle(120), 20));
    expect(opinionOf(checked([...holds, bottle(120), bottle(120)]))).toMatchObject({ verdict: 'good' });
  });
});

describe('the amount entered', () => {
  it('is compared with the weight', () => {
    expect(opinionOf(checked([bottle(90), bottle(90)], 150))).toMatchObject({
      verdict: 'watch',
      finding: 'amount',
    });
    expect(opinionOf(checked([bottle(123), bottle(123)], 120))).toMatchObject({ verdict: 'good' });
  });
});

describe('resting', () => {
  const run = (samples: readonly SensorSample[], teatOut: (atSec: number) => boolean): Hold[] => {
    const watch = createRestingWatch(calibration);
    return samples.flatMap((sample) => stepResting(watch, sample, teatOut(sample.atSec)) ?? []);
  };
  const still = (tremorDeg = 0): SensorSample[] => {
    const samples = bench.hold(tilted(20), { bottleWithGrams: 120, tremorDeg }, 8);
    const from = samples[0]!.atSec;
    return samples.map((sample) => ({ ...sample, atSec: sample.atSec - from }));
  };

  it('gives a hold each second and a half, the first after two and a half', () => {
    const holds = run(still(), () => true);
    expect(holds.length).toBe(4);
    expect(holds[0]!.atSec).toBeCloseTo(0.75, 1);
  });

  it('gives none with the nipple in the mouth, nor just before and after', () => {
    expect(run(still(), () => false)).toEqual([]);
    expect(run(still(), (atSec) => atSec > 5.5)).toEqual([]);
    // Samples just before the latch is noticed are not used.
    expect(run(still(), (atSec) => atSec < 2.2)).toEqual([]);
  });

  it('gives none while the hand shakes, or a sensor is silent', () => {
    expect(run(still(4), () => true)).toEqual([]);
    expect(
      run(
        still().map((sample) => ({ ...sample, flags: 2 })),
        () => true,
      ),
    ).toEqual([]);
  });

  it('starts anew after a gap', () => {
    const samples = still().map((sample, i) => (i % 100 === 99 ? { ...sample, missingBefore: 3 } : sample));
    expect(run(samples, () => true)).toEqual([]);
  });
});

describe('what feeds teach about the bottle', () => {
  /** The same file with the inside's ends drawn wrong, and little known of them. */
  const misdrawn = (baseShiftMm: number, neckShiftMm: number): Calibration => ({
    ...calibration,
    bottle: {
      ...calibration.bottle,
      innerProfileMm: changedProfile(calibration.bottle.innerProfileMm, {
        baseShiftMm,
        neckShiftMm,
        widerShare: 0,
      }),
    },
    uncertainty: { baseEndMm: 2, neckEndMm: 2 },
  });
  /** Holds of one feed: a burp pause at each level of milk, the bottle leaning, then put down; the zeros walk on. */
  const feed = (tiltsDeg: readonly number[] = [0, 25]): Hold[] => {
    bench.pass(3600);
    const start = [...bench.zeroCounts];
    return [120, 100, 80, 60, 40, 20].flatMap((grams) => {
      bench.pass(180);
      // The zeros' drift of hours between feeds is left to the check; a lesson uses one feed.
      return tiltsDeg.map((degrees) => {
        const hold = bottle(grams, degrees);
        const cells = hold.cells.map((counts, i) => counts - start[i]! + calibration.zeroCounts[i]!);
        return { ...hold, cells: cells as Hold['cells'] };
      });
    });
  };
  const ends = ({ bottle: { innerProfileMm } }: Calibration): [number, number] => [
    innerProfileMm[0]![0],
    innerProfileMm.at(-1)![0],
  ];
  /** Learns from this many feeds, each with what the ones before taught. */
  const taught = (made: Calibration, feeds: number, tiltsDeg?: readonly number[]) => {
    let history = historyOf([], '21', made);
    for (let i = 1; i <= feeds; i++) {
      const lesson = learnFromHolds(
        learnedCalibration(made, history).calibration,
        feed(tiltsDeg),
        history.belief ?? undefined,
        WATER,
      );
      if (lesson) history = withLesson(history, made, lesson, { learnedAt: NOW.nowIso, feedId: `f${i}` });
    }
    return { history, next: learnedCalibration(made, history).calibration };
  };

  it('brings misdrawn ends nearer to where they are, feed by feed', () => {
    const truth = ends(calibration);
    const wrong = misdrawn(2, -1);
    const { history, next } = taught(wrong, 8);
    expect(history.corrections.length).toBeGreaterThan(0);
    const [base, neck] = ends(next).map((end, i) => Math.abs(end - truth[i]!)) as [number, number];
    expect(base).toBeLessThan(1.3);
    // Milk of a bottle that only leans does not reach its neck: nothing is made up about that end.
    expect(neck).toBeLessThan(1.1);
    // Each correction is small.
    for (const { change } of history.corrections)
      expect(Math.abs(change.baseShiftMm)).toBeLessThanOrEqual(0.5);
  });

  it('learns of the neck only where the bottle rests level', () => {
    const [leaning, level] = [
      [0, 25],
      [20, 90],
    ].map((tilts) => taught(misdrawn(0, 0), 1, tilts).history.belief!);
    expect(level!.neckVariance).toBeLessThan(0.6 * leaning!.neckVariance);
  });

  it('corrects nothing where the ends are right, in eight feeds', () => {
    expect(taught(misdrawn(0, 0), 8).history.corrections).toEqual([]);
  });

  it('does not take a walked zero for them', () => {
    const lesson = learnFromHolds(
      calibration,
      feed().map((hold) => moved(hold, 3)),
      undefined,
      WATER,
    )!;
    expect(lesson.change).toBeNull();
  });

  it('moves the neck with the base as far as the two are believed to go together', () => {
    // Milk of a bottle that only leans tells of its base alone. Of two normal unknowns of equal spread with correlation r, the one
    // that is not seen is expected at r times what was learned of the other (regression of one normal variable on another).
    const leaning = feed();
    const learned = (correlation: number) => {
      const before = { baseMm: 0, neckMm: 0, baseVariance: 1, neckVariance: 1, covariance: correlation };
      const { belief, change } = learnFromHolds(misdrawn(-1, 0), leaning, before, WATER)!;
      return {
        base: belief.baseMm + (change?.baseShiftMm ?? 0),
        neck: belief.neckMm + (change?.neckShiftMm ?? 0),
      };
    };
    for (const correlation of [0.9, 0, -0.9]) {
      const { base, neck } = learned(correlation);
      expect(base).toBeGreaterThan(0.8);
      // A hundredth less than r, because the uncertainty of the base grows a little before each feed.
      expect(Math.abs(neck - correlation * base)).toBeLessThan(0.02);
    }
  });

  it('teaches nothing from one level of milk', () => {
    const level = [bottle(120, 20), bottle(120, 75), bottle(120, 110)];
    expect(learnFromHolds(misdrawn(1, -1), level, undefined, WATER)).toBeNull();
  });
});

describe('history beside the calibration', () => {
  const belief = { baseMm: 0, neckMm: 0, baseVariance: 1, neckVariance: 1, covariance: 0 };
  const lesson = (baseShiftMm = 0.3) => ({ belief, change: { baseShiftMm, neckShiftMm: 0 } });
  const when = (feedId: string) => ({ learnedAt: NOW.nowIso, feedId });

  it('are kept by sleeve, calibration and bottle, and a new calibration begins with none', () => {
    const opinion = opinionOf(checked([bottle(120), bottle(120)]))!;
    const history = withCheck(historyOf([], '21', calibration), opinion, { atMs: 5, feedId: 'f1' });
    const all = historiesFrom(JSON.parse(JSON.stringify(withHistory([], history))));
    expect(historyOf(all, '21', calibration)).toEqual(history);
    expect(historyOf(all, '22', calibration).checks).toEqual([]);
    expect(historyOf(all, '21', { ...calibration, calibratedAt: '2026-03-01T00:00:00Z' }).checks).toEqual([]);
    expect(driftGrams(history)).toBeCloseTo(opinion.zeroShiftGrams!, 9);
    expect(historiesFrom('rubbish')).toEqual([]);
  });

  it('carry lessons that can be undone, and refuse to go too far', () => {
    let history = historyOf([], '21', calibration);
    for (const id of ['f1', 'f2']) history = withLesson(history, calibration, lesson(), when(id));
    expect(learnedCalibration(calibration, history).calibration.bottle.innerProfileMm[0]![0]).toBeCloseTo(
      calibration.bottle.innerProfileMm[0]![0] + 0.6,
      9,
    );
    expect(withLesson(history, calibration, lesson(3), when('f3'))).toBe(history);
    expect(learnedCalibration(calibration, withoutLessons(history)).calibration).toEqual(calibration);
    // What had been learned so far is forgotten too.
    expect(withoutLessons(history, 1).belief).toBeNull();
    expect(withoutLessons(history, 1).corrections.map(({ feedId }) => feedId)).toEqual(['f1']);
  });
});
