/** The messages of one guide, numbered, each stating which of the sleeve's bytes it has. */
import type { SchedulerLike } from 'rxjs';
import { encodeGuideFrame, type Mark, markMs } from './frames.ts';
import type { Received } from './in-order.ts';

const NOTHING = new Uint8Array(0);

export class GuideVoice {
  /** When the latest message was sent, ms of the scheduler. */
  wordAtMs = Number.NEGATIVE_INFINITY;
  /** When the first one was sent; infinite before it. */
  firstAtMs = Number.POSITIVE_INFINITY;
  #askedAtMs = Number.NEGATIVE_INFINITY;
  /** The byte wanted in the latest message. */
  toldNext = 0;
  #number = 0;
  #outgoing: Uint8Array[] = [];
  readonly #id: string;
  readonly #epoch: number;
  readonly #has: () => { received: Received | null; relay: Mark | null };
  readonly #publish: (frame: Uint8Array) => void;
  readonly #scheduler: SchedulerLike;

  constructor(
    { id, epoch }: { id: string; epoch: number },
    has: () => { received: Received | null; relay: Mark | null },
    publish: (frame: Uint8Array) => void,
    scheduler: SchedulerLike,
  ) {
    this.#id = id;
    this.#epoch = epoch;
    this.#has = has;
    this.#publish = publish;
    this.#scheduler = scheduler;
  }

  say(bytes = NOTHING, isAsking = false): void {
    const { received, relay } = this.#has();
    this.wordAtMs = this.#scheduler.now();
    this.firstAtMs = Math.min(this.firstAtMs, this.wordAtMs);
    this.toldNext = received?.next ?? 0;
    this.#number += 1;
    this.#publish(
      encodeGuideFrame({
        mark: { id: this.#id, ms: markMs(this.wordAtMs) },
        number: this.#number,
        epoch: this.#epoch,
        relay,
        wants: received && { stream: received.stream, next: received.next },
        isAsking,
        bytes,
      }),
    );
  }

  /** Asks for the bytes wanted, but not again before an answer can have come. */
  ask(everyMs: number): void {
    const nowMs = this.#scheduler.now();
    if (nowMs - this.#askedAtMs < everyMs) return;
    this.#askedAtMs = nowMs;
    this.say(NOTHING, true);
  }

  /** Bytes written at once, such as the three colors of a light, are sent as one message. */
  write(bytes: Uint8Array): void {
    // A copy: the caller uses its buffer again.
    this.#outgoing.push(Uint8Array.from(bytes));
    if (this.#outgoing.length > 1) return;
    queueMicrotask(() => {
      const whole = Buffer.concat(this.#outgoing);
      this.#outgoing = [];
      this.say(whole);
    });
  }
}
