/**
 * The device's clock: takes samples with wrapping microseconds, gives samples with continuous time, each with its motion
 * (sleeve contract, section 2). Pure: state in, state out.
 *
 * A motion comes after its sample. Once a sleeve has sent one, each sample waits for its own (1.3 ms on the line), or for the
 * next sample if none comes; the very first sample does not wait, so its motion is not used. Samples of a sleeve without a gyroscope
 * are passed on at once, and so are those of a caller that never calls `stepMotion`.
 */
import { type Motion, SAMPLE_FLAGS, type Sample } from './messages.ts';

/** A sample in continuous device time. */
export interface TimedSample {
  /** Device time since the first accepted sample, seconds. */
  atSec: number;
  /** Time since the accepted sample before, seconds; 0 for the first. After a reset 0.0125, since the true gap is unknown. */
  stepSec: number;
  sequence: number;
  cells: [number, number, number];
  accelerometer: [number, number, number];
  /** Angular velocity about x, y, z, 1/65.5 °/s; null if no motion came with this sample. */
  gyroscope: [number, number, number] | null;
  flags: number;
  /** Samples lost between the one before and this one, by sequence number; 0 across a reset. */
  missingBefore: number;
  /** The chip was reset between the one before and this one. */
  resetBefore: boolean;
}

export interface Timeline {
  /** Device time of the latest accepted sample since the first, µs. */
  readonly atMicros: number;
  readonly lastSequence: number;
  readonly lastTimeMicros: number;
  /** Samples accepted; repeated ones do not count. */
  readonly accepted: number;
  readonly duplicates: number;
  readonly missing: number;
  readonly resets: number;
  /** The sleeve has sent a motion, so each sample waits for its own. */
  readonly hasGyroscope: boolean;
  /** The latest sample while it waits for its motion; it counts as accepted already. */
  readonly waiting: TimedSample | null;
  /** Motions without a waiting sample: it was not accepted, has its motion already, or was passed on without. */
  readonly motionsWithoutSample: number;
}

/** Time between samples; also used after a reset, where the true time is unknown. */
const NOMINAL_STEP_MICROS = 12_500;
/** A longer step means that the chip's clock was restarted. */
const LONGEST_STEP_MICROS = 60_000_000;
/** A radio link may deliver bytes twice: samples this far behind the latest, by sequence and by clock alike, are repetitions. */
const MOST_BEHIND_SAMPLES = 160;

export const TIMELINE_START: Timeline = {
  atMicros: 0,
  lastSequence: -1,
  lastTimeMicros: 0,
  accepted: 0,
  duplicates: 0,
  missing: 0,
  resets: 0,
  hasGyroscope: false,
  waiting: null,
  motionsWithoutSample: 0,
};

/** Result of one step: `timed` is the sample to pass on, null if there is none yet. */
export interface TimelineStep {
  timeline: Timeline;
  timed: TimedSample | null;
}

/**
 * Accepts one sample, and passes on the one that was waiting, or this one. A repeated sequence number is a
 * duplicate, unless the sample also reports a reset: a chip reset after a single sample starts again at the same number.
 */
export function stepTimeline(line: Timeline, sample: Sample): TimelineStep {
  const first = line.accepted === 0;
  const deltaMicros = (sample.timeMicros - line.lastTimeMicros) >>> 0;
  const repeated = !first && sample.sequence === line.lastSequence;
  const sameSample = repeated && deltaMicros === 0;
  const reset =
    !first &&
    !sameSample &&
    ((sample.flags & SAMPLE_FLAGS.firstAfterReset) !== 0 || deltaMicros > LONGEST_STEP_MICROS);
  if ((repeated && !reset) || (!first && isHeardBefore(line, sample))) {
    const { hasGyroscope, waiting, motionsWithoutSample } = line;
    const timeline = lineWith(line, line.duplicates + 1, hasGyroscope, waiting, motionsWithoutSample);
    return { timeline, timed: null };
  }
  const stepMicros = first ? 0 : reset ? NOMINAL_STEP_MICROS : deltaMicros;
  const missingBefore = first || reset ? 0 : (sample.sequence - line.lastSequence - 1) & 0xffff;
  const atMicros = line.atMicros + stepMicros;
  const timed: TimedSample = {
    atSec: atMicros / 1e6,
    stepSec: stepMicros / 1e6,
    sequence: sample.sequence,
    cells: sample.cells,
    accelerometer: sample.accelerometer,
    gyroscope: null,
    flags: sample.flags,
    missingBefore,
    resetBefore: reset,
  };
  return {
    timeline: {
      atMicros,
      lastSequence: sample.sequence,
      lastTimeMicros: sample.timeMicros,
      accepted: line.accepted + 1,
      duplicates: line.duplicates,
      missing: line.missing + missingBefore,
      resets: reset ? line.resets + 1 : line.resets,
      hasGyroscope: line.hasGyroscope,
      waiting: line.hasGyroscope ? timed : null,
      motionsWithoutSample: line.motionsWithoutSample,
    },
    timed: line.hasGyroscope ? line.waiting : timed,
  };
}

/** Sequence and clock are behind the latest by the same time, so the chip was not restarted. Clocks of chips may be off by some percent. */
function isHeardBefore({ lastSequence, lastTimeMicros }: Timeline, sample: Sample): boolean {
  const behind = (lastSequence - sample.sequence) & 0xffff;
  if (behind === 0 || behind > MOST_BEHIND_SAMPLES) return false;
  if ((sample.flags & SAMPLE_FLAGS.firstAfterReset) !== 0) return false;
  const behindMicros = (lastTimeMicros - sample.timeMicros) >>> 0;
  return Math.abs(behindMicros - behind * NOMINAL_STEP_MICROS) <= 0.2 * behind * NOMINAL_STEP_MICROS;
}

/** Joins a motion with the sample that waits for it, and passes that on. Any other motion is dropped and counted. */
export function stepMotion(line: Timeline, { sequence, gyroscope }: Motion): TimelineStep {
  const { duplicates, hasGyroscope, waiting, motionsWithoutSample } = line;
  if (waiting !== null && waiting.sequence === sequence) {
    return {
      timeline: lineWith(line, duplicates, true, null, motionsWithoutSample),
      timed: {
        atSec: waiting.atSec,
        stepSec: waiting.stepSec,
        sequence,
        cells: waiting.cells,
        accelerometer: waiting.accelerometer,
        gyroscope,
        flags: waiting.flags,
        missingBefore: waiting.missingBefore,
        resetBefore: waiting.resetBefore,
      },
    };
  }
  // The first sample was passed on before a gyroscope was known: its motion only shows that there is one.
  if (!hasGyroscope && sequence === line.lastSequence) {
    return { timeline: lineWith(line, duplicates, true, null, motionsWithoutSample), timed: null };
  }
  const timeline = lineWith(line, duplicates, hasGyroscope, waiting, motionsWithoutSample + 1);
  return { timeline, timed: null };
}

/** The same state with these changes; written out for speed, since it runs with each motion. */
const lineWith = (
  line: Timeline,
  duplicates: number,
  hasGyroscope: boolean,
  waiting: TimedSample | null,
  motionsWithoutSample: number,
): Timeline => ({
  atMicros: line.atMicros,
  lastSequence: line.lastSequence,
  lastTimeMicros: line.lastTimeMicros,
  accepted: line.accepted,
  duplicates,
  missing: line.missing,
  resets: line.resets,
  hasGyroscope,
  waiting,
  motionsWithoutSample,
});
