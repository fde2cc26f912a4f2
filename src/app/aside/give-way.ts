import { constants, setPriority } from 'node:os';

/** This process takes what others leave: a graph of a whole night must never take a core from guidance. */
export function giveWay(): void {
  try {
    setPriority(constants.priority.PRIORITY_LOW);
  } catch {
    // A system that allows no such thing: it is a helper all the same.
  }
}
