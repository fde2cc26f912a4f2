/** Sends a sleeve's bytes to the broker: stored first, then sent in order, a few messages at a time, as fast as the guide takes them. */
import type { ByteLog } from './byte-log.ts';
import { encodeSleeveFrame, type Mark, markMs, type SleeveFrame } from './frames.ts';

/** Most messages not yet confirmed by the broker. */
const WINDOW = 8;
const MOST_FRAME_BYTES = 16 * 1024;
/** Most bytes that the guide has not taken yet; more would fill the broker's queue, which then discards messages. */
const MOST_AHEAD_BYTES = 256 * 1024;
/** Number of reading times remembered for the latest bytes; older bytes count as old. */
const MOST_MARKS = 200;

export type Send = (frame: Uint8Array, done: () => void) => void;

export interface UplinkSurroundings {
  /** Monotonic time, ms. */
  nowMs: number;
  guide: Mark | null;
  isThere: boolean;
}

export class Uplink {
  /** All bytes before it were sent. */
  #position: number;
  /** Positions at which the unconfirmed messages begin. */
  #inFlight: number[] = [];
  #marks: { end: number; atMs: number }[] = [];
  #send: Send | null = null;
  #sentAtMs = Number.NEGATIVE_INFINITY;
  /** The byte that the guide wants next; null if nobody guides. */
  #wanted: number | null = null;
  readonly #log: ByteLog;
  readonly #run: string;
  readonly #around: () => UplinkSurroundings;

  constructor(log: ByteLog, run: string, around: () => UplinkSurroundings) {
    this.#log = log;
    this.#run = run;
    this.#around = around;
    this.#position = log.end;
  }

  /** @param bytes  just read */
  take(bytes: Uint8Array): void {
    this.#log.append(bytes);
    this.#marks.push({ end: this.#log.end, atMs: this.#around().nowMs });
    if (this.#marks.length > MOST_MARKS) this.#marks.shift();
    this.#pump();
  }

  begin(send: Send): void {
    this.#send = send;
    this.#pump();
  }

  /** The connection is lost: unconfirmed bytes are sent again later. */
  halt(): void {
    this.#send = null;
    this.#position = Math.min(this.#position, ...this.#inFlight);
    this.#inFlight = [];
  }

  /** Skips bytes that were stored while nobody wanted them. */
  skipToNow(): void {
    this.#position = this.#log.end;
  }

  /** @param wants  from the guide's frame */
  hearWants(wants: { stream: string; next: number } | null, isAsking: boolean): void {
    const isOurs = wants?.stream === this.#log.stream;
    // A position beyond the end of the log means that a power cut took bytes from the log.
    this.#wanted = isOurs ? Math.min(wants.next, this.#log.end) : null;
    if (isAsking) this.#position = this.#wanted ?? this.#log.end;
    this.#pump();
  }

  guideIsGone(): void {
    this.#wanted = null;
  }

  #pump(): void {
    while (this.#send && this.#inFlight.length < WINDOW && !this.#isAhead) {
      const chunk = this.#log.read(this.#position, MOST_FRAME_BYTES);
      if (chunk === null) return;
      const from = this.#position;
      this.#position = chunk.offset + chunk.bytes.length;
      this.#sendFrame({ previous: from, ...chunk });
    }
  }

  /** Sends an empty message if nothing else was sent for this time. */
  beat(everyMs: number): void {
    if (this.#around().nowMs - this.#sentAtMs < everyMs || this.#inFlight.length >= WINDOW) return;
    const position = this.#position;
    this.#sendFrame({ previous: position, offset: position, bytes: new Uint8Array(0) });
  }

  get #isAhead(): boolean {
    return this.#wanted !== null && this.#position - this.#wanted > MOST_AHEAD_BYTES;
  }

  #sendFrame(part: Pick<SleeveFrame, 'previous' | 'offset' | 'bytes'>): void {
    const send = this.#send;
    if (!send) return;
    const { nowMs, guide, isThere } = this.#around();
    const readAtMs = this.#readAtMs(part, nowMs);
    const frame = encodeSleeveFrame({
      ...part,
      stream: this.#log.stream,
      mark: { id: this.#run, ms: markMs(readAtMs ?? 0) },
      ageMs: readAtMs === null ? null : nowMs - readAtMs,
      guide,
      isThere,
    });
    this.#sentAtMs = nowMs;
    this.#inFlight.push(part.previous);
    send(frame, () => {
      // A late confirmation from a closed connection.
      if (send !== this.#send) return;
      this.#inFlight.splice(this.#inFlight.indexOf(part.previous), 1);
      this.#pump();
    });
  }

  /** @returns when the last of these bytes was read; now if there are none; null if it was long ago */
  #readAtMs({ offset, bytes }: Pick<SleeveFrame, 'offset' | 'bytes'>, nowMs: number): number | null {
    const end = offset + bytes.length;
    if (end >= this.#log.end && bytes.length === 0) return nowMs;
    const [first] = this.#marks;
    if (!first || end < first.end) return null;
    const before = this.#marks.findLastIndex((mark) => mark.end < end);
    return this.#marks[before + 1]?.atMs ?? null;
  }
}
