/** Judges the steps of the bring-up checklist from samples of the sleeve. Pure: samples in, verdict out. */
import { SAMPLE_FLAGS, type TimedSample } from '../../firmware-bridge/wire/index.ts';
import { degFromRad } from '../../src/base/units.ts';
import { gramsPerCount } from '../budgets/resolution.ts';
import type { CellName, CheckStep, Limit } from './checklist.ts';
import {
  creepMeasured,
  delayMeasured,
  type GramsPerCount,
  longRestMeasured,
  type Measured,
  type Press,
  stopsMeasured,
  warmthMeasured,
} from './measures.ts';

/** What of a sample the checks look at. */
export type CheckSample = Pick<
  TimedSample,
  'atSec' | 'cells' | 'accelerometer' | 'flags' | 'missingBefore' | 'resetBefore'
> &
  Partial<Pick<TimedSample, 'gyroscope'>>;

/** One measured number against its limit; `value` is null where it could not be measured. */
export interface Reading {
  readonly limit: Limit;
  readonly value: number | null;
  readonly passed: boolean;
}

export interface StepResult {
  readonly id: string;
  readonly passed: boolean;
  readonly readings: readonly Reading[];
  /** Why it could not be judged; null when it was. */
  readonly trouble: string | null;
}

/** While nothing is calibrated: by the data sheets of cell and converter. */
const UNCALIBRATED: GramsPerCount = [gramsPerCount(), gramsPerCount(), gramsPerCount()];

const CELL_INDEX: Record<CellName, 0 | 1 | 2> = { axial: 0, front: 1, rear: 2 };
/** Counts of the accelerometer per g (sleeve contract, section 2). */
const COUNTS_PER_G = 8192;
/** Counts of the gyroscope per °/s (sleeve contract, section 2). */
const COUNTS_PER_DPS = 65.5;
/** Turning is compared over stretches so long: the accelerometer also feels the hand's own jerks. */
const TURN_SEC = 0.25;
/** Of the time asked for, so much must be there, and so many samples. */
const LEAST_SHARE = 0.9;
const LEAST_SAMPLES = 20;
/** Before and after a press the sleeve rests so long; the push itself is judged over blocks, so that a click is none. */
const REST_SEC = 1;
const PUSH_SEC = 0.25;

const FAULTS =
  SAMPLE_FLAGS.axialCellFault |
  SAMPLE_FLAGS.frontCellFault |
  SAMPLE_FLAGS.rearCellFault |
  SAMPLE_FLAGS.accelerometerFault;
const CELL_FAULT: Record<CellName, number> = {
  axial: SAMPLE_FLAGS.axialCellFault,
  front: SAMPLE_FLAGS.frontCellFault,
  rear: SAMPLE_FLAGS.rearCellFault,
};

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

const within = ({ least = -Infinity, greatest = Infinity }: Limit, value: number): boolean =>
  value >= least && value <= greatest;

function judged(
  step: CheckStep,
  values: readonly (number | null)[],
  trouble: string | null = null,
): StepResult {
  const readings = step.limits.map((limit, i): Reading => {
    const value = values[i] ?? null;
    return { limit, value, passed: value !== null && Number.isFinite(value) && within(limit, value) };
  });
  return { id: step.id, passed: trouble === null && readings.every((r) => r.passed), readings, trouble };
}

const judgedAs = (step: CheckStep, { values, trouble }: Measured): StepResult =>
  judged(step, values, trouble);

/** Standard deviation about the least-squares straight line: slow warming is not noise. */
function scatterAboutLine(at: readonly number[], values: readonly number[]): number {
  const [tm, vm] = [mean(at), mean(values)];
  let [tt, tv, vv] = [0, 0, 0];
  values.forEach((value, i) => {
    const [t, v] = [at[i]! - tm, value - vm];
    tt += t * t;
    tv += t * v;
    vv += v * v;
  });
  const left = vv - (tt > 0 ? (tv * tv) / tt : 0);
  return Math.sqrt(Math.max(0, left) / Math.max(1, values.length - 2));
}

function samplesASecond(samples: readonly CheckSample[]): number {
  const lasted = samples[samples.length - 1]!.atSec - samples[0]!.atSec;
  return (samples.length - 1) / lasted;
}

