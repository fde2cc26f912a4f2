/**
 * Seeded random numbers: the same seed and stream name give the same numbers on every machine.
 * Generator: sfc32 (C. Doty-Humphrey's small fast counting generator), from memory; its quality is ample for noise.
 */
export class Random {
  #a: number;
  #b: number;
  #c: number;
  #counter = 1;
  #spareNormal: number | null = null;

  /** @param stream name of an independent stream, so that a change in one part of the simulation does not shift the numbers of another */
  constructor(seed: number, stream = '') {
    let hash = 0x811c9dc5; // FNV-1a over the stream's name
    for (let i = 0; i < stream.length; i++) hash = Math.imul(hash ^ stream.charCodeAt(i), 0x01000193);
    this.#a = seed >>> 0;
    this.#b = Math.floor(seed / 2 ** 32) >>> 0;
    this.#c = hash >>> 0;
    for (let i = 0; i < 15; i++) this.uint32();
  }

  uint32(): number {
    const sum = (this.#a + this.#b + this.#counter) >>> 0;
    this.#counter = (this.#counter + 1) >>> 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) >>> 0;
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + sum) >>> 0;
    return sum;
  }

  /** @returns a number in [0, 1). */
  uniform(): number {
    return this.uint32() / 2 ** 32;
  }

  between(range: Range): number {
    return range[0] + (range[1] - range[0]) * this.uniform();
  }

  /** @returns a whole number in [range[0], range[1]]. */
  integer(range: Range): number {
    return Math.floor(this.between([range[0], range[1] + 1]));
  }

  /** @returns the items in random order, all orders equally likely (Fisher and Yates) */
  shuffled<T>(items: readonly T[]): T[] {
    const mixed = [...items];
    for (let i = mixed.length - 1; i > 0; i--) {
      const j = this.integer([0, i]);
      [mixed[i], mixed[j]] = [mixed[j]!, mixed[i]!];
    }
    return mixed;
  }

  /** @returns a draw from the standard normal distribution (Marsaglia's polar method). */
  normal(): number {
    if (this.#spareNormal !== null) {
      const spare = this.#spareNormal;
      this.#spareNormal = null;
      return spare;
    }
    for (;;) {
      const u = 2 * this.uniform() - 1;
      const v = 2 * this.uniform() - 1;
      const square = u * u + v * v;
      if (square === 0 || square >= 1) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      this.#spareNormal = v * factor;
      return u * factor;
    }
  }

  /** @returns a positive factor with mean 1 whose logarithm has the standard deviation `sdLog`. */
  factor(sdLog: number): number {
    return sdLog === 0 ? 1 : Math.exp(sdLog * this.normal() - (sdLog * sdLog) / 2);
  }
}

/** Lowest and highest value, both possible. */
export type Range = readonly [low: number, high: number];

/**
 * A random value that varies slowly about zero: first-order Gauss–Markov (Ornstein–Uhlenbeck) process, exact for any step.
 * `sd` is its standard deviation in the long run, `tauSec` its correlation time (1/e).
 */
export class Wander {
  value: number;
  readonly #random: Random;
  readonly #sd: number;
  readonly #keep: number;
  readonly #kick: number;

  constructor(random: Random, sd: number, tauSec: number, stepSec: number) {
    this.#random = random;
    this.#sd = sd;
    this.#keep = Math.exp(-stepSec / tauSec);
    this.#kick = sd * Math.sqrt(1 - this.#keep * this.#keep);
    this.value = sd * random.normal();
  }

  step(): number {
    if (this.#sd !== 0) this.value = this.#keep * this.value + this.#kick * this.#random.normal();
    return this.value;
  }
}
