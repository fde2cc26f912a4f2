/**
 * A clock moved by the test, for days of virtual time: RxJS's own virtual scheduler keeps every action that ever ran,
 * this one does not.
 */
import { type SchedulerAction, type SchedulerLike, Subscription } from 'rxjs';

export interface PlainClock {
  readonly scheduler: SchedulerLike;
  readonly nowMs: number;
  /** Number of actions still to run. */
  readonly waiting: number;
  /** Advances by `ms`, letting promises run every 50 ms. */
  advance(ms: number): Promise<void>;
  /** Time passes and nothing runs, as on a busy host; due actions run late. */
  stall(ms: number): void;
}

interface Due {
  atMs: number;
  order: number;
  action: Action;
  state: unknown;
}

class Action extends Subscription {
  pending: Due | null = null;
  constructor(
    private readonly clock: { add: (action: Action, delayMs: number, state: unknown) => Due },
    readonly work: (this: SchedulerAction<unknown>, state?: unknown) => void,
  ) {
    super();
  }
  schedule(state?: unknown, delayMs = 0): Subscription {
    if (!this.closed) this.pending = this.clock.add(this, delayMs, state);
    return this;
  }
}

export function createPlainClock(): PlainClock {
  let nowMs = 0;
  let orders = 0;
  /** In order of time, then of scheduling. */
  const due: Due[] = [];
  const add = (action: Action, delayMs: number, state: unknown): Due => {
    const one: Due = { atMs: nowMs + Math.max(0, delayMs), order: ++orders, action, state };
    let place = due.length;
    while (place > 0 && due[place - 1]!.atMs > one.atMs) place--;
    due.splice(place, 0, one);
    return one;
  };
  const scheduler: SchedulerLike = {
    now: () => nowMs,
    schedule(work, delayMs = 0, state) {
      return new Action({ add }, work as Action['work']).schedule(state, delayMs);
    },
  };
  const runUntil = (untilMs: number): void => {
    while (due.length > 0 && due[0]!.atMs <= untilMs) {
      const one = due.shift()!;
      nowMs = Math.max(nowMs, one.atMs);
      if (one.action.closed || one.action.pending !== one) continue;
      one.action.pending = null;
      one.action.work.call(one.action as unknown as SchedulerAction<unknown>, one.state);
      // It was not scheduled again, so it is finished.
      if (one.action.pending === null) one.action.unsubscribe();
    }
    nowMs = untilMs;
  };
  return {
    scheduler,
    get nowMs() {
      return nowMs;
    },
    get waiting() {
      return due.length;
    },
    stall(ms) {
      nowMs += ms;
    },
    async advance(ms) {
      const untilMs = nowMs + ms;
      while (nowMs < untilMs) {
        runUntil(Math.min(untilMs, nowMs + 50));
        await new Promise(setImmediate);
      }
    },
  };
}