/** [rise of the pressed cell, largest other change in % of it, change left after]. */
function pressValues(cell: CellName, samples: readonly CheckSample[]): (number | null)[] {
  const [from, to] = [samples[0]!.atSec, samples[samples.length - 1]!.atSec];
  const meanOver = (since: number, until: number, index: number) => {
    const values = samples.filter((s) => s.atSec >= since && s.atSec < until).map((s) => s.cells[index]!);
    return values.length > 0 ? mean(values) : null;
  };
  const rests = [0, 1, 2].map((index) => meanOver(from, from + REST_SEC, index));
  const pressed = CELL_INDEX[cell];
  const rest = rests[pressed];
  const after = meanOver(to - REST_SEC, to + 1e-9, pressed);
  if (rest === null || rest === undefined || after === null) return [null, null, null];
  // The block in which the pressed cell moved most, up or down, is the push.
  let [push, at] = [0, from];
  for (let t = from; t + PUSH_SEC <= to; t += PUSH_SEC) {
    const block = meanOver(t, t + PUSH_SEC, pressed);
    if (block !== null && Math.abs(block - rest) > Math.abs(push)) [push, at] = [block - rest, t];
  }
  const others = [0, 1, 2]
    .filter((index) => index !== pressed)
    .map((index) => Math.abs((meanOver(at, at + PUSH_SEC, index) ?? Number.NaN) - rests[index]!));
  return [push, (100 * Math.max(...others)) / Math.abs(push), Math.abs(after - rest)];
}

/** [angle to the expected direction in degrees, size in g, scatter in g]. */
function poseValues(expected: readonly number[], samples: readonly CheckSample[]): number[] {
  const axes = [0, 1, 2].map((k) => samples.map((s) => s.accelerometer[k]! / COUNTS_PER_G));
  const f = axes.map(mean);
  const size = Math.hypot(...f);
  const along = f.reduce((sum, v, k) => sum + v * expected[k]!, 0) / (size * Math.hypot(...expected));
  const scatter = Math.max(...axes.map((values, k) => Math.sqrt(mean(values.map((v) => (v - f[k]!) ** 2)))));
  return [degFromRad(Math.acos(Math.min(1, Math.max(-1, along)))), size, scatter];
}

const AXES = { x: 0, y: 1, z: 2 } as const;

/**
 * Gravity's angle in the sleeve, degrees: the tilt for turning about y, the roll for turning about z (sleeve contract, section 1). When
 * the sleeve turns by +ω about that axis, what stands still turns back in it: the angle's rate is −ω.
 */
function gravityDeg({ accelerometer: [x, y, z] }: CheckSample, about: 'y' | 'z'): number {
  return degFromRad(about === 'y' ? Math.atan2(x, z) : Math.atan2(y, x));
}

/** [turned by the accelerometer in degrees, gyroscope over it, other axes' share in %, largest rate at rest in °/s]. */
function turnValues(about: 'y' | 'z', samples: readonly CheckSample[]): (number | null)[] {
  const turning = samples.filter((s) => s.gyroscope != null);
  const from = turning[0]!.atSec;
  const ratesOf = (s: CheckSample) => s.gyroscope!.map((counts) => counts / COUNTS_PER_DPS);
  const resting = turning.filter((s) => s.atSec < from + REST_SEC).map(ratesOf);
  const zero = [0, 1, 2].map((axis) => mean(resting.map((rates) => rates[axis]!)));
  const own = AXES[about];
  let [least, greatest, angle, last] = [0, 0, 0, gravityDeg(turning[0]!, about)];
  const turned = [0, 0, 0];
  const stretches: { seen: number; turned: number[] }[] = [];
  let [beganAt, beganDeg] = [from, 0];
  turning.slice(1).forEach((sample, i) => {
    const step = gravityDeg(sample, about) - last;
    last += step;
    // Through ±180° the angle jumps, the sleeve does not.
    angle += step > 180 ? step - 360 : step < -180 ? step + 360 : step;
    [least, greatest] = [Math.min(least, angle), Math.max(greatest, angle)];
    const [before, now] = [ratesOf(turning[i]!), ratesOf(sample)];
    const sec = sample.atSec - turning[i]!.atSec;
    for (let k = 0; k < 3; k++) turned[k]! += ((before[k]! + now[k]!) / 2 - zero[k]!) * sec;
    if (sample.atSec - beganAt < TURN_SEC) return;
    stretches.push({ seen: -(angle - beganDeg), turned: [...turned] });
    turned.fill(0);
    [beganAt, beganDeg] = [sample.atSec, angle];
  });
  const sum = (of: (stretch: (typeof stretches)[number]) => number) =>
    stretches.reduce((total, stretch) => total + of(stretch), 0);
  const squares = sum(({ seen }) => seen ** 2);
  const other = sum(({ turned: by }) =>
    by.reduce((total, deg, axis) => (axis === own ? total : total + deg ** 2), 0),
  );
  return [
    greatest - least,
    sum(({ seen, turned: by }) => seen * by[own]!) / squares,
    100 * Math.sqrt(other / squares),
    Math.max(...zero.map(Math.abs)),
  ];
}

