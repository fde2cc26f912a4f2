import type { SchedulerLike } from 'rxjs';
import { PlainError } from '../../base/errors.ts';

/** The store's answer, unless it takes too long. @throws PlainError store-slow */
export function inTime<T>(answer: Promise<T>, limitMs: number, scheduler: SchedulerLike): Promise<T> {
  return new Promise((resolve, reject) => {
    const limit = scheduler.schedule(
      () =>
        reject(
          new PlainError(
            'store-slow',
            'What is bound to it cannot be asked now: the database does not answer.',
            'It is tried again; see that the database runs.',
          ),
        ),
      limitMs,
    );
    answer.then(resolve, reject).finally(() => limit.unsubscribe());
  });
}
