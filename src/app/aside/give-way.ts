import { constants, setPriority } from 'node:os';

/** Lowest priority, so that heavy work never takes processor time from guidance. */
export function giveWay(): void {
  try {
    setPriority(constants.priority.PRIORITY_LOW);
  } catch {
    // Some systems do not allow it; the helper works all the same.
  }
}