/** Times the button went down; the state at the start does not count. */
function pressesOf(samples: readonly CheckSample[]): number {
  const down = samples.map((s) => (s.flags & SAMPLE_FLAGS.buttonDown) !== 0);
  return down.filter((now, i) => i > 0 && now && !down[i - 1]).length;
}

const share = (samples: readonly CheckSample[], flags: number): number =>
  samples.filter((s) => (s.flags & flags) !== 0).length;

/** Why samples do not do; null when they do. */
function spoilt(samples: readonly CheckSample[], seconds: number): string | null {
  const lasted = samples.length > 1 ? samples[samples.length - 1]!.atSec - samples[0]!.atSec : 0;
  if (samples.length < LEAST_SAMPLES || lasted < LEAST_SHARE * seconds)
    return `Only ${samples.length} samples over ${lasted.toFixed(1)} s came; ${seconds} s are needed.`;
  return samples.slice(1).some((s) => s.resetBefore) ? 'The sleeve was reset while the check ran.' : null;
}

/** In minutes of samples one late reading proves nothing; more than this share of them does, own choice. */
const MOST_FLAGGED = 0.01;

/** Measures on what is left of the samples when those with a fault flag are out, unless there are many. */
function measuredOn(
  step: CheckStep,
  samples: readonly CheckSample[],
  measure: (good: readonly CheckSample[]) => Measured,
): StepResult {
  const trouble = spoilt(samples, step.seconds);
  if (trouble !== null) return judged(step, [], trouble);
  const good = samples.filter((s) => (s.flags & FAULTS) === 0);
  if (samples.length - good.length > MOST_FLAGGED * samples.length)
    return judged(step, [], 'A cell or the accelerometer is flagged: mend that first.');
  return judgedAs(step, measure(good));
}

/**
 * Judges a step that is measured from samples.
 * @param samples in order of time, taken while the person did what the step says
 * @param scale what a count of each cell weighs, g; left out: by the data sheets
 * @returns verdict with every number against its limit; too few samples, a reset or a flagged part fail it, with a reason
 * @throws TypeError for a step that a person answers (`look`) or types (`kitchen`, `stops`, `warmth`): use the functions below
 */
export function evaluateStep(
  step: CheckStep,
  samples: readonly CheckSample[],
  scale: GramsPerCount = UNCALIBRATED,
): StepResult {
  switch (step.kind) {
    case 'look':
    case 'kitchen':
    case 'stops':
    case 'warmth':
      throw new TypeError(`Step ${step.id} is not judged from samples alone.`);
    case 'long-rest':
      return measuredOn(step, samples, (good) => longRestMeasured(good, scale));
    case 'creep':
      return measuredOn(step, samples, (good) => creepMeasured(step.cells, good, scale));
    case 'delay':
      return measuredOn(step, samples, (good) => delayMeasured(good, scale));
    default:
      return evaluateQuick(step, samples);
  }
}

type QuickStep = Exclude<
  CheckStep,
  { kind: 'look' | 'kitchen' | 'stops' | 'warmth' | 'long-rest' | 'creep' | 'delay' }
>;

/** Steps of seconds, in counts: before anything is calibrated. */
function evaluateQuick(step: QuickStep, samples: readonly CheckSample[]): StepResult {
  const none = step.limits.map(() => null);
  const bad = spoilt(samples, step.seconds);
  if (bad !== null) return judged(step, none, bad);
  switch (step.kind) {
    case 'supply':
      return judged(step, [share(samples, SAMPLE_FLAGS.supplyLow)]);
    case 'rate':
      return judged(step, [samplesASecond(samples)]);
    case 'lost': {
      // A sample that says "lost before me" without a gap in its number was lost on the chip.
      const onTheWay = samples.slice(1).reduce((sum, s) => sum + s.missingBefore, 0);
      const onTheChip = samples
        .slice(1)
        .filter((s) => s.flags & SAMPLE_FLAGS.samplesLost && s.missingBefore === 0).length;
      return judged(step, [onTheWay + onTheChip]);
    }
    case 'together':
      return judged(step, [togetherPercent(samples)], runApart(samples) ? APART : null);
    case 'faults':
      return judged(step, [share(samples, FAULTS)], runApart(samples) ? APART : null);
    case 'noise':
    case 'press': {
      if (share(samples, CELL_FAULT[step.cell]) > 0)
        return judged(step, none, `The ${step.cell} cell is flagged as silent or saturated.`);
      if (step.kind === 'press') return judged(step, pressValues(step.cell, samples));
      const values = samples.map((s) => s.cells[CELL_INDEX[step.cell]]!);
      return judged(step, [
        scatterAboutLine(
          samples.map((s) => s.atSec),
          values,
        ),
      ]);
    }
    case 'pose':
      if (share(samples, SAMPLE_FLAGS.accelerometerFault) > 0)
        return judged(step, none, 'The accelerometer is flagged as faulty.');
      return judged(step, poseValues(step.expected, samples));
    case 'turn': {
      if (share(samples, SAMPLE_FLAGS.accelerometerFault) > 0)
        return judged(step, none, 'The accelerometer is flagged as faulty.');
      const turning = samples.filter((s) => s.gyroscope != null).length;
      if (turning < LEAST_SHARE * samples.length)
        return judged(
          step,
          none,
          turning === 0
            ? 'No reading of a gyroscope came: this sleeve has none that it knows.'
            : `Only ${turning} of ${samples.length} samples came with a reading of the gyroscope.`,
        );
      return judged(step, turnValues(step.about, samples));
    }
    case 'button':
      return judged(step, [pressesOf(samples)]);
  }
}

