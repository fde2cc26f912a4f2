import { constants, setPriority } from 'node:os';

const { PRIORITY_BELOW_NORMAL, PRIORITY_LOW } = constants.priority;

function lowerTo(priority: number): void {
  try {
    setPriority(priority);
  } catch {
    // Some systems do not allow it; the work is done all the same.
  }
}

/** Lowest priority, so that heavy work never takes processor time from guidance. */
export const giveWay = (): void => lowerTo(PRIORITY_LOW);

/** Of the calling thread alone. Only Linux has that: elsewhere the whole process would give way, with all that it guides. */
export function giveWayInThread(how: 'somewhat' | 'always'): void {
  if (process.platform === 'linux') lowerTo(how === 'always' ? PRIORITY_LOW : PRIORITY_BELOW_NORMAL);
}
