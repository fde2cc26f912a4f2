/** Hands things to be kept to a storage whose disk may be full. What it cannot take waits, in order, and is tried again; nothing is dropped. */
import { FieldError, PlainError } from '../../base/errors.ts';

/** Of a PlainError: its code, and a plain sentence with its remedy. */
export type Trouble = Pick<PlainError, 'code' | 'text'>;

export interface PendingWrites {
  waiting: (() => void)[];
  /** Why the last try failed; null when all is kept. */
  trouble: Trouble | null;
}

export const createPendingWrites = (): PendingWrites => ({ waiting: [], trouble: null });

/** Of one thing alone: whatever comes after it may be kept all the same. Any other trouble is the disk's. */
const OF_ONE_THING = /^store-(taken|mixed|no-feed)$/;

/**
 * Tries all that waits, in order, and then `keep`. A disk that has just refused one thing is not asked for the next: while it does not answer,
 * each call may take its time, and guidance must go on.
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
      // An entry that is wrong will be wrong at the next try too.
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

/** As `tryWrite`; what fails waits for the next try. */
export function writeOrQueue(pending: PendingWrites, keep: () => void): void {
  if (!tryWrite(pending, keep)) pending.waiting.push(keep);
}
