/** Compares an estimate with known truth. Used by the truth tests, the mutation check and the bench. */
import type { SensedMoment } from '../../src/sensing/index.ts';

/** Truth as stored with the capture fixtures and by the simulation: columns at 4 Hz. */
export interface Truth {
  atSec: number[];
  milkMl: number[];
  onMouth: (number | boolean)[];
  intakeSoFarMl: number[];
  flow10MlPerMin: number[];
  flow10CentredMlPerMin: number[];
  suckTimes: number[];
  events: { atSec: number; kind: string }[];
}

/** Linear between the rows, constant beyond both ends. */
export function truthAt(truth: Truth, column: number[], atSec: number): number {
  const { atSec: times } = truth;
  let low = 0;
  let high = times.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (times[mid]! <= atSec) low = mid;
    else high = mid;
  }
  const span = times[high]! - times[low]!;
  const part = span > 0 ? Math.min(1, Math.max(0, (atSec - times[low]!) / span)) : 0;
  return column[low]! + part * (column[high]! - column[low]!);
}

export interface Judged {
  /** Live flow from the first latch to the end, mL/min rms, and the error of the best constant. */
  flowRmsMlPerMin: number;
  bestConstantRmsMlPerMin: number;
  milkRmsMl: number;
  /** Largest error of the running intake 2 s after the teat went out, mL. */
  intakeWorstMl: number;
  /** Share of moments at which teat in or out is right. */
  teatRight: number;
  /** Delays from each true latch to the first moment that reports it, seconds. */
  latchDelaySec: number[];
  suckCount: number;
}

const rms = (sum: number, count: number): number => Math.sqrt(sum / Math.max(1, count));

/** Time of the feed: from the first latch to the last time the teat goes out, or the end of the truth. */
export function feedSpan(truth: Truth): { firstSec: number; lastSec: number } {
  const first = truth.events.find((event) => event.kind === 'latch')?.atSec ?? 0;
  const last = truth.events.findLast((event) => event.kind === 'end')?.atSec ?? truth.atSec.at(-1)!;
  return { firstSec: first, lastSec: last };
}

/** rms error of the best constant over the rows of `atSec` within the feed. */
export function bestConstantRms(truth: Truth, column: number[]): number {
  const { firstSec, lastSec } = feedSpan(truth);
  const values = column.filter((_, i) => truth.atSec[i]! >= firstSec && truth.atSec[i]! <= lastSec);
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return rms(
    values.reduce((sum, v) => sum + (v - mean) ** 2, 0),
    values.length,
  );
}

export function judge(moments: readonly SensedMoment[], truth: Truth): Judged {
  const { firstSec, lastSec } = feedSpan(truth);
  const onMouth = truth.onMouth.map(Number);
  let flowSum = 0;
  let milkSum = 0;
  let count = 0;
  let right = 0;
  for (const moment of moments) {
    if (truthAt(truth, onMouth, moment.atSec) > 0.5 === moment.teatInMouth) right += 1;
    if (moment.atSec < firstSec || moment.atSec > lastSec) continue;
    count += 1;
    // An unknown number counts as zero, so that leaving numbers out does not improve the score.
    flowSum += ((moment.flowMlPerMin ?? 0) - truthAt(truth, truth.flow10MlPerMin, moment.atSec)) ** 2;
    milkSum += ((moment.milkMl ?? 0) - truthAt(truth, truth.milkMl, moment.atSec)) ** 2;
  }
  const latchDelaySec = truth.events
    .filter((event) => event.kind === 'latch')
    .map(
      (event) => (moments.find((m) => m.atSec >= event.atSec && m.teatInMouth)?.atSec ?? 1e9) - event.atSec,
    );
  let intakeWorstMl = 0;
  const outs = truth.events.filter((event) => event.kind !== 'latch').map((event) => event.atSec + 2);
  for (const at of [...outs, lastSec]) {
    const moment = moments.findLast((m) => m.atSec <= at);
    if (!moment) continue;
    const error = moment.intakeMl - truthAt(truth, truth.intakeSoFarMl, moment.atSec);
    intakeWorstMl = Math.max(intakeWorstMl, Math.abs(error));
  }
  return {
    flowRmsMlPerMin: rms(flowSum, count),
    bestConstantRmsMlPerMin: bestConstantRms(truth, truth.flow10MlPerMin),
    milkRmsMl: rms(milkSum, count),
    intakeWorstMl,
    teatRight: right / Math.max(1, moments.length),
    latchDelaySec,
    suckCount: moments.at(-1)?.suckCount ?? 0,
  };
}
