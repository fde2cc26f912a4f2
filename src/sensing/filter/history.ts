/** What the filter knew at every row, kept for the refined pass. Grows in chunks, so that a long wait costs little. */
import { type MilkFilter, STATES } from './milk-filter.ts';

const TRIANGLE = (STATES * (STATES + 1)) / 2;
/** Filtered x, predicted x, five coefficients of the prediction. */
const NUMBERS = 2 * STATES + 5;
/** Filtered C, predicted C: in single precision, which halves the memory and moves the smoothed milk by less than 0.001 g. */
const SPREADS = 2 * TRIANGLE;
const CHUNK_RECORDS = 512;

interface Chunk {
  readonly numbers: Float64Array;
  readonly spreads: Float32Array;
}

export interface History {
  readonly chunks: Chunk[];
  length: number;
}

export const createHistory = (): History => ({ chunks: [], length: 0 });

/** Writes a symmetric matrix's upper triangle at `at`. */
function packTriangle(matrix: Float64Array, into: Float32Array, at: number): void {
  let k = at;
  for (let i = 0; i < STATES; i++) for (let j = i; j < STATES; j++) into[k++] = matrix[i * STATES + j]!;
}

/** Reads an upper triangle back into a full symmetric matrix. */
export function unpackTriangle(from: Float32Array, at: number, matrix: Float64Array): void {
  let k = at;
  for (let i = 0; i < STATES; i++) {
    for (let j = i; j < STATES; j++) {
      const v = from[k++]!;
      matrix[i * STATES + j] = v;
      matrix[j * STATES + i] = v;
    }
  }
}

export interface Place extends Chunk {
  /** Where the record begins in each of them. */
  readonly at: number;
  readonly spreadsAt: number;
}

export function recordAt(history: History, index: number): Place {
  const slot = index % CHUNK_RECORDS;
  const { numbers, spreads } = history.chunks[Math.floor(index / CHUNK_RECORDS)]!;
  return { numbers, spreads, at: slot * NUMBERS, spreadsAt: slot * SPREADS };
}

export const OFFSET = {
  filteredX: 0,
  predictedX: STATES,
  coefficients: 2 * STATES,
  filteredC: 0,
  predictedC: TRIANGLE,
} as const;

/** Opens a record with the prediction just made. */
export function recordPrediction(history: History, filter: MilkFilter): void {
  if (history.length % CHUNK_RECORDS === 0) {
    history.chunks.push({
      numbers: new Float64Array(CHUNK_RECORDS * NUMBERS),
      spreads: new Float32Array(CHUNK_RECORDS * SPREADS),
    });
  }
  const { numbers, spreads, at, spreadsAt } = recordAt(history, history.length);
  numbers.set(filter.x, at + OFFSET.predictedX);
  packTriangle(filter.c, spreads, spreadsAt + OFFSET.predictedC);
  const k = at + OFFSET.coefficients;
  const { prediction } = filter;
  numbers[k] = prediction.suckShare;
  numbers[k + 1] = prediction.leakShare;
  numbers[k + 2] = prediction.deviationKeep;
  numbers[k + 3] = prediction.leakKeep;
  numbers[k + 4] = prediction.coupleKeep;
}

/** Closes the record with what the corrections made of it. */
export function recordFiltered(history: History, filter: MilkFilter): void {
  const { numbers, spreads, at, spreadsAt } = recordAt(history, history.length);
  numbers.set(filter.x, at + OFFSET.filteredX);
  packTriangle(filter.c, spreads, spreadsAt + OFFSET.filteredC);
  history.length += 1;
}
