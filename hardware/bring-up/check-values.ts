/** The numbers that the checklist judges, from samples of the sleeve. Pure. */
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/messages.ts';
import type { TimedSample } from '../../firmware-bridge/wire/timeline.ts';
import { degFromRad } from '../../src/base/units.ts';
import type { CellName } from './checklist-types.ts';

/** What of a sample the checks look at. */

export type CheckSample = Pick<
  TimedSample,
  'atSec' | 'cells' | 'accelerometer' | 'flags' | 'missingBefore' | 'resetBefore'
> &
  Partial<Pick<TimedSample, 'gyroscope'>>;
export const CELL_INDEX: Record<CellName, 0 | 1 | 2> = { axial: 0, front: 1, rear: 2 };
/** Counts of the accelerometer per g (sleeve contract, section 2). */
const COUNTS_PER_G = 8192;
/** Counts of the gyroscope per °/s (sleeve contract, section 2). */
const COUNTS_PER_DPS = 65.5;
/** Turning is compared over stretches so long: the accelerometer also feels the hand's own jerks. */
const TURN_SEC = 0.25;
/** Before and after a press the sleeve rests so long; the push itself is judged over blocks, so that a click is none. */
const REST_SEC = 1;
const PUSH_SEC = 0.25;
export const CELL_FAULT: Record<CellName, number> = {
  axial: SAMPLE_FLAGS.axialCellFault,
  front: SAMPLE_FLAGS.frontCellFault,
  rear: SAMPLE_FLAGS.rearCellFault,
};
const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
/** Standard deviation about the least-squares straight line: slow warming is not noise. */
export function scatterAboutLine(at: readonly number[], values: readonly number[]): number {
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
export function samplesASecond(samples: readonly CheckSample[]): number {
  const lasted = samples[samples.length - 1]!.atSec - samples[0]!.atSec;
  return (samples.length - 1) / lasted;
}
/** [rise of the pressed cell, largest other change in % of it, change left after]. */
export function pressValues(cell: CellName, samples: readonly CheckSample[]): (number | null)[] {
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
export function poseValues(expected: readonly number[], samples: readonly CheckSample[]): number[] {
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
export function turnValues(about: 'y' | 'z', samples: readonly CheckSample[]): (number | null)[] {
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
export function pressesOf(samples: readonly CheckSample[]): number {
  const down = samples.map((s) => (s.flags & SAMPLE_FLAGS.buttonDown) !== 0);
  return down.filter((now, i) => i > 0 && now && !down[i - 1]).length;
}
export const share = (samples: readonly CheckSample[], flags: number): number =>
  samples.filter((s) => (s.flags & flags) !== 0).length;
const CELL_FAULTS = Object.values(CELL_FAULT);
/** Of its samples each cell must be good in so many, and flagged in so many, for clocks to be the cause; own choice. */
const APART_SHARE = 0.05;
export const togetherPercent = (samples: readonly CheckSample[]): number =>
  (100 * samples.filter(({ flags }) => CELL_FAULTS.every((fault) => !(flags & fault))).length) /
  samples.length;
/** Clocks that differ bring each cell to be late in turn; a torn wire always the same one. */
export function runApart(samples: readonly CheckSample[]): boolean {
  const turns = CELL_FAULTS.filter((fault) => {
    const flagged = share(samples, fault) / samples.length;
    return flagged > APART_SHARE && flagged < 1 - APART_SHARE;
  });
  return turns.length >= 2;
}
