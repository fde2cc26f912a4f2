/** Outputs measured at the emulated chip's pins: duty cycle of the light's colors, pitch of the buzzer. */
import { CHIP_HZ } from './emulated-chip.ts';

/** A little more than two periods of the PWM in use, 64 × 256 cycles each; a pin without an edge for longer is constant. */
const STILL_CYCLES = 2.2 * 64 * 256;

/** Measures the duty cycle of one pin from its edges. */
export class DutyMeter {
  #high = false;
  #riseCycle = 0;
  #edgeCycle = Number.NEGATIVE_INFINITY;
  #highCycles = 0;
  #periodCycles = 0;
  #rises = 0;

  set(high: boolean, cycle: number): void {
    if (high === this.#high) return;
    if (cycle - this.#edgeCycle > STILL_CYCLES) this.#rises = 0;
    if (high) {
      if (this.#rises > 0) this.#periodCycles = cycle - this.#riseCycle;
      this.#riseCycle = cycle;
      this.#rises++;
    } else {
      this.#highCycles = cycle - this.#riseCycle;
    }
    this.#high = high;
    this.#edgeCycle = cycle;
  }

  /** @returns 0 (off) to 255 (always on), from the latest whole period */
  level(cycle: number): number {
    if (cycle - this.#edgeCycle > STILL_CYCLES) return this.#high ? 255 : 0;
    if (this.#rises < 2) return this.#high ? 255 : 0;
    return Math.min(255, Math.round((this.#highCycles / this.#periodCycles) * 256));
  }
}

/** One uninterrupted tone at the buzzer's pin, measured from its edges. */
export interface MeasuredTone {
  fromSec: number;
  /** Time of the last edge; of a running tone, the latest. */
  toSec: number;
  frequencyHz: number;
}

/** A lower frequency is no tone; the pin is silent when its next edge is later than half a period of this. */
const LOWEST_HZ = 12;
const LOG_LENGTH = 1000;

/** Measures the buzzer's tones from the edges of its pin. */
export class ToneMeter {
  readonly #hz: number;
  /** Latest last; the oldest are dropped when there are too many. */
  readonly tones: MeasuredTone[] = [];
  #high = false;
  #edgeCycle = Number.NEGATIVE_INFINITY;
  #firstRise = 0;
  #rises = 0;
  #halfPeriod = 0;

  /** @param hz clock cycles a second */
  constructor(hz: number = CHIP_HZ) {
    this.#hz = hz;
  }

  set(high: boolean, cycle: number): void {
    if (high === this.#high) return;
    this.#high = high;
    const gap = cycle - this.#edgeCycle;
    const begins = !this.#isGoingOn(gap);
    this.#edgeCycle = cycle;
    if (begins) {
      this.#halfPeriod = 0;
      this.#rises = 0;
      this.tones.push({ fromSec: cycle / this.#hz, toSec: cycle / this.#hz, frequencyHz: 0 });
      if (this.tones.length > LOG_LENGTH) this.tones.shift();
    } else {
      this.#halfPeriod = gap;
    }
    const tone = this.tones.at(-1)!;
    tone.toSec = cycle / this.#hz;
    if (!high) return;
    if (this.#rises === 0) this.#firstRise = cycle;
    else tone.frequencyHz = (this.#rises * this.#hz) / (cycle - this.#firstRise);
    this.#rises++;
  }

  /** @returns pitch now, Hz; 0 when silent */
  frequencyHz(cycle: number): number {
    return this.#isGoingOn(cycle - this.#edgeCycle) ? (this.tones.at(-1)?.frequencyHz ?? 0) : 0;
  }

  /** A tone continues while its edges keep the latest interval. */
  #isGoingOn(gapCycles: number): boolean {
    const longest = this.#halfPeriod > 0 ? 1.5 * this.#halfPeriod : this.#hz / LOWEST_HZ / 2;
    return gapCycles <= longest;
  }
}
