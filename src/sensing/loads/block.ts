/** A block of four samples: means of loads and felt acceleration, without single outliers. No allocation per sample. */
import type { Loads } from './loads.ts';

export const BLOCK_SAMPLES = 4;
/** Loads that spread further than this within 50 ms contain a single outlier: the two middle ones are used. */
const OUTLIER_SPREAD_N = 6;
const OUTLIER_SPREAD_NM = 0.8;
const TRANSVERSE_X = 0;
const AXIAL = 1;
const MOMENT = 2;

export interface Block {
  count: number;
  loadCount: number;
  axialCount: number;
  /** Number of samples with gyroscope data. */
  turnCount: number;
  /** [Fx, Fz, M] of each sample. */
  readonly loads: Float64Array;
  readonly sums: Float64Array;
}

export const createBlock = (): Block => ({
  count: 0,
  loadCount: 0,
  axialCount: 0,
  turnCount: 0,
  loads: new Float64Array(3 * BLOCK_SAMPLES),
  sums: new Float64Array(9),
});

export function clearBlock(block: Block): void {
  block.count = 0;
  block.loadCount = 0;
  block.axialCount = 0;
  block.turnCount = 0;
  block.sums.fill(0);
}

/** Adds one sample: loads, felt acceleration, the lagged acceleration that the milk's surface follows, and turning. */
export function addToBlock(block: Block, loads: Loads, slosh: Float64Array): void {
  if (loads.transverseGood) {
    block.loads[TRANSVERSE_X * BLOCK_SAMPLES + block.loadCount] = loads.fxN;
    block.loads[MOMENT * BLOCK_SAMPLES + block.loadCount] = loads.momentNm;
    block.loadCount += 1;
  }
  if (loads.axialGood) {
    block.loads[AXIAL * BLOCK_SAMPLES + block.axialCount] = loads.fzN;
    block.axialCount += 1;
  }
  if (loads.turnGood) block.turnCount += 1;
  const { sums } = block;
  sums[0] = sums[0]! + loads.ax;
  sums[1] = sums[1]! + loads.ay;
  sums[2] = sums[2]! + loads.az;
  for (let i = 0; i < 3; i++) sums[3 + i] = sums[3 + i]! + slosh[i]!;
  sums[6] = sums[6]! + loads.turnX;
  sums[7] = sums[7]! + loads.turnY;
  sums[8] = sums[8]! + loads.turnZ;
  block.count += 1;
}

function robustMean(values: Float64Array, at: number, count: number, spread: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const v = values[at + i]!;
    if (v < low) low = v;
    if (v > high) high = v;
    sum += v;
  }
  return count > 2 && high - low > spread ? (sum - low - high) / (count - 2) : sum / count;
}

/** Mean loads of the block, N and N·m; only called with at least one good sample. */
export const blockFx = (block: Block): number =>
  robustMean(block.loads, TRANSVERSE_X * BLOCK_SAMPLES, block.loadCount, OUTLIER_SPREAD_N);
export const blockFz = (block: Block): number =>
  robustMean(block.loads, AXIAL * BLOCK_SAMPLES, block.axialCount, OUTLIER_SPREAD_N);
export const blockMoment = (block: Block): number =>
  robustMean(block.loads, MOMENT * BLOCK_SAMPLES, block.loadCount, OUTLIER_SPREAD_NM);
