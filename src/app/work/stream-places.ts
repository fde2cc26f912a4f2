/** Positions of the last minutes' bytes in a sleeve's stream, since a relay's log may have gaps. Pure. */

export interface StreamPlace {
  stream: string;
  next: number;
}

interface Run {
  stream: string;
  /** Position of its first byte in the stream, and number of bytes received before it. */
  at: number;
  before: number;
  length: number;
}

/** Most runs of bytes without a gap; more are not needed for the pre-roll. */
const MOST_RUNS = 64;

export class StreamPlaces {
  #runs: Run[] = [];
  #total = 0;

  /** Number of bytes received. */
  get total(): number {
    return this.#total;
  }

  /** @param end  the place after these bytes */
  add(end: StreamPlace, length: number): void {
    const at = end.next - length;
    const last = this.#runs.at(-1);
    if (last && last.stream === end.stream && last.at + last.length === at) last.length += length;
    else this.#runs.push({ stream: end.stream, at, before: this.#total, length });
    this.#total += length;
    if (this.#runs.length > MOST_RUNS) this.#runs.shift();
  }

  /** @returns the place of the byte number `before`; null if it is no longer known */
  placeOf(before: number): StreamPlace | null {
    const run = this.#runs.findLast((one) => one.before <= before);
    return run && before <= run.before + run.length
      ? { stream: run.stream, next: run.at + before - run.before }
      : null;
  }
}
