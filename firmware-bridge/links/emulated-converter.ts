/**
 * A 24-bit converter of a load cell, as seen at its wires (HX711 datasheet, "Serial Interface", "Reset and Power-Down",
 * "Output Data Rate and Format").
 */
import type { AVRIOPort } from 'avr8js';
import type { EmulatedChip } from './emulated-chip.ts';

const READINGS_PER_SEC = 80;
/** Four periods from a start to the first reading: 50 ms at 80 a second ("Settling time"). */
const SETTLING_PERIODS = 4;
const POWER_DOWN_SEC = 60e-6;
/** If no reading is taken, the line goes high while the result is renewed. */
const RENEWAL_SEC = 30e-6;
const HIGHEST = 0x7fffff;

export interface ConverterFault {
  /** No longer answers and cannot be restarted. */
  silent?: boolean;
  /** No longer answers until it is restarted. */
  asleep?: boolean;
  /** Its readings are at the end of the range. */
  saturated?: boolean;
  /** Its data line is shorted to ground. */
  shorted?: boolean;
  /** Runs on its own clock, faster by this share: 0.01 is 1 %. */
  clockOff?: number;
}

/** Shortest and longest times seen on the wires, µs; T1 to T4 of the datasheet. */
export interface WireTimes {
  readyToFirstPulse: number;
  shortestHigh: number;
  longestHigh: number;
  shortestLow: number;
}

export class EmulatedConverter {
  fault: ConverterFault = {};
  /** Cycle of the latest edge that reports a reading. */
  readyCycle = Number.NEGATIVE_INFINITY;
  /** Number of times it was powered down and up. */
  starts = 0;
  /** Readings taken with a number of pulses other than 25, and pulses while no reading was ready. */
  wrongPulses = 0;
  readonly times: WireTimes = {
    readyToFirstPulse: Number.POSITIVE_INFINITY,
    shortestHigh: Number.POSITIVE_INFINITY,
    longestHigh: 0,
    shortestLow: Number.POSITIVE_INFINITY,
  };
  readonly #chip: EmulatedChip;
  readonly #bit: number;
  readonly #read: (atSec: number) => number;
  readonly #skewCycles: number;
  #port: AVRIOPort | null = null;
  #level = true;
  #clock = false;
  #clockCycle = 0;
  #pulses = 0;
  #word = 0;
  #isReady = false;
  #ticket = 0;

  /**
   * @param bit of its data line in port C
   * @param read count of its cell, given a time
   * @param skewSec delay of its first reading against the others
   */
  constructor(chip: EmulatedChip, bit: number, read: (atSec: number) => number, skewSec: number) {
    this.#chip = chip;
    this.#bit = bit;
    this.#read = read;
    this.#skewCycles = skewSec * chip.hz;
    this.#start();
  }

  attach(port: AVRIOPort): void {
    this.#port = port;
    this.#drive(this.#level);
  }

  /** The chip's clock line changed. */
  setClock(high: boolean): void {
    if (high === this.#clock) return;
    const now = this.#chip.cycle;
    const lastedMicros = ((now - this.#clockCycle) / this.#chip.hz) * 1e6;
    this.#clock = high;
    this.#clockCycle = now;
    if (high) this.#rise(now, lastedMicros);
    else this.#fall(lastedMicros);
  }

  #rise(now: number, lowMicros: number): void {
    if (!this.#isReady) {
      this.#pulses = 0;
      return;
    }
    this.#pulses++;
    if (this.#pulses === 1) {
      const sinceReady = ((now - this.readyCycle) / this.#chip.hz) * 1e6;
      this.times.readyToFirstPulse = Math.min(this.times.readyToFirstPulse, sinceReady);
    } else {
      this.times.shortestLow = Math.min(this.times.shortestLow, lowMicros);
    }
    if (this.#pulses <= 24) this.#drive(((this.#word >> (24 - this.#pulses)) & 1) === 1);
    else if (this.#pulses === 25) this.#drive(true);
    else this.wrongPulses++;
  }

  #fall(highMicros: number): void {
    if (highMicros * 1e-6 * this.#chip.hz > POWER_DOWN_SEC * this.#chip.hz) {
      this.starts++;
      this.#start();
      return;
    }
    this.times.shortestHigh = Math.min(this.times.shortestHigh, highMicros);
    this.times.longestHigh = Math.max(this.times.longestHigh, highMicros);
    if (!this.#isReady) this.wrongPulses++;
  }

  /** Powered up: gain 128, channel A, and no reading for four periods. */
  #start(): void {
    this.fault.asleep = false;
    this.#isReady = false;
    this.#pulses = 0;
    this.#drive(true);
    this.#ticket++;
    this.#next(SETTLING_PERIODS * this.#period + this.#skewCycles);
  }

  get #period(): number {
    return this.#chip.hz / READINGS_PER_SEC / (1 + (this.fault.clockOff ?? 0));
  }

  #next(inCycles: number): void {
    const ticket = this.#ticket;
    const due = this.#chip.cycle + inCycles;
    this.#chip.at(due, () => {
      if (ticket === this.#ticket) this.#convert(due);
    });
  }

  #convert(due: number): void {
    this.#next(due + this.#period - this.#chip.cycle);
    const { silent, asleep, saturated } = this.fault;
    if (
      silent ||
      asleep ||
      (this.#clock && this.#chip.cycle - this.#clockCycle > POWER_DOWN_SEC * this.#chip.hz)
    ) {
      this.#isReady = false;
      this.#drive(true);
      return;
    }
    // While a reading is being taken the old result stays.
    if (this.#isReady && this.#pulses > 0 && this.#pulses < 25) return;
    if (this.#pulses > 25) this.wrongPulses++;
    const count = saturated ? HIGHEST : this.#read(this.#chip.nowSec);
    const ticket = this.#ticket;
    const present = (): void => {
      if (ticket !== this.#ticket) return;
      this.#word = Math.min(Math.max(count, -HIGHEST - 1), HIGHEST) & 0xffffff;
      this.#pulses = 0;
      this.#isReady = true;
      this.readyCycle = this.#chip.cycle;
      this.#drive(false);
    };
    if (this.#level) {
      present();
    } else {
      this.#drive(true);
      this.#chip.at(this.#chip.cycle + RENEWAL_SEC * this.#chip.hz, present);
    }
  }

  #drive(high: boolean): void {
    this.#level = high;
    this.#port?.setPin(this.#bit, high && !this.fault.shorted);
  }
}
