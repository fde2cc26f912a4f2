import { describe, expect, it } from 'vitest';
import {
  type Motion,
  type Sample,
  stepMotion,
  stepTimeline,
  TIMELINE_START,
  type TimedSample,
  type Timeline,
} from '../../firmware-bridge/wire/index.ts';
import { motionOf, sampleOf } from '../support/wire.ts';

function run(items: (Sample | Motion)[]): { timed: TimedSample[]; end: Timeline } {
  let end = TIMELINE_START;
  const timed: TimedSample[] = [];
  for (const item of items) {
    const step = 'cells' in item ? stepTimeline(end, item) : stepMotion(end, item);
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
  // 300 × 59 s is more than four wraps of 71.6 min, and no step is taken for a reset.
  expect(timed.at(-1)!.atSec).toBe((299 * stepMicros) / 1e6);
  expect(end.resets).toBe(0);
});

it('counts samples that are missing, through the wrap of the sequence', () => {
  const { timed, end } = run([at(65_530, 0), at(65_533, 37_500), at(2, 100_000)]);
  expect(timed.map(({ missingBefore }) => missingBefore)).toEqual([0, 2, 4]);
  expect(end.missing).toBe(6);
});

describe('a stretch of bytes that comes twice', () => {
  const stretch = (from: number, count: number, zeroMicros = 0): Sample[] =>
    Array.from({ length: count }, (_, i) => at((from + i) & 0xffff, zeroMicros + (from + i) * 12_500));

  it.each([2, 10, 150])('of %i samples is taken once, and no reset is seen', (count) => {
    const once = run([...stretch(0, 400)]);
    const twice = run([...stretch(0, 200), ...stretch(200 - count, count), ...stretch(200, 200)]);
    expect(twice.timed).toEqual(once.timed);
    expect(twice.end).toMatchObject({ accepted: 400, duplicates: count, missing: 0, resets: 0 });
  });

  it('also over the wrap of number and clock, and with motions', () => {
    const zero = -65_500 * 12_500;
    const withMotions = (samples: Sample[]) => samples.flatMap((one) => [one, motionOf(one.sequence)]);
    const samples = stretch(65_500, 80, zero - 30 * 12_500);
    const { end, timed } = run(
      withMotions([...samples, ...samples.slice(40), ...stretch(65_580, 5, zero - 30 * 12_500)]),
    );
    expect(end).toMatchObject({ accepted: 85, duplicates: 40, missing: 0, resets: 0 });
    expect(
      times(timed).every((sec, i) => i === 0 || Math.abs(sec - times(timed)[i - 1]! - 0.0125) < 1e-9),
    ).toBe(true);
  });

  it('is told from a chip that began anew, whose number or clock fits no time before', () => {
    // After 100 s, with the first samples lost: number and clock are both small, and their differences do not match.
    const { end } = run([...stretch(8000, 10), ...stretch(3, 10)]);
    expect(end).toMatchObject({ accepted: 20, duplicates: 0, resets: 1 });
    const flagged = run([...stretch(0, 10), at(5, 5 * 12_500, 8)]);
    expect(flagged.end.resets).toBe(0);
  });
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

describe('a motion', () => {
  const sample = (sequence: number, flags = 0): Sample => at(sequence, sequence * 12_500, flags);
  const given = (timed: TimedSample[]) =>
    timed.map(({ sequence, gyroscope }) => [sequence, gyroscope?.[1] ?? null]);
  const turn = (sequence: number): Motion => motionOf(sequence, { gyroscope: [0, 100 + sequence, 0] });

  it('joins the sample that it follows; the first only tells that there is a gyroscope', () => {
    const { timed, end } = run([sample(1), turn(1), sample(2), turn(2), sample(3), turn(3)]);
    expect(given(timed)).toEqual([
      [1, null],
      [2, 102],
      [3, 103],
    ]);
    expect(end).toMatchObject({ accepted: 3, missing: 0, motionsWithoutSample: 0 });
  });

  it('never comes from a sleeve without a gyroscope, whose samples are passed on at once', () => {
    let line = TIMELINE_START;
    for (let n = 0; n < 100; n++) {
      const step = stepTimeline(line, sample(n));
      line = step.timeline;
      expect(step.timed).toMatchObject({ sequence: n, gyroscope: null });
    }
    expect(line.waiting).toBeNull();
  });

  it('is waited for until the next sample comes, no longer', () => {
    const before = run([sample(1), turn(1), sample(2)]);
    expect(given(before.timed)).toEqual([[1, null]]);
    // It is counted although it still waits for its motion.
    expect(before.end.accepted).toBe(2);
    expect(stepMotion(before.end, turn(2)).timed).toMatchObject({ sequence: 2, gyroscope: [0, 102, 0] });
    expect(stepTimeline(before.end, sample(3)).timed).toMatchObject({ sequence: 2, gyroscope: null });
  });

  it('that was lost costs its own sample alone', () => {
    const { timed, end } = run([sample(1), turn(1), sample(2), sample(3), turn(3), sample(4), turn(4)]);
    expect(given(timed)).toEqual([
      [1, null],
      [2, null],
      [3, 103],
      [4, 104],
    ]);
    expect(end.motionsWithoutSample).toBe(0);
  });

  it.each([
    ['whose sample was not accepted', [sample(1), turn(1), sample(2), turn(2), turn(3)], [1, 2]],
    ['that comes twice', [sample(1), turn(1), sample(2), turn(2), turn(2)], [1, 2]],
    ['that is late', [sample(1), turn(1), sample(2), sample(3), turn(2), turn(3)], [1, 2, 3]],
    ['before any sample', [turn(1), sample(2)], [2]],
    [
      'of another sample, from a sleeve not known to have a gyroscope',
      [sample(1), turn(7), sample(2)],
      [1, 2],
    ],
  ])('%s is dropped and counted', (_, items, sequences) => {
    const { timed, end } = run(items);
    expect(timed.map(({ sequence }) => sequence)).toEqual(sequences);
    for (const { sequence, gyroscope } of timed) {
      if (gyroscope) expect(gyroscope).toEqual(turn(sequence).gyroscope);
    }
    expect(end.motionsWithoutSample).toBe(1);
  });

  it('joins past a duplicate of its sample, through the wrap of the sequence, and after a reset', () => {
    const { timed, end } = run([
      at(65_534, 0),
      turn(65_534),
      at(65_535, 12_500),
      at(65_535, 12_500),
      turn(65_535),
      at(0, 25_000),
      turn(0),
      at(0, 900, 0x80),
      turn(0),
    ]);
    expect(given(timed)).toEqual([
      [65_534, null],
      [65_535, 65_635],
      [0, 100],
      [0, 100],
    ]);
    expect(end).toMatchObject({ accepted: 4, duplicates: 1, resets: 1, motionsWithoutSample: 0 });
  });

  it('leaves a prefix as it was: what was passed on does not change with what comes after', () => {
    const items = [1, 2, 3, 4, 5, 6].flatMap((n) =>
      n === 3 ? [sample(n)] : n === 5 ? [sample(n), turn(n), turn(n)] : [sample(n), turn(n)],
    );
    const whole = run(items).timed;
    for (let cut = 0; cut <= items.length; cut++) {
      const { timed } = run(items.slice(0, cut));
      expect(timed).toEqual(whole.slice(0, timed.length));
    }
  });

  it('is a pure step', () => {
    const { end } = run([sample(1), turn(1), sample(2)]);
    const frozen = Object.freeze({ ...end, waiting: Object.freeze(end.waiting) });
    expect(stepMotion(frozen, turn(2))).toEqual(stepMotion(frozen, turn(2)));
    expect(stepMotion(frozen, turn(9))).toEqual(stepMotion(frozen, turn(9)));
  });
});
