/** Judges the steps of the bring-up checklist from samples of the sleeve. Pure: samples in, verdict out. */
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { gramsPerCount } from '../budgets/resolution.ts';
import {
  CELL_FAULT,
  CELL_INDEX,
  type CheckSample,
  poseValues,
  pressesOf,
  pressValues,
  runApart,
  samplesASecond,
  scatterAboutLine,
  share,
  togetherPercent,
  turnValues,
} from './check-values.ts';
import type { CheckStep, Limit } from './checklist.ts';
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
/** Of the time asked for, so much must be there, and so many samples. */
const LEAST_SHARE = 0.9;
const LEAST_SAMPLES = 20;

const FAULTS =
  SAMPLE_FLAGS.axialCellFault |
  SAMPLE_FLAGS.frontCellFault |
  SAMPLE_FLAGS.rearCellFault |
  SAMPLE_FLAGS.accelerometerFault;

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
const APART =
  'The converters run on clocks of their own: which of the cells is flagged changes all the time, though all of them give readings.';

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