const CELL_FAULTS = Object.values(CELL_FAULT);
const APART =
  'The converters run on clocks of their own: which of the cells is flagged changes all the time, though all of them give readings.';
/** Of its samples each cell must be good in so many, and flagged in so many, for clocks to be the cause; own choice. */
const APART_SHARE = 0.05;

const togetherPercent = (samples: readonly CheckSample[]): number =>
  (100 * samples.filter(({ flags }) => CELL_FAULTS.every((fault) => !(flags & fault))).length) /
  samples.length;

/** Clocks that differ bring each cell to be late in turn; a torn wire always the same one. */
function runApart(samples: readonly CheckSample[]): boolean {
  const turns = CELL_FAULTS.filter((fault) => {
    const flagged = share(samples, fault) / samples.length;
    return flagged > APART_SHARE && flagged < 1 - APART_SHARE;
  });
  return turns.length >= 2;
}

/** Judges a step that a person answers. @throws TypeError for other steps */
export function evaluateAnswer(step: CheckStep, yes: boolean): StepResult {
  if (step.kind !== 'look') throw new TypeError(`Step ${step.id} has no question.`);
  return { id: step.id, passed: yes, readings: [], trouble: null };
}

/**
 * Judges the kitchen check.
 * @param scaleGrams water on the kitchen scale, g
 * @param sleeveGrams what left the bottle by the sleeve, g (its milliliters times the density it reckons with)
 * @throws TypeError for other steps
 */
export function evaluateKitchen(step: CheckStep, scaleGrams: number, sleeveGrams: number): StepResult {
  if (step.kind !== 'kitchen') throw new TypeError(`Step ${step.id} is not a kitchen check.`);
  // A syringe that drew next to nothing proves nothing.
  if (!(scaleGrams >= 20)) return judged(step, [null], 'Less than 20 g on the scale: draw 30 mL and repeat.');
  return judged(step, [(sleeveGrams - scaleGrams) / step.waterGramsPerMl]);
}

/**
 * Judges whether a stop touches.
 * @param presses rest first, then each press with what the kitchen scale showed more, g
 * @throws TypeError for other steps
 */
export function evaluateStops(
  step: CheckStep,
  presses: readonly Press[],
  scale: GramsPerCount = UNCALIBRATED,
): StepResult {
  if (step.kind !== 'stops') throw new TypeError(`Step ${step.id} is no press on a scale.`);
  const bad = presses.map(({ samples }) => spoilt(samples, step.seconds)).find((text) => text !== null);
  if (bad) return judged(step, [], bad);
  if (presses.some(({ samples }) => share(samples, CELL_FAULT[step.cell]) > 0))
    return judged(step, [], `The ${step.cell} cell is flagged as silent or saturated.`);
  return judgedAs(step, stopsMeasured(step.cell, presses, scale));
}

/**
 * Judges what a warm bottle does to the zeros.
 * @param warmerK water less room when the bottle was put in, K
 * @throws TypeError for other steps
 */
export function evaluateWarmth(
  step: CheckStep,
  samples: readonly CheckSample[],
  warmerK: number,
  scale: GramsPerCount = UNCALIBRATED,
): StepResult {
  if (step.kind !== 'warmth') throw new TypeError(`Step ${step.id} has no warm bottle.`);
  return measuredOn(step, samples, (good) => warmthMeasured(good, warmerK, scale));
}
