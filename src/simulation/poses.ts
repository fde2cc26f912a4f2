/** Handling of the bottle away from the mouth, pose by pose. */
import type { Handling } from './parameters.ts';

/** The teat goes in, or out for some reason. */
export type TeatEventKind =
  | 'latch'
  | 'burp'
  | 'switch'
  | 'rest'
  | 'end'
  | 'spill'
  | 'refill'
  | 'second-bottle'
  | 'set-down';

/** One pose of the bottle away from the mouth. `task`: what is done in it. */
export interface Pose {
  sec: number;
  tiltDeg: number;
  onTable?: boolean;
  task?: Task;
}

/** Changes of milk or bottle that the physics carries out; rates in mL/s. */
export type Task =
  | { kind: 'spill'; mlPerSec: number }
  | { kind: 'pour-in'; mlPerSec: number }
  | { kind: 'bottle-out' }
  | { kind: 'bottle-in'; milkMl: number };

export const RAISE: Pose = { sec: 1.6, tiltDeg: 60 };
export const BURP_TILT_DEG = 25;

const LAY: Pose = { sec: 1.5, tiltDeg: 20 };

const stand = (sec: number, task?: Task): Pose => ({ sec, tiltDeg: 0, onTable: true, ...(task && { task }) });

/** @returns the poses of a spill, a refill, a second bottle, or of setting the bottle down */
export function posesOf(handling: Handling): Pose[] {
  switch (handling.kind) {
    case 'spill': {
      const task: Task = { kind: 'spill', mlPerSec: handling.volumeMl / handling.overSec };
      const tipped: Pose = { sec: handling.overSec, tiltDeg: 125, task };
      return [LAY, { sec: 1, tiltDeg: 125 }, tipped, { sec: 8, tiltDeg: 20 }, RAISE];
    }
    case 'refill': {
      const task: Task = { kind: 'pour-in', mlPerSec: handling.volumeMl / handling.overSec };
      return [LAY, stand(5), stand(handling.overSec, task), stand(5), RAISE];
    }
    case 'set-down':
      return [LAY, stand(handling.forSec), RAISE];
    case 'second-bottle': {
      const task: Task = { kind: 'bottle-in', milkMl: handling.milkMl };
      return [LAY, stand(5), stand(9, { kind: 'bottle-out' }), stand(0.1, task), stand(6), RAISE];
    }
  }
}
