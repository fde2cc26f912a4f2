/** Uses a simulated feed as input of an emulated sleeve. */
import type { Sample } from '../wire/index.ts';
import type { Surroundings, SurroundingsSource } from './emulated-sleeve.ts';

/** What a feed must provide: counts, step by step. Sequence, time and flags are ignored: the chip makes its own. */
export interface StepwiseFeed {
  /** Time of the next step, seconds. */
  readonly nextSec: number;
  step(): {
    sample: Pick<Sample, 'cells' | 'accelerometer'> | null;
    /** Angular velocity about x, y, z, °/s; absent if the feed does not model turning. */
    turningDps?: readonly [number, number, number];
  };
}

/** Half of one of 80 steps a second. */
const HALF_STEP_SEC = 1 / 160;

/**
 * The parts get the step of the feed that is nearest in time: with the latest step the accelerometer, read a few
 * milliseconds before the cells, would lag by a whole step. A step without counts keeps the former ones.
 * @param button whether the button is down at a given time; default: never
 */
export function surroundingsOf(
  feed: StepwiseFeed,
  button: (atSec: number) => boolean = () => false,
): SurroundingsSource {
  let cells: Surroundings['cells'] = [0, 0, 0];
  let accelerometer: Surroundings['accelerometer'] = [0, 0, 8192];
  let turningDps: Surroundings['turningDps'];
  return {
    at(atSec) {
      while (feed.nextSec <= atSec + HALF_STEP_SEC) {
        const { sample, turningDps: turned } = feed.step();
        if (sample) ({ cells, accelerometer } = sample);
        if (turned) turningDps = turned;
      }
      return { cells, accelerometer, ...(turningDps && { turningDps }), buttonDown: button(atSec) };
    },
  };
}
