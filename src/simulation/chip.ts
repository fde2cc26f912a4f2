/** State of the chip: sequence numbers, a wrapping clock, lost samples, resets. */

import { Random } from '../base/random.ts';
import type { ChipParameters } from './parameters.ts';

/** Jitter of a sample's time stamp about 12.5 ms, µs. */
const STAMP_JITTER_MICROS = 25;
const BOOT_MICROS = 180_000;

export interface Stamp {
  sequence: number;
  timeMicros: number;
  firstAfterReset: boolean;
}

export class Chip {
  /** True while the chip starts up after a reset: no samples. */
  away = false;
  readonly #p: ChipParameters;
  readonly #random: Random;
  readonly #resets: number[];
  #sequence: number;
  #clockZeroMicros: number;
  #awayUntilSec = 0;
  #first = false;
  #lossLeft = 0;

  constructor(parameters: ChipParameters, seed: number) {
    this.#p = parameters;
    this.#random = new Random(seed, 'chip');
    this.#resets = [...parameters.resetsAtSec].sort((a, b) => a - b);
    this.#sequence = this.#random.integer([0, 65535]);
    const drawn = this.#random.uint32();
    this.#clockZeroMicros = parameters.clockStartMicros ?? drawn;
  }

  reset(atSec: number): void {
    this.away = true;
    this.#awayUntilSec = atSec + this.#p.resetGapSec;
    this.#clockZeroMicros = BOOT_MICROS - this.#awayUntilSec * 1e6;
  }

  /** @returns the next sample's stamp, or null if no sample is sent. `resetNow`: the chip resets by itself now. */
  step(atSec: number): { stamp: Stamp | null; resetNow: boolean } {
    const resetNow = this.#resets.length > 0 && atSec >= this.#resets[0]!;
    if (resetNow) {
      this.#resets.shift();
      this.reset(atSec);
    }
    if (this.away) {
      if (atSec < this.#awayUntilSec) return { stamp: null, resetNow };
      this.away = false;
      this.#first = true;
      this.#sequence = 0;
    }
    const jitter = STAMP_JITTER_MICROS * Math.min(Math.max(this.#random.normal(), -3), 3);
    const micros = Math.round(this.#clockZeroMicros + atSec * 1e6 + jitter);
    const stamp: Stamp = {
      sequence: this.#sequence,
      timeMicros: ((micros % 2 ** 32) + 2 ** 32) % 2 ** 32,
      firstAfterReset: this.#first,
    };
    this.#sequence = (this.#sequence + 1) % 65536;
    this.#first = false;
    if (this.#lossLeft > 0) {
      this.#lossLeft -= 1;
      return { stamp: null, resetNow };
    }
    if (this.#p.lossChance > 0 && this.#random.uniform() < this.#p.lossChance) {
      this.#lossLeft = this.#random.integer(this.#p.lossRun) - 1;
      return { stamp: null, resetNow };
    }
    return { stamp, resetNow };
  }
}
