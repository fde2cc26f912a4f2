/** Queue of sleeves to take over: a few at a time, so that guided sleeves are not delayed; those in a feed first. */
import type { SchedulerLike } from 'rxjs';

interface Waiting<T> {
  one: T;
  isUrgent: boolean;
  atMs: number;
}

/** Sleeves taken over at the same time; most of the time is spent waiting for the broker. */
const AT_ONCE = 4;

export class WaitingRoom<T extends { key: string }> {
  readonly #take: (one: T) => Promise<void>;
  readonly #scheduler: SchedulerLike;
  readonly #patienceMs: number;
  #waiting: Waiting<T>[] = [];
  #busy = 0;
  #isClosed = false;

  /** @param patienceMs  a sleeve that waited longer has asked another worker */
  constructor(take: (one: T) => Promise<void>, scheduler: SchedulerLike, patienceMs: number) {
    this.#take = take;
    this.#scheduler = scheduler;
    this.#patienceMs = patienceMs;
  }

  get length(): number {
    return this.#waiting.length;
  }

  add(one: T, isUrgent: boolean): void {
    const same = this.#waiting.findIndex((other) => other.one.key === one.key);
    if (same >= 0) this.#waiting.splice(same, 1);
    this.#waiting.push({ one, isUrgent, atMs: this.#scheduler.now() });
    this.#next();
  }

  close(): void {
    this.#isClosed = true;
    this.#waiting = [];
  }

  #next(): void {
    const nowMs = this.#scheduler.now();
    this.#waiting = this.#waiting.filter(({ atMs }) => nowMs - atMs <= this.#patienceMs);
    while (!this.#isClosed && this.#busy < AT_ONCE && this.#waiting.length > 0) {
      const urgent = this.#waiting.findIndex(({ isUrgent }) => isUrgent);
      const [next] = this.#waiting.splice(Math.max(0, urgent), 1);
      this.#busy += 1;
      void this.#take(next!.one).finally(() => {
        this.#busy -= 1;
        this.#next();
      });
    }
  }
}
