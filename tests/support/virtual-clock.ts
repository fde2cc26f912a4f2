/** A clock moved by the test; everything scheduled on it runs at its own virtual time, in order. */
import { VirtualAction, VirtualTimeScheduler } from 'rxjs';

export interface VirtualClock {
  readonly scheduler: VirtualTimeScheduler;
  readonly nowMs: number;
  /** Advances by `ms`, and then lets promises and next-tick callbacks run. */
  advance(ms: number): Promise<void>;
}

export function createVirtualClock(): VirtualClock {
  const scheduler = new VirtualTimeScheduler(VirtualAction, 0);
  return {
    scheduler,
    get nowMs() {
      return scheduler.now();
    },
    async advance(ms) {
      const untilMs = scheduler.frame + ms;
      // In steps, so that actions that wait for promises run near their time.
      while (scheduler.frame < untilMs) {
        scheduler.maxFrames = Math.min(untilMs, scheduler.frame + 50);
        scheduler.flush();
        scheduler.frame = scheduler.maxFrames;
        await new Promise(setImmediate);
      }
    },
  };
}
