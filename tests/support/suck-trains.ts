/** Trains of sucks: following a given flow, steady, or fading. */
import { type Flow, intakeAt } from './breast-flows.ts';
import type { Draws } from './distributions.ts';

/** One suck: when it begins, how long milk flows, how much. */
export interface Suck {
  atSec: number;
  lastsSec: number;
  ml: number;
}

/** mL and spread of a suck, and sucks a minute: days 1-4, Qureshi et al. 2002, Dev Med Child Neurol 44:34. */
const NEWBORN = { ml: 0.17, sdMl: 0.08, perMin: 55 };

/** Adds a burst of sucks. @returns when the next suck would come */
function pushBurst(sucks: Suck[], fromSec: number, count: number, perMin: number, draws: Draws): number {
  let atSec = fromSec;
  for (let suck = 0; suck < count; suck += 1) {
    sucks.push({ atSec, lastsSec: 0.6, ml: draws.normal(NEWBORN.ml, NEWBORN.sdMl, 0.02, 0.5) });
    atSec += (60 / perMin) * draws.uniform(0.85, 1.15);
  }
  return atSec;
}

/**
 * A given flow as sucks: bursts of 5 to 20 sucks with pauses of 2 to 6 s (common practice, no source). A
 * burst carries all milk of the flow until the next burst, so that nothing is smoothed or lost.
 */
export function suckOut(flow: Flow, draws: Draws): Suck[] {
  const endSec = flow.at(-1)![0] * 60;
  const sucks: Suck[] = [];
  let atSec = 0;
  while (atSec < endSec) {
    const burst: Suck[] = [];
    const pauseAt = pushBurst(burst, atSec, Math.round(draws.uniform(4.5, 20.5)), NEWBORN.perMin, draws);
    const nextSec = pauseAt + draws.uniform(2, 6);
    const ml = intakeAt(flow, nextSec / 60) - intakeAt(flow, atSec / 60);
    const drawn = burst.reduce((sum, suck) => sum + suck.ml, 0);
    for (const suck of burst) suck.ml *= ml / drawn;
    sucks.push(...burst);
    atSec = nextSec;
  }
  return sucks;
}

/** How a baby sucks for some time. */
export interface Habit {
  sucks: readonly [number, number];
  pauseSec: readonly [number, number];
}

/** Sucks between two times in bursts of this habit; `drive` 1 full, toward 0 shorter bursts, longer pauses, less milk. */
export function habitSucks(
  fromSec: number,
  toSec: number,
  habit: Habit,
  draws: Draws,
  drive: (atSec: number) => number = () => 1,
): Suck[] {
  const sucks: Suck[] = [];
  let atSec = fromSec;
  while (atSec < toSec) {
    const now = Math.max(0.05, drive(atSec));
    const count = Math.max(1, Math.round(draws.uniform(...habit.sucks) * now));
    const burst: Suck[] = [];
    const pauseAt = pushBurst(burst, atSec, count, 60, draws);
    for (const suck of burst) suck.ml *= 0.5 + 0.5 * now;
    sucks.push(...burst);
    atSec = pauseAt + draws.uniform(...habit.pauseSec) / now;
  }
  return sucks.filter((suck) => suck.atSec < toSec);
}

/** Sucks at a steady flow, without a pause. */
export function steadySucks(flowMlPerMin: number, fromSec: number, toSec: number, perMin = 60): Suck[] {
  const sucks: Suck[] = [];
  for (let index = 0; fromSec + (index * 60) / perMin < toSec; index += 1) {
    sucks.push({ atSec: fromSec + (index * 60) / perMin, lastsSec: 0.6, ml: flowMlPerMin / perMin });
  }
  return sucks;
}
