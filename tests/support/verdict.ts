/**
 * The few checks that distinguish a right estimator from one with a wrong sign. The truth tests require that none fails; the mutation
 * check changes signs one by one and requires that some check fails.
 */
import type * as Sensing from '../../src/sensing/index.ts';
import type { SensedMoment } from '../../src/sensing/index.ts';
import { laidOver, type Overrides } from '../../src/simulation/parameters.ts';
import { PLAIN, realHand } from '../../src/simulation/real-hand.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { CAPTURE_NAMES, readFixture, samplesOf } from './captures.ts';
import { judge } from './judge.ts';
import { FIXTURE_LIMITS } from './limits.ts';
import { simulateCapture } from './simulated-capture.ts';

const fixtures = CAPTURE_NAMES.map((name) => {
  const { bytes, calibration, truth } = readFixture(name);
  return { name, samples: samplesOf(bytes), calibration, truth, limits: FIXTURE_LIMITS[name] };
});

/** 70 s of a simulated feed, with the truth of every sample. */
function followedFeed(overrides: Overrides) {
  const options = { scenario: 'paced', seed: 5, overrides } as const;
  const { bytes, calibration, truth } = simulateCapture({ ...options, longestSec: 70 });
  const again = createSimulatedFeed(options);
  const trueForces: { x: number; z: number; rollDeg: number }[] = [];
  for (let i = 0; i < 70 * 80; i++) {
    const { truth: now } = again.step();
    trueForces.push({ x: now.mouthForceXN, z: now.mouthForceZN, rollDeg: now.rollDeg });
  }
  return { samples: samplesOf(bytes), calibration, truth, trueForces };
}

const rolled = followedFeed({ hand: { rollDeg: 35 } });
/** A hand that turns the bottle four times as much as usual, and delayed cells; the chip sits below the base. */
const turning = followedFeed(
  laidOver(PLAIN, realHand(0, { 'turning hand': 4, 'late readings': 1 }), {
    sensors: { gyroscope: true, accelerometerMm: [0, 0, -15.5] },
  }),
);

function run(
  sensing: typeof Sensing,
  calibration: unknown,
  samples: ReturnType<typeof samplesOf>,
): SensedMoment[] {
  const sensor = sensing.createSensor(sensing.parseCalibration(calibration, 'of the check'));
  const moments: SensedMoment[] = [];
  for (const sample of samples) {
    const moment = sensing.senseSample(sensor, sample);
    if (moment) moments.push(moment);
  }
  return moments;
}

const mean = (values: number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Names of the checks that `sensing` fails, one after another; none if it is right. */
export function* failedChecks(sensing: typeof Sensing): Generator<string> {
  for (const { name, samples, calibration, truth, limits } of fixtures) {
    const judged = judge(run(sensing, calibration, samples), truth);
    if (!(judged.flowRmsMlPerMin < limits.flowRmsMlPerMin)) yield `${name}: flow`;
    if (!(judged.flowRmsMlPerMin < limits.shareOfBestConstant * judged.bestConstantRmsMlPerMin))
      yield `${name}: flow beside the best constant`;
    if (!(judged.milkRmsMl < limits.milkRmsMl)) yield `${name}: milk`;
    if (!(judged.intakeWorstMl < limits.intakeWorstMl)) yield `${name}: intake`;
    if (!(judged.teatRight > limits.teatRight)) yield `${name}: teat in the mouth`;
  }
  const swung = run(sensing, turning.calibration, turning.samples).filter(
    ({ teatInMouth, atSec }) => teatInMouth && atSec > 12,
  );
  const forceAt = ({ atSec }: SensedMoment): number =>
    turning.trueForces[Math.min(turning.trueForces.length - 1, Math.round(atSec * 80))]!.x;
  if (!(Math.sqrt(mean(swung.map((m) => (m.mouthForceXN - forceAt(m)) ** 2))) < 0.025))
    yield 'turning: force across';
  // Missing physics shows up as noise and increases the stated deviation: 2.02 normally, 2.49 with the inertia's sign changed.
  if (!(mean(swung.map((m) => m.flowSdMlPerMin!)) < 2.25)) yield 'turning: stated deviation';
  const moments = run(sensing, rolled.calibration, rolled.samples);
  const judged = judge(moments, rolled.truth);
  if (!(judged.flowRmsMlPerMin < 2.5)) yield 'rolled: flow';
  if (!(judged.milkRmsMl < 1.5)) yield 'rolled: milk';
  if (!(judged.teatRight > 0.98)) yield 'rolled: teat in the mouth';
  const held = moments.filter((m) => m.teatInMouth);
  const truthOf = (m: SensedMoment) =>
    rolled.trueForces[Math.min(rolled.trueForces.length - 1, Math.round(m.atSec * 80))]!;
  const error = (pick: (m: SensedMoment) => number) => Math.sqrt(mean(held.map((m) => pick(m) ** 2)));
  if (!(error((m) => m.rollDeg - truthOf(m).rollDeg) < 8)) yield 'rolled: roll';
  if (!(error((m) => m.mouthForceXN - truthOf(m).x) < 0.08)) yield 'rolled: force across';
  if (!(error((m) => m.mouthForceZN - truthOf(m).z) < 0.15)) yield 'rolled: force along';
}
