/** Hands things to be kept to a keeper whose disk may be full. What it cannot take waits, in order, and is tried again; nothing is dropped. */
import { PlainError } from '../errors.ts';

export interface Keeping {
  waiting: (() => void)[];
  /** Why the last try failed, in a plain sentence with its remedy; null when all is kept. */
  notice: string | null;
}

export const createKeeping = (): Keeping => ({ waiting: [], notice: null });

/** Tries all that waits, in order, and then `keep`. @returns whether `keep` is done; errors that are not plain pass through */
export function tryToKeep(keeping: Keeping, keep: () => void): boolean {
  let trouble: string | null = null;
  const isDone = (action: () => void): boolean => {
    try {
      action();
      return true;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      trouble = error.text;
      return false;
    }
  };
  keeping.waiting = keeping.waiting.filter((action) => !isDone(action));
  const done = isDone(keep);
  keeping.notice = trouble;
  return done;
}

/** As `tryToKeep`; what fails waits for the next try. */
export function keepForSure(keeping: Keeping, keep: () => void): void {
  if (!tryToKeep(keeping, keep)) keeping.waiting.push(keep);
}
