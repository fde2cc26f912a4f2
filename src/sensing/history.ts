/** What the filter knew at every step, kept for the refined pass. Grows in chunks, so that a long wait costs little. */
import { MILK, type MilkFilter, STATES } from './milk-filter.ts';

const TRIANGLE = (STATES * (STATES + 1)) / 2;
/** Filtered x and C, predicted x and C, five coefficients of the prediction. */
export const RECORD = 2 * STATES + 2 * TRIANGLE + 5;
const CHUNK_RECORDS = 2048;

export interface History {
  readonly chunks: Float64Array[];
  length: number;
}

export const createHistory = (): History => ({ chunks: [], length: 0 });

/** Writes a symmetric matrix's upper triangle at `at`. */
function packTriangle(matrix: Float64Array, into: Float64Array, at: number): void {
  let k = at;
  for (let i = 0; i < STATES; i++) for (let j = i; j < STATES; j++) into[k++] = matrix[i * STATES + j]!;
}

/** Reads an upper triangle back into a full symmetric matrix. */
export function unpackTriangle(from: Float64Array, at: number, matrix: Float64Array): void {
  let k = at;
  for (let i = 0; i < STATES; i++) {
    for (let j = i; j < STATES; j++) {
      const v = from[k++]!;
      matrix[i * STATES + j] = v;
      matrix[j * STATES + i] = v;
    }
  }
}

/** Chunk and offset of a record. */
export function recordAt(history: History, index: number): { chunk: Float64Array; at: number } {
  return {
    chunk: history.chunks[Math.floor(index / CHUNK_RECORDS)]!,
    at: (index % CHUNK_RECORDS) * RECORD,
  };
}

export const OFFSET = {
  filteredX: 0,
  filteredC: STATES,
  predictedX: STATES + TRIANGLE,
  predictedC: 2 * STATES + TRIANGLE,
  coefficients: 2 * STATES + 2 * TRIANGLE,
} as const;

/** Opens a record with the prediction just made. */
export function recordPrediction(history: History, filter: MilkFilter): void {
  const slot = history.length % CHUNK_RECORDS;
  if (slot === 0) history.chunks.push(new Float64Array(CHUNK_RECORDS * RECORD));
  const chunk = history.chunks[history.chunks.length - 1]!;
  const at = slot * RECORD;
  chunk.set(filter.x, at + OFFSET.predictedX);
  packTriangle(filter.c, chunk, at + OFFSET.predictedC);
  const k = at + OFFSET.coefficients;
  chunk[k] = filter.suckShare;
  chunk[k + 1] = filter.leakShare;
  chunk[k + 2] = filter.leakKeep;
  chunk[k + 3] = filter.lineKeep;
  chunk[k + 4] = filter.pushKeep;
}

/** Closes the record with what the corrections made of it. */
export function recordFiltered(history: History, filter: MilkFilter): void {
  const chunk = history.chunks[history.chunks.length - 1]!;
  const at = (history.length % CHUNK_RECORDS) * RECORD;
  chunk.set(filter.x, at + OFFSET.filteredX);
  packTriangle(filter.c, chunk, at + OFFSET.filteredC);
  history.length += 1;
}

/** Filtered milk of a record, g. */
export function filteredMilk(history: History, index: number): number {
  const { chunk, at } = recordAt(history, index);
  return chunk[at + OFFSET.filteredX + MILK]!;
}
