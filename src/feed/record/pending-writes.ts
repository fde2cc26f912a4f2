/** Writes to a storage whose disk may fail. A write that fails waits in a queue, in order, and is tried again; none is dropped. */
import { FieldError, PlainError } from '../../base/errors.ts';

/** Of a PlainError: its code, and a plain sentence with its remedy. */
export type Trouble = Pick<PlainError, 'code' | 'text'>;

export interface PendingWrites {
  waiting: (() => void)[];
  /** Why the last try failed; null when nothing is pending. */
  trouble: Trouble | null;
}

export const createPendingWrites = (): PendingWrites => ({ waiting: [], trouble: null });

/** Errors that concern one write only; later writes may succeed. Any other error means that the disk fails. */
const OF_ONE_THING = /^store-(taken|mixed|no-feed)$/;

/**
 * Tries all pending writes in order, and then `keep`. After an error of the disk the rest is not tried now: each call may be slow while the disk
 * does not answer, and guidance must go on.
 * @returns whether `keep` is done; errors that are not plain pass through
 */
export function tryWrite(pending: PendingWrites, keep: () => void): boolean {
  let trouble: PlainError | null = null;
  let isDiskOut = false;
  const isDone = (action: () => void): boolean => {
    if (isDiskOut) return false;
    try {
      action();
      return true;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      trouble ??= error;
      // A wrong entry would be wrong at the next try too, so it is dropped.
      if (error instanceof FieldError) return true;
      isDiskOut = !OF_ONE_THING.test(error.code);
      return false;
    }
  };
  pending.waiting = pending.waiting.filter((action) => !isDone(action));
  const done = isDone(keep);
  pending.trouble = trouble;
  return done;
}

/** As `tryWrite`; a write that fails is queued. */
export function writeOrQueue(pending: PendingWrites, keep: () => void): void {
  if (!tryWrite(pending, keep)) pending.waiting.push(keep);
}
