/**
 * The record of the filter at every row, for the refined pass: the prediction, each correction, and the estimates of milk and intake.
 * It grows in chunks, so that a long wait uses little memory.
 */
import { INTAKE, MILK, type MilkFilter, type Prediction, STATES } from './milk-filter.ts';

const CHUNK_RECORDS = 512;
/** Numbers a row: five coefficients of the prediction, the count of corrections so far, results of `holdAtLeast` for milk and milk per suck, and both estimates. */
const ROW_NUMBERS = 10;
/** Numbers a row: covariances of milk and of intake with all states. Single precision halves the memory and moves the smoothed milk by less than 0.001 g. */
const ROW_SPREADS = 2 * STATES;
/** Numbers a correction: its variance, and innovation divided by variance. */
const CORRECTION_NUMBERS = 2;
/** Numbers a correction: the measurement's row h, and C·hᵀ before it. */
const CORRECTION_SPREADS = 2 * STATES;

interface Chunk {
  readonly numbers: Float64Array;
  readonly spreads: Float32Array;
}

export interface History {
  readonly rows: Chunk[];
  readonly corrections: Chunk[];
  /** Closed rows, and corrections so far. */
  length: number;
  corrected: number;
}

export const createHistory = (): History => ({ rows: [], corrections: [], length: 0, corrected: 0 });

/** Place of record `index` in its chunk. */
const slotOf = (index: number): number => index % CHUNK_RECORDS;

function chunkFor(chunks: Chunk[], index: number, numbers: number, spreads: number): Chunk {
  const at = Math.floor(index / CHUNK_RECORDS);
  if (at === chunks.length) {
    chunks.push({
      numbers: new Float64Array(CHUNK_RECORDS * numbers),
      spreads: new Float32Array(CHUNK_RECORDS * spreads),
    });
  }
  return chunks[at]!;
}

/** Begins a row with the prediction just made. */
export function recordPrediction(history: History, { prediction }: MilkFilter): void {
  const { numbers } = chunkFor(history.rows, history.length, ROW_NUMBERS, ROW_SPREADS);
  const at = slotOf(history.length) * ROW_NUMBERS;
  numbers[at] = prediction.suckShare;
  numbers[at + 1] = prediction.leakShare;
  numbers[at + 2] = prediction.deviationDecay;
  numbers[at + 3] = prediction.leakDecay;
  numbers[at + 4] = prediction.coupleDecay;
}

/** Records the correction just made. @param h its measurement row */
export function recordCorrection(history: History, filter: MilkFilter, h: Float64Array): void {
  const { corrected } = history;
  const { numbers, spreads } = chunkFor(
    history.corrections,
    corrected,
    CORRECTION_NUMBERS,
    CORRECTION_SPREADS,
  );
  const at = slotOf(corrected) * CORRECTION_NUMBERS;
  numbers[at] = filter.correctionVariance;
  numbers[at + 1] = filter.push;
  const from = slotOf(corrected) * CORRECTION_SPREADS;
  for (let i = 0; i < STATES; i++) {
    spreads[from + i] = h[i]!;
    spreads[from + STATES + i] = filter.gainTimesS[i]!;
  }
  history.corrected += 1;
}

/** Closes the row with the corrected estimates. @param heldMilk result of `holdAtLeast` for milk @param heldPerSuck the same for milk per suck */
export function recordFiltered(
  history: History,
  { x, c }: MilkFilter,
  heldMilk: number,
  heldPerSuck: number,
): void {
  const { numbers, spreads } = history.rows[Math.floor(history.length / CHUNK_RECORDS)]!;
  const at = slotOf(history.length) * ROW_NUMBERS;
  numbers[at + 5] = history.corrected;
  numbers[at + 6] = heldMilk;
  numbers[at + 7] = heldPerSuck;
  numbers[at + 8] = x[MILK]!;
  numbers[at + 9] = x[INTAKE]!;
  const from = slotOf(history.length) * ROW_SPREADS;
  for (let i = 0; i < STATES; i++) {
    spreads[from + i] = c[MILK * STATES + i]!;
    spreads[from + STATES + i] = c[INTAKE * STATES + i]!;
  }
  history.length += 1;
}

/** A row read back; the object is reused. */
export interface HistoryRow {
  readonly prediction: Prediction;
  /** Corrections of this row: index of the first, and one past the last. */
  firstCorrection: number;
  endCorrection: number;
  heldMilk: number;
  heldPerSuck: number;
  milkGrams: number;
  intakeGrams: number;
  /** Covariances of milk, then of intake, with all states. */
  readonly covariances: Float64Array;
}

export const createHistoryRow = (): HistoryRow => ({
  prediction: { suckShare: 0, leakShare: 0, deviationDecay: 1, leakDecay: 1, coupleDecay: 1 },
  firstCorrection: 0,
  endCorrection: 0,
  heldMilk: 0,
  heldPerSuck: 0,
  milkGrams: 0,
  intakeGrams: 0,
  covariances: new Float64Array(2 * STATES),
});

export function readRow({ rows }: History, index: number, into: HistoryRow): void {
  const { numbers, spreads } = rows[Math.floor(index / CHUNK_RECORDS)]!;
  const at = slotOf(index) * ROW_NUMBERS;
  const { prediction, covariances } = into;
  prediction.suckShare = numbers[at]!;
  prediction.leakShare = numbers[at + 1]!;
  prediction.deviationDecay = numbers[at + 2]!;
  prediction.leakDecay = numbers[at + 3]!;
  prediction.coupleDecay = numbers[at + 4]!;
  into.endCorrection = numbers[at + 5]!;
  into.heldMilk = numbers[at + 6]!;
  into.heldPerSuck = numbers[at + 7]!;
  into.milkGrams = numbers[at + 8]!;
  into.intakeGrams = numbers[at + 9]!;
  const from = slotOf(index) * ROW_SPREADS;
  for (let i = 0; i < 2 * STATES; i++) covariances[i] = spreads[from + i]!;
  into.firstCorrection = index === 0 ? 0 : correctionsBefore(rows, index);
}

const correctionsBefore = (rows: readonly Chunk[], index: number): number =>
  rows[Math.floor((index - 1) / CHUNK_RECORDS)]!.numbers[slotOf(index - 1) * ROW_NUMBERS + 5]!;

/** A correction read back; the object is reused. */
export interface HistoryCorrection {
  variance: number;
  push: number;
  readonly h: Float64Array;
  readonly gainTimesS: Float64Array;
}

export const createHistoryCorrection = (): HistoryCorrection => ({
  variance: 1,
  push: 0,
  h: new Float64Array(STATES),
  gainTimesS: new Float64Array(STATES),
});

export function readCorrection({ corrections }: History, index: number, into: HistoryCorrection): void {
  const { numbers, spreads } = corrections[Math.floor(index / CHUNK_RECORDS)]!;
  const at = slotOf(index) * CORRECTION_NUMBERS;
  into.variance = numbers[at]!;
  into.push = numbers[at + 1]!;
  const from = slotOf(index) * CORRECTION_SPREADS;
  for (let i = 0; i < STATES; i++) {
    into.h[i] = spreads[from + i]!;
    into.gainTimesS[i] = spreads[from + STATES + i]!;
  }
}
