/**
 * How soon a pace bucket tells a step of flow from 6 to 12 … 30 mL/min, against how often it crosses at 6 mL/min without one; beside the optimal cumulative
 * sum (Page 1954, Biometrika 41:100; optimal by Moustakides 1986, Ann Statist 14:1379; both from memory), tuned to that very step and fed with the true flow.
 *
 * Milk comes in bursts with pauses, 10 s a cycle; the milk of a cycle is gamma of shape 2 (scatter 0.7 of the mean: our assumption), independent. Then the
 * optimal sum adds x(1/θ₀ − 1/θ₁) − k·ln(θ₁/θ₀): it is itself a bucket, whose rate is the logarithmic mean of the two flows. So all are buckets, and only
 * rate and depth differ. Delays are the worst ones, from an empty bucket, as in Moustakides. "Sensed" adds the sleeve's error of a 10 s intake.
 */
import { emptyBucket, stepBucket } from '../../src/pacing/rules/buckets.ts';
import { type Draws, seededDraws } from '../support/distributions.ts';
import { type Cell, fixed, printTable } from './table.ts';

const BEFORE_ML_PER_MIN = 6;
const STEPS_TO = [12, 18, 24, 30] as const;
const CYCLE_SEC = 10;
/** Standard deviation of a 10 s intake, mL: about 1.5 mL/min of the 10 s flow (bench accuracy). */
const SENSED_SD_ML = 0.25;
const RUNS = 400;
const LONGEST_SEC = 7 * 24 * 3600;
const APART_MIN = [30, 120, 480] as const;
const SHIPPED = [
  { name: 'lasting', rateMlPerMin: 8, depthMl: 18 },
  { name: 'pouring', rateMlPerMin: 14, depthMl: 6 },
] as const;

interface Detector {
  rateMlPerMin: number;
  depthMl: number;
  sensed: boolean;
}

const cycleMl = (flowMlPerMin: number, draws: Draws): number => {
  const half = (flowMlPerMin / 60) * (CYCLE_SEC / 2);
  return -half * (Math.log(1 - draws.uniform(0, 1)) + Math.log(1 - draws.uniform(0, 1)));
};

/** Mean time from an empty bucket to a crossing at this flow, s. */
function meanRunSec({ rateMlPerMin, depthMl, sensed }: Detector, flowMlPerMin: number, runs: number): number {
  const params = { rateMlPerMin, depthMl, rearmShare: 0.5 };
  const draws = seededDraws(23);
  let total = 0;
  for (let run = 0; run < runs; run += 1) {
    const bucket = emptyBucket();
    let sec = 0;
    let error = 0;
    do {
      const before = error;
      error = sensed ? draws.normal(0, SENSED_SD_ML / Math.SQRT2) : 0;
      sec += CYCLE_SEC;
      if (stepBucket(bucket, cycleMl(flowMlPerMin, draws) + error - before, CYCLE_SEC, params)) break;
    } while (sec < LONGEST_SEC);
    total += sec;
  }
  return total / runs;
}

/** Depth at which a bucket of this rate crosses every so many minutes at 6 mL/min, by halving. */
function depthFor(rateMlPerMin: number, apartMin: number, sensed: boolean): number {
  let low = 0;
  let high = 40;
  for (let i = 0; i < 12; i += 1) {
    const depthMl = (low + high) / 2;
    if (meanRunSec({ rateMlPerMin, depthMl, sensed }, BEFORE_ML_PER_MIN, 100) < apartMin * 60) low = depthMl;
    else high = depthMl;
  }
  return (low + high) / 2;
}

/** Rate of the optimal bucket for a step to this flow: the logarithmic mean. */
const optimalRate = (toMlPerMin: number): number =>
  (toMlPerMin - BEFORE_ML_PER_MIN) / Math.log(toMlPerMin / BEFORE_ML_PER_MIN);

function delays(detector: (to: number) => Detector): Cell[] {
  return STEPS_TO.map((to) => {
    const one = detector(to);
    return to > one.rateMlPerMin ? fixed(meanRunSec(one, to, RUNS), 0) : '';
  });
}

export function benchDetection(): void {
  const rows: Cell[][] = [];
  for (const apartMin of APART_MIN) {
    const optimal = (to: number): Detector => {
      const rateMlPerMin = optimalRate(to);
      return { rateMlPerMin, depthMl: depthFor(rateMlPerMin, apartMin, false), sensed: false };
    };
    rows.push([`optimal for each step, true flow`, '', apartMin, ...delays(optimal)]);
    for (const { name, rateMlPerMin } of SHIPPED) {
      for (const sensed of [false, true]) {
        const depthMl = depthFor(rateMlPerMin, apartMin, sensed);
        rows.push([
          `${name} rate, ${rateMlPerMin} mL/min, ${sensed ? 'sensed' : 'true flow'}`,
          fixed(depthMl, 1),
          apartMin,
          ...delays(() => ({ rateMlPerMin, depthMl, sensed })),
        ]);
      }
    }
  }
  for (const { name, rateMlPerMin, depthMl } of SHIPPED) {
    const detector = { rateMlPerMin, depthMl, sensed: true };
    const apartMin = meanRunSec(detector, BEFORE_ML_PER_MIN, 20) / 60;
    rows.push([`${name} bucket as shipped, sensed`, depthMl, fixed(apartMin, 0), ...delays(() => detector)]);
  }
  printTable(
    'Delay in seconds after a step of flow from 6 mL/min, at equal time between false cues',
    ['detector', 'depth mL', 'min between false cues', ...STEPS_TO.map((to) => `to ${to}`)],
    rows,
    [
      `Optimal rates: ${STEPS_TO.map((to) => `${fixed(optimalRate(to), 1)} for ${to}`).join(', ')} mL/min. ${RUNS} steps each; shipped depths over 20 runs at 6 mL/min.`,
      'The shipped depths are the sleeve contract’s: deeper than false cues ask for, because a fast minute is no fault and a fast feed is.',
    ],
  );
}
