/** What a gyroscope out of order makes of its readings. */
import type { ChipFault, GyroscopeFault } from './parameters.ts';
import type { MotionReading } from './simulated-feed.ts';
import type { Triple } from './vectors.ts';

const KINDS: ReadonlySet<string> = new Set<GyroscopeFault>([
  'gyroscopeStuck',
  'gyroscopeSaturated',
  'gyroscopeSwapped',
  'gyroscopeTurned',
  'motionAlone',
]);

export const isMotionFault = (what: ChipFault['what']): what is GyroscopeFault => KINDS.has(what);

/** Of the samples of a spell, one in so many is lost while its MOTION comes. */
const ALONE_EVERY = 10;

export class MotionFaults {
  readonly #faults: readonly ChipFault[];
  #stuck: Triple | null = null;
  #steps = 0;

  constructor(faults: readonly ChipFault[]) {
    this.#faults = faults.filter(({ what }) => isMotionFault(what));
  }

  /** @returns what the line carries of it. */
  showing({ sequence, rate }: MotionReading, atSec: number): MotionReading {
    const shown: Triple = [...rate];
    if (this.#has('gyroscopeSwapped', atSec)) [shown[0], shown[1]] = [shown[1], shown[0]];
    if (this.#has('gyroscopeTurned', atSec)) shown[1] = -shown[1];
    if (this.#has('gyroscopeSaturated', atSec)) shown.fill(32767);
    this.#stuck = this.#has('gyroscopeStuck', atSec) ? (this.#stuck ?? shown) : null;
    return { sequence, rate: [...(this.#stuck ?? shown)] };
  }

  /** Asked once a step. */
  losesSample(atSec: number): boolean {
    this.#steps += 1;
    return this.#steps % ALONE_EVERY === 0 && this.#has('motionAlone', atSec);
  }

  #has(what: GyroscopeFault, atSec: number): boolean {
    return this.#faults.some((fault) => fault.what === what && atSec >= fault.fromSec && atSec < fault.toSec);
  }
}
