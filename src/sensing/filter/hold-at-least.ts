/** Lower limits of states: milk is not negative, and a suck gives no milk back. */
import { type MilkFilter, STATES } from './milk-filter.ts';

/**
 * Moves the state to `x[state] ≥ least`, the others and the earlier intakes along by their covariance. The covariance is not changed, since a limit
 * adds no knowledge: a bottle that is empty for a minute is not known better with every row.
 * @returns how many times the state's column of C was added
 */
export function holdAtLeast(filter: MilkFilter, state: number, least: number): number {
  const { x, c, earlierC, earlierValue } = filter;
  const missing = least - x[state]!;
  if (missing <= 0) return 0;
  const variance = c[state * STATES + state]!;
  let share = 0;
  if (variance > 1e-12) {
    share = missing / variance;
    for (let j = 0; j < STATES; j++) x[j] = x[j]! + c[j * STATES + state]! * share;
    for (let k = 0; k < filter.earlierCount; k++)
      earlierValue[k] = earlierValue[k]! + earlierC[k * STATES + state]! * share;
  }
  x[state] = least;
  return share;
}
