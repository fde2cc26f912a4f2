/**
 * The device's clock, in one place: samples with wrapping microseconds in, samples on a growing time out
 * (sleeve contract, section 2). Pure: state in, state out.
 */
import { SAMPLE_FLAGS, type Sample } from './messages.ts';

/** A sample on the growing device time. */
export interface TimedSample {
  /** Device time since the first accepted sample, seconds. */
  atSec: number;
  /** Time since the accepted sample before, seconds; 0 for the first. Across a reset 0.0125, the true gap being unknown. */
  stepSec: number;
  sequence: number;
  cells: [number, number, number];
  accelerometer: [number, number, number];
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
  /** Samples put on the time line; repeated ones are not in it. */
  readonly accepted: number;
  readonly duplicates: number;
  readonly missing: number;
  readonly resets: number;
}

/** Time put in for a reset, whose true length is unknown: one nominal sample. */
const RESET_STEP_MICROS = 12_500;
/** A longer step than this means that the chip's clock began anew. */
const LONGEST_STEP_MICROS = 60_000_000;

export const TIMELINE_START: Timeline = {
  atMicros: 0,
  lastSequence: -1,
  lastTimeMicros: 0,
  accepted: 0,
  duplicates: 0,
  missing: 0,
  resets: 0,
};

/**
 * Puts one sample on the time line. A repeated sequence number is a duplicate (`timed` is null), unless the sample
 * also tells of a reset: a chip reset after a single sample starts again at the same number.
 */
export function stepTimeline(
  line: Timeline,
  sample: Sample,
): { timeline: Timeline; timed: TimedSample | null } {
  const first = line.accepted === 0;
  const deltaMicros = (sample.timeMicros - line.lastTimeMicros) >>> 0;
  const repeated = !first && sample.sequence === line.lastSequence;
  const sameSample = repeated && deltaMicros === 0;
  const reset =
    !first &&
    !sameSample &&
    ((sample.flags & SAMPLE_FLAGS.firstAfterReset) !== 0 || deltaMicros > LONGEST_STEP_MICROS);
  if (repeated && !reset) {
    return {
      timeline: {
        atMicros: line.atMicros,
        lastSequence: line.lastSequence,
        lastTimeMicros: line.lastTimeMicros,
        accepted: line.accepted,
        duplicates: line.duplicates + 1,
        missing: line.missing,
        resets: line.resets,
      },
      timed: null,
    };
  }
  const stepMicros = first ? 0 : reset ? RESET_STEP_MICROS : deltaMicros;
  const missingBefore = first || reset ? 0 : (sample.sequence - line.lastSequence - 1) & 0xffff;
  const atMicros = line.atMicros + stepMicros;
  return {
    timeline: {
      atMicros,
      lastSequence: sample.sequence,
      lastTimeMicros: sample.timeMicros,
      accepted: line.accepted + 1,
      duplicates: line.duplicates,
      missing: line.missing + missingBefore,
      resets: reset ? line.resets + 1 : line.resets,
    },
    timed: {
      atSec: atMicros / 1e6,
      stepSec: stepMicros / 1e6,
      sequence: sample.sequence,
      cells: sample.cells,
      accelerometer: sample.accelerometer,
      flags: sample.flags,
      missingBefore,
      resetBefore: reset,
    },
  };
}
