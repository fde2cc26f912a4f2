/** From counts to loads and felt acceleration (sleeve contract, sections 2 and 4). Pure; no allocation per sample. */
import type { Calibration } from './calibration.ts';

/** The part of a sample that sensing needs. */
export interface SensorSample {
  /** Device time since the first accepted sample, seconds. */
  readonly atSec: number;
  /** Axial, front, rear, counts. */
  readonly cells: readonly [number, number, number];
  /** x, y, z, 1/8192 g. */
  readonly accelerometer: readonly [number, number, number];
  /** Angular velocity about x, y, z, 1/65.5 °/s; null or absent where the sleeve has no gyroscope. */
  readonly gyroscope?: readonly [number, number, number] | null;
  readonly flags: number;
  /** Samples lost before this one. */
  readonly missingBefore: number;
  /** The chip was reset before this one; the true gap is unknown. */
  readonly resetBefore: boolean;
}

const ACCELEROMETER_COUNTS_PER_G = 8192;
const GYROSCOPE_COUNTS_PER_DPS = 65.5;
const RAD_PER_DEG = Math.PI / 180;

/** Flag bits of a SAMPLE that sensing uses (sleeve contract, section 2). */
export const FLAG = { axial: 1, front: 2, rear: 4, accelerometer: 8, button: 32 } as const;

/** Loads and felt acceleration of one sample, or the mean of a block. */
export interface Loads {
  /** Device time, and time since the sample before, seconds; set by the caller. */
  atSec: number;
  stepSec: number;
  /** Force of the shell on the bottle, N, and its pitch moment about the base, N·m. */
  fxN: number;
  fzN: number;
  momentNm: number;
  /** Felt acceleration in the bottle's axes, g. */
  ax: number;
  ay: number;
  az: number;
  /** Angular velocity about the bottle's axes, rad/s; 0 where unknown. */
  turnX: number;
  turnY: number;
  turnZ: number;
  /** Which of them may be used: both transverse cells, the axial cell, the accelerometer. */
  transverseGood: boolean;
  axialGood: boolean;
  accelerometerGood: boolean;
  turnGood: boolean;
}

export interface LoadConverter {
  readonly calibration: Calibration;
  /** Last good counts of each cell: a flagged cell affects the others by crosstalk of a hundredth only, so its last value is good enough. */
  readonly heldCounts: Float64Array;
  readonly heldAcceleration: Float64Array;
  /** Number of equal readings in a row, by cell. */
  readonly sameFor: Int32Array;
  readonly result: Loads;
}

export function createLoadConverter(calibration: Calibration): LoadConverter {
  return {
    calibration,
    heldCounts: Float64Array.from(calibration.zeroCounts),
    heldAcceleration: new Float64Array([0, 0, 1]),
    sameFor: new Int32Array(3),
    result: {
      fxN: 0,
      fzN: 0,
      momentNm: 0,
      ax: 0,
      ay: 0,
      az: 1,
      turnX: 0,
      turnY: 0,
      turnZ: 0,
      transverseGood: false,
      axialGood: false,
      accelerometerGood: false,
      turnGood: false,
      atSec: 0,
      stepSec: 0,
    },
  };
}

/** The last digits of a working converter always vary: after this many equal counts the cell is stuck, even without a flag. */
const STUCK_SAMPLES = 20;

/** Flags of cells whose reading does not change while another cell's does. Call before `heldCounts` is updated. */
function stuckCells({ heldCounts, sameFor }: LoadConverter, cells: SensorSample['cells']): number {
  let moving = false;
  for (let i = 0; i < 3; i++) {
    sameFor[i] = cells[i] === heldCounts[i] ? sameFor[i]! + 1 : 0;
    moving ||= sameFor[i] === 0;
  }
  if (!moving) return 0;
  let stuck = 0;
  for (let i = 0; i < 3; i++) if (sameFor[i]! >= STUCK_SAMPLES) stuck |= FLAG.axial << i;
  return stuck;
}

/** Converts one sample; the result is the converter's own object, overwritten by the next call. */
export function convertLoads(converter: LoadConverter, sample: SensorSample): Loads {
  const { calibration, heldCounts, heldAcceleration, result } = converter;
  const { zeroCounts, loadPerCount, accelerometer } = calibration;
  const { cells } = sample;
  const flags = sample.flags | stuckCells(converter, cells);
  if ((flags & FLAG.axial) === 0) heldCounts[0] = cells[0];
  if ((flags & FLAG.front) === 0) heldCounts[1] = cells[1];
  if ((flags & FLAG.rear) === 0) heldCounts[2] = cells[2];
  const c0 = heldCounts[0]! - zeroCounts[0];
  const c1 = heldCounts[1]! - zeroCounts[1];
  const c2 = heldCounts[2]! - zeroCounts[2];
  result.fxN = loadPerCount[0][0] * c0 + loadPerCount[0][1] * c1 + loadPerCount[0][2] * c2;
  result.fzN = loadPerCount[1][0] * c0 + loadPerCount[1][1] * c1 + loadPerCount[1][2] * c2;
  result.momentNm = loadPerCount[2][0] * c0 + loadPerCount[2][1] * c1 + loadPerCount[2][2] * c2;
  result.axialGood = (flags & FLAG.axial) === 0;
  result.transverseGood = (flags & (FLAG.front | FLAG.rear)) === 0;
  result.accelerometerGood = (flags & FLAG.accelerometer) === 0;
  if (result.accelerometerGood) {
    for (let i = 0; i < 3; i++) {
      heldAcceleration[i] =
        (sample.accelerometer[i]! / ACCELEROMETER_COUNTS_PER_G - accelerometer.biasG[i]!) /
        accelerometer.scale[i]!;
    }
  }
  const x = heldAcceleration[0]!;
  const y = heldAcceleration[1]!;
  const z = heldAcceleration[2]!;
  const a = accelerometer.alignment;
  result.ax = a ? a[0][0] * x + a[0][1] * y + a[0][2] * z : x;
  result.ay = a ? a[1][0] * x + a[1][1] * y + a[1][2] * z : y;
  result.az = a ? a[2][0] * x + a[2][1] * y + a[2][2] * z : z;
  convertTurn(calibration, sample.gyroscope, result);
  return result;
}

function convertTurn(
  { gyroscope: calibrated }: Calibration,
  counts: SensorSample['gyroscope'],
  result: Loads,
): void {
  result.turnGood = counts != null && calibrated !== undefined;
  if (counts == null || calibrated === undefined) {
    result.turnX = 0;
    result.turnY = 0;
    result.turnZ = 0;
    return;
  }
  const { biasDps, scale } = calibrated;
  result.turnX = ((counts[0] / GYROSCOPE_COUNTS_PER_DPS - biasDps[0]) / scale[0]) * RAD_PER_DEG;
  result.turnY = ((counts[1] / GYROSCOPE_COUNTS_PER_DPS - biasDps[1]) / scale[1]) * RAD_PER_DEG;
  result.turnZ = ((counts[2] / GYROSCOPE_COUNTS_PER_DPS - biasDps[2]) / scale[2]) * RAD_PER_DEG;
}
