import { describe, expect, it } from 'vitest';
import {
  type Sample,
  stepTimeline,
  TIMELINE_START,
  type TimedSample,
  type Timeline,
} from '../../firmware-bridge/wire/index.ts';
import { sampleOf } from '../support/wire.ts';

function run(samples: Sample[]): { timed: TimedSample[]; end: Timeline } {
  let end = TIMELINE_START;
  const timed: TimedSample[] = [];
  for (const sample of samples) {
    const step = stepTimeline(end, sample);
    end = step.timeline;
    if (step.timed) timed.push(step.timed);
  }
  return { timed, end };
}
const at = (sequence: number, timeMicros: number, flags = 0): Sample =>
  sampleOf(sequence, { timeMicros: timeMicros >>> 0, flags });
const times = (timed: TimedSample[]): number[] => timed.map(({ atSec }) => atSec);

it('begins at 0 wherever the device stands, and goes on by the device clock', () => {
  const { timed, end } = run([at(500, 9_000_000), at(501, 9_012_500), at(502, 9_025_100)]);
  expect(times(timed)).toEqual([0, 0.0125, 0.0251]);
  expect(timed.map(({ stepSec }) => stepSec)).toEqual([0, 0.0125, 0.0126]);
  expect(end).toMatchObject({ accepted: 3, duplicates: 0, missing: 0, resets: 0 });
});

it('goes on through the wrap of the microseconds, several times over', () => {
  const stepMicros = 59_000_000;
  const samples = Array.from({ length: 300 }, (_, n) => at(n, n * stepMicros));
  const { timed, end } = run(samples);
  // 300 × 59 s is more than four wraps of 71.6 min; no step is taken for a reset.
  expect(timed.at(-1)!.atSec).toBe((299 * stepMicros) / 1e6);
  expect(end.resets).toBe(0);
});

it('counts samples that are missing, through the wrap of the sequence', () => {
  const { timed, end } = run([at(65_530, 0), at(65_533, 37_500), at(2, 100_000)]);
  expect(timed.map(({ missingBefore }) => missingBefore)).toEqual([0, 2, 4]);
  expect(end.missing).toBe(6);
});

describe('a repeated sequence number', () => {
  it('is dropped and counted, and not accepted', () => {
    const { timed, end } = run([at(7, 0), at(7, 0), at(7, 1000), at(8, 12_500)]);
    expect(times(timed)).toEqual([0, 0.0125]);
    expect(end).toMatchObject({ accepted: 2, duplicates: 2, missing: 0 });
  });

  it('is a duplicate also when the first sample after a reset comes twice', () => {
    const { end } = run([at(900, 5e6), at(0, 1000, 0x80), at(0, 1000, 0x80), at(1, 13_500)]);
    expect(end).toMatchObject({ accepted: 3, duplicates: 1, resets: 1 });
  });

  it('is no duplicate when the chip was reset in between', () => {
    const { timed, end } = run([at(0, 1000, 0x80), at(0, 900, 0x80)]);
    expect(timed[1]).toMatchObject({ atSec: 0.0125, resetBefore: true });
    expect(end.duplicates).toBe(0);
  });
});

describe('a reset of the chip', () => {
  it('is told by flag 7: 12.5 ms pass, nothing is missing', () => {
    const { timed, end } = run([at(40_000, 8e8), at(0, 4000, 0x80), at(1, 16_600)]);
    expect(timed[1]).toMatchObject({ atSec: 0.0125, stepSec: 0.0125, missingBefore: 0, resetBefore: true });
    expect(timed[2]).toMatchObject({ atSec: 0.0251, missingBefore: 0, resetBefore: false });
    expect(end).toMatchObject({ missing: 0, resets: 1 });
  });

  it('is told by a step of more than 60 s, forward or back', () => {
    expect(run([at(1, 0), at(2, 60_000_000)]).end.resets).toBe(0);
    expect(run([at(1, 0), at(2, 60_000_001)]).end.resets).toBe(1);
    expect(run([at(1, 5_000_000), at(2, 4_999_999)]).timed[1]).toMatchObject({
      atSec: 0.0125,
      resetBefore: true,
    });
  });

  it('does not lie before the first sample', () => {
    expect(run([at(0, 4000, 0x80)]).timed[0]).toMatchObject({ atSec: 0, resetBefore: false });
  });
});

it('is pure: the same step twice gives the same', () => {
  const { end } = run([at(1, 0), at(2, 12_500)]);
  const frozen = Object.freeze({ ...end });
  expect(stepTimeline(frozen, at(3, 25_000))).toEqual(stepTimeline(frozen, at(3, 25_000)));
});
