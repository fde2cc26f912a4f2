/**
 * RxJS's own scheduler goes by the wall clock, which a person or a time server may set at any moment. This one does not: its time only
 * rises, by seconds that have really passed.
 */
import { asyncScheduler, type SchedulerLike } from 'rxjs';

export const monotonic: SchedulerLike = {
  now: () => performance.now(),
  schedule: (work, delay, state) => asyncScheduler.schedule(work as (state?: unknown) => void, delay, state),
};
