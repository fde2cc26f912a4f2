/** Readings of a faulty gyroscope. */
import type { ChipFault, GyroscopeFault } from './parameters.ts';
import type { Triple } from './vectors.ts';

const KINDS: ReadonlySet<string> = new Set<GyroscopeFault>([
  'gyroscopeStuck',
  'gyroscopeSaturated',
  'gyroscopeSwapped',
  'gyroscopeTurned',
  'motionAlone',
]);

export const isMotionFault = (what: ChipFault['what']): what is GyroscopeFault => KINDS.has(what);

/** During the fault one sample in this many is lost while its MOTION arrives. */
const ALONE_EVERY = 10;

export class MotionFaults {
  readonly #faults: readonly ChipFault[];
  #stuck: Triple | null = null;
  #steps = 0;

  constructor(faults: readonly ChipFault[]) {
    this.#faults = faults.filter(({ what }) => isMotionFault(what));
  }

  /** @param counts of one reading, changed in place */
  spoil(counts: Triple, atSec: number): void {
    const [x, y] = counts;
    if (this.#has('gyroscopeSwapped', atSec)) [counts[0], counts[1]] = [y, x];
    if (this.#has('gyroscopeTurned', atSec)) counts[1] = -counts[1];
    if (this.#has('gyroscopeSaturated', atSec)) counts.fill(32767);
    this.#stuck = this.#has('gyroscopeStuck', atSec) ? (this.#stuck ?? [...counts]) : null;
    if (this.#stuck) [counts[0], counts[1], counts[2]] = this.#stuck;
  }

  /** Call it once a step. */
  losesSample(atSec: number): boolean {
    this.#steps += 1;
    return this.#steps % ALONE_EVERY === 0 && this.#has('motionAlone', atSec);
  }

  #has(what: GyroscopeFault, atSec: number): boolean {
    return this.#faults.some((fault) => fault.what === what && atSec >= fault.fromSec && atSec < fault.toSec);
  }
}
