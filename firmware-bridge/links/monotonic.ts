/**
 * RxJS's own scheduler uses the wall clock, which a person or a time server may change at any moment. The time of this one only
 * increases, by the time that has really passed.
 */
import { asyncScheduler, type SchedulerLike } from 'rxjs';

export const monotonic: SchedulerLike = {
  now: () => performance.now(),
  schedule: (work, delay, state) => asyncScheduler.schedule(work as (state?: unknown) => void, delay, state),
};
