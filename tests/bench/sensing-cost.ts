/**
 * Child process: what one sample costs in senseSample, and one step in a general Kalman library of the same state size.
 * Started with --expose-gc and a large young generation, so that what was allocated can be read off the heap.
 */
import { KalmanFilter } from 'kalman-filter';
import { STATES } from '../../src/sensing/filter/milk-filter.ts';
import { createSensor, parseCalibration, senseSample } from '../../src/sensing/index.ts';
import { samplesOf } from '../support/captures.ts';
import { column, product, transposed } from '../support/dense.ts';
import {
  LINEAR_NOISE,
  modelFeed,
  noiseOf,
  START_GRAMS,
  startOf,
  transitionOf,
} from '../support/milk-model.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

const ROUNDS = 12;

const capture = simulateCapture({ scenario: 'tipped-up', seed: 1, longestSec: 90 });
const calibration = parseCalibration(capture.calibration, 'of the simulated sleeve');
const samples = samplesOf(capture.bytes);

/** One pass over all samples: time each and bytes each. */
function sensingPass(refinable: boolean): { ns: number; bytes: number } {
  const sensor = createSensor(calibration, { refinable });
  globalThis.gc?.();
  const heapBefore = process.memoryUsage().heapUsed;
  const before = process.hrtime.bigint();
  // A loop by index, since an iterator would allocate too.
  for (let i = 0; i < samples.length; i++) senseSample(sensor, samples[i]!);
  const ns = Number(process.hrtime.bigint() - before);
  const grown = process.memoryUsage().heapUsed - heapBefore;
  return { ns: ns / samples.length, bytes: grown / samples.length };
}

/** The library at the sensor's own step rate: one prediction and three scalar measurements for four samples. */
function libraryPass(): { ns: number; bytes: number } {
  const steps = modelFeed(200, 5).filter(({ inMouth }) => inMouth);
  const [first] = steps;
  const g = noiseOf(first!, LINEAR_NOISE, 0);
  const { mean, covariance } = startOf(LINEAR_NOISE, START_GRAMS);
  const filter = new KalmanFilter({
    dynamic: {
      dimension: STATES,
      transition: transitionOf(first!, LINEAR_NOISE),
      covariance: product(g, transposed(g)),
      init: { mean: column(mean), covariance, index: -1 },
    },
    observation: {
      dimension: 1,
      stateProjection: [first!.measurements[0]!.row],
      covariance: [[0.09]],
    },
  });
  globalThis.gc?.();
  const heapBefore = process.memoryUsage().heapUsed;
  const before = process.hrtime.bigint();
  let known: ReturnType<typeof filter.predict> | undefined;
  for (const { measurements } of steps) {
    const observation = [measurements[0]!.measured];
    known = filter.predict({ previousCorrected: known });
    for (let i = 0; i < 3; i++) known = filter.correct({ predicted: known, observation });
  }
  const ns = Number(process.hrtime.bigint() - before);
  const grown = process.memoryUsage().heapUsed - heapBefore;
  return { ns: ns / (4 * steps.length), bytes: grown / (4 * steps.length) };
}

const rounds = <T>(pass: () => T): T[] => Array.from({ length: ROUNDS }, pass).slice(2);
process.stdout.write(
  JSON.stringify({
    samples: samples.length,
    live: rounds(() => sensingPass(false)),
    kept: rounds(() => sensingPass(true)),
    library: rounds(libraryPass),
  }),
);
