/** A sleeve that exists only as a model, in real time or faster. */
import { ReplaySubject, type SchedulerLike, Subject, type Subscription } from 'rxjs';
import type { LinkState, SleeveLink } from './link.ts';
import { monotonic } from './monotonic.ts';

/** Interface of a simulated sleeve; it has its own device time and uses no clock. */
export interface SleeveModel {
  /**
   * Advances device time to `untilSec` (seconds since the sleeve was switched on, never less than before).
   * @returns the bytes that the sleeve sends in that time
   */
  advance(untilSec: number): Uint8Array;
  /** Bytes from the host, at the device time reached. */
  receive(bytes: Uint8Array): void;
  /** True when nothing more will happen; the link then ends. Absent: it never ends. */
  readonly ended?: boolean;
}

export interface SimulatedLinkOptions {
  /** For people. */
  label?: string;
  /** Device seconds in a second of the clock. Default 1. */
  speed?: number;
  /** Device time in one chunk of bytes, seconds. Default 0.025. */
  chunkSec?: number;
}

/** A link that can be unplugged and plugged in again, like a cable. */
export interface SimulatedLink extends SleeveLink {
  /** From now on bytes are lost in both directions, while the sleeve runs on. */
  unplug(): void;
  replug(): void;
}

/** If the clock's ticks come late, at most this much time is made up at once, milliseconds. */
const MAX_CATCH_UP_MS = 1000;

export function createSimulatedLink(
  model: SleeveModel,
  options: SimulatedLinkOptions = {},
  scheduler: SchedulerLike = monotonic,
): SimulatedLink {
  const { label = 'simulated sleeve', speed = 1, chunkSec = 0.025 } = options;
  if (!(speed > 0) || !(chunkSec > 0)) throw new RangeError('speed and chunkSec must be greater than 0');
  const bytes$ = new Subject<Uint8Array>();
  const state$ = new ReplaySubject<LinkState>(1);
  const tickMs = Math.max(5, Math.min(50, (chunkSec * 1000) / speed));
  let deviceSec = 0;
  let lastTickMs = 0;
  let owedSec = 0;
  let plugged = true;
  let ticking: Subscription | null = null;
  state$.next({ kind: 'opening' });

  function end(): void {
    if (!ticking) return;
    ticking.unsubscribe();
    ticking = null;
    state$.next({ kind: 'ended' });
    state$.complete();
    bytes$.complete();
  }

  function tick(): void {
    const nowMs = scheduler.now();
    owedSec += (Math.min(nowMs - lastTickMs, MAX_CATCH_UP_MS) / 1000) * speed;
    lastTickMs = nowMs;
    // The small tolerance: rounding errors in the sum of steps must not delay a chunk by a whole tick.
    while (owedSec > chunkSec - 1e-6 && ticking) {
      owedSec -= chunkSec;
      deviceSec += chunkSec;
      const bytes = model.advance(deviceSec);
      if (plugged && bytes.length > 0) bytes$.next(bytes);
      if (model.ended) end();
    }
  }

  return {
    label,
    bytes$: bytes$.asObservable(),
    state$: state$.asObservable(),
    async open() {
      if (ticking) return;
      lastTickMs = scheduler.now();
      state$.next({ kind: 'open' });
      ticking = scheduler.schedule(function again() {
        tick();
        if (ticking) this.schedule(undefined, tickMs);
      }, tickMs);
    },
    write(bytes) {
      if (ticking && plugged) model.receive(bytes);
    },
    async close() {
      end();
    },
    unplug() {
      if (!ticking || !plugged) return;
      plugged = false;
      state$.next({ kind: 'lost', reason: 'The simulated cable is unplugged.' });
    },
    replug() {
      if (!ticking || plugged) return;
      plugged = true;
      state$.next({ kind: 'open' });
    },
  };
}
