/** Where in a sleeve's stream the bytes of the last minutes stand: a relay's log may have left some out. Pure. */

export interface StreamPlace {
  stream: string;
  next: number;
}

interface Run {
  stream: string;
  /** Position of its first byte in the stream, and how many bytes had come before it. */
  at: number;
  before: number;
  length: number;
}

/** Runs of bytes without a gap; more than so many are of no use to a pre-roll. */
const MOST_RUNS = 64;

export class StreamPlaces {
  #runs: Run[] = [];
  #total = 0;

  /** Bytes that have come. */
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

  /** @returns the place of the byte that so many had come before; null where that is not known any more */
  placeOf(before: number): StreamPlace | null {
    const run = this.#runs.findLast((one) => one.before <= before);
    return run && before <= run.before + run.length
      ? { stream: run.stream, next: run.at + before - run.before }
      : null;
  }
}
