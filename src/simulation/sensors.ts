/** The sleeve's cells, accelerometer and gyroscope with their true properties: gains, zeros, drift, noise, delay, counts. */

import { Random, Wander } from '../base/random.ts';
import { mapTriple } from '../base/typed.ts';
import { degFromRad, newtonsFromGrams } from '../base/units.ts';
import { Delay } from './delay.ts';
import type { GyroscopeConstants, SleeveConstants } from './drawn-sleeve.ts';
import { inverse, type Matrix, type Triple, times } from './vectors.ts';

export interface SensorParameters {
  /** Factor on the cells' noise, white and colored. */
  cellNoiseScale: number;
  /** White noise of one cell's reading, and colored noise (correlation time 0.1 s), grams of load. */
  cellWhiteGrams: number;
  cellColouredGrams: number;
  /** Random walk of each cell's zero, g/√min. */
  zeroDriftGramsPerSqrtMin: number;
  /** Share of a load that appears late by creep (negative: shown too much at first), and its time constant. */
  creepShare: number;
  creepTauSec: number;
  /** Chance per reading of one cell being off by `glitchGrams` for that reading. */
  glitchChance: number;
  glitchGrams: number;
  /** Delay of a converter's filter. */
  cellDelayMs: number;
  /** Change of each zero while the sleeve warms up, up or down, and its time constant (also for the accelerometer). */
  warmingGrams: number;
  warmingTauSec: number;
  /** Where the accelerometer sits in the bottle's axes. */
  accelerometerMm: Readonly<Triple>;
  /** White noise of one accelerometer reading per axis, mg. */
  accelerometerNoiseMg: number;
  accelerometerDelayMs: number;
  /** Change of each axis while it warms up, up or down. */
  accelerometerDriftMg: Readonly<Triple>;
  /** Whether the sleeve has a gyroscope: without it no MOTION is sent. */
  gyroscope: boolean;
  /** White noise of one reading, half-width of the bias of a new sleeve, random walk of it: °/s. */
  gyroscopeNoiseDps: number;
  gyroscopeBiasDps: number;
  gyroscopeDriftDpsPerSqrtMin: number;
  gyroscopeDelayMs: number;
}

const CELL_LIMIT = 2 ** 23 - 1;
const COUNTS_PER_G = 8192;
const COUNTS_PER_DPS = 65.5;

/** A value that goes from 0 to 1 while a sleeve warms up, and the sign of its effect on each of three numbers. */
class Warming {
  readonly #ways: readonly number[];
  readonly #share: number;
  #cold = 1;

  constructor(seed: number, stream: string, tauSec: number, stepSec: number) {
    const random = new Random(seed, stream);
    this.#ways = [0, 0, 0].map(() => (random.uniform() < 0.5 ? -1 : 1));
    this.#share = Math.exp(-stepSec / tauSec);
  }

  step(): void {
    this.#cold *= this.#share;
  }

  /** @returns −1 to 1. */
  of(index: number): number {
    return this.#ways[index]! * (1 - this.#cold);
  }
}

export interface CellReading {
  counts: Triple;
  /** True where the converter was saturated. */
  saturated: [boolean, boolean, boolean];
}

/** Three load cells with their converters, 24 bits each. One call of `read` per sample. */
export class Cells {
  readonly #countsPerLoad: Matrix;
  readonly #countsPerGram: Triple;
  readonly #zero: Triple;
  readonly #p: SensorParameters;
  readonly #random: Random;
  readonly #coloured: readonly Wander[];
  readonly #driftGrams: Triple = [0, 0, 0];
  readonly #crept: Triple = [0, 0, 0];
  readonly #driftKickGrams: number;
  readonly #creepRate: number;
  readonly #delay: Delay;
  readonly #warming: Warming;

  constructor(sleeve: SleeveConstants, parameters: SensorParameters, seed: number, stepSec: number) {
    const { loadPerCount } = sleeve;
    this.#p = parameters;
    this.#random = new Random(seed, 'cells');
    this.#countsPerLoad = inverse(loadPerCount);
    this.#countsPerGram = mapTriple(
      [loadPerCount[1][0], loadPerCount[0][1], loadPerCount[0][2]],
      (newtonsPerCount) => newtonsFromGrams(1) / newtonsPerCount,
    );
    this.#zero = [...sleeve.zeroCounts];
    const coloured = parameters.cellColouredGrams * parameters.cellNoiseScale;
    this.#coloured = [0, 1, 2].map(() => new Wander(this.#random, coloured, 0.1, stepSec));
    this.#driftKickGrams = parameters.zeroDriftGramsPerSqrtMin * Math.sqrt(stepSec / 60);
    this.#creepRate = 1 - Math.exp(-stepSec / parameters.creepTauSec);
    this.#delay = new Delay(parameters.cellDelayMs / 1000, stepSec);
    this.#warming = new Warming(seed, 'warming of the cells', parameters.warmingTauSec, stepSec);
  }

  /** @param loads [Fx, Fz, M] in N, N, N·m */
  read(loads: Readonly<Triple>): CellReading {
    const p = this.#p;
    const ideal = this.#delay.step(times(this.#countsPerLoad, loads));
    this.#warming.step();
    const reading: CellReading = { counts: [0, 0, 0], saturated: [false, false, false] };
    for (let i = 0; i < 3; i++) {
      this.#driftGrams[i]! += this.#driftKickGrams * this.#random.normal();
      this.#crept[i]! += (ideal[i]! - this.#crept[i]!) * this.#creepRate;
      let grams = this.#driftGrams[i]! + this.#coloured[i]!.step();
      grams += p.warmingGrams * this.#warming.of(i);
      grams += p.cellWhiteGrams * p.cellNoiseScale * this.#random.normal();
      if (p.glitchChance > 0 && this.#random.uniform() < p.glitchChance) grams += p.glitchGrams;
      const exact =
        this.#zero[i]! +
        ideal[i]! +
        p.creepShare * (this.#crept[i]! - ideal[i]!) +
        grams * this.#countsPerGram[i]!;
      const counts = Math.min(Math.max(Math.round(exact), -CELL_LIMIT - 1), CELL_LIMIT);
      reading.counts[i] = counts;
      reading.saturated[i] = counts === CELL_LIMIT || counts === -CELL_LIMIT - 1;
    }
    return reading;
  }
}

/** Three axes of specific force, 1/8192 g per count. One call of `read` per sample. */
export class Accelerometer {
  readonly #sleeve: SleeveConstants;
  readonly #noiseG: number;
  readonly #driftG: Triple;
  readonly #random: Random;
  readonly #delay: Delay;
  readonly #warming: Warming;

  constructor(sleeve: SleeveConstants, parameters: SensorParameters, seed: number, stepSec: number) {
    this.#sleeve = sleeve;
    this.#noiseG = parameters.accelerometerNoiseMg / 1000;
    this.#driftG = mapTriple(parameters.accelerometerDriftMg, (mg) => mg / 1000);
    this.#random = new Random(seed, 'accelerometer');
    this.#delay = new Delay(parameters.accelerometerDelayMs / 1000, stepSec);
    this.#warming = new Warming(seed, 'warming of the accelerometer', parameters.warmingTauSec, stepSec);
  }

  read(feltG: Readonly<Triple>): Triple {
    const delayed = this.#delay.step(feltG);
    this.#warming.step();
    const counts: Triple = [0, 0, 0];
    for (let axis = 0; axis < 3; axis++) {
      const shown =
        delayed[axis]! * this.#sleeve.accelerometerScale[axis]! +
        this.#sleeve.accelerometerBiasG[axis]! +
        this.#driftG[axis]! * this.#warming.of(axis) +
        this.#noiseG * this.#random.normal();
      counts[axis] = int16(shown * COUNTS_PER_G);
    }
    return counts;
  }
}

/** Angular velocity about the three axes, 65.5 counts for 1 °/s, ±500 °/s. One call of `read` per sample. */
export class Gyroscope {
  readonly #constants: GyroscopeConstants;
  readonly #noiseDps: number;
  readonly #kickDps: number;
  readonly #driftDps: Triple = [0, 0, 0];
  readonly #random: Random;
  readonly #delay: Delay;

  constructor(constants: GyroscopeConstants, parameters: SensorParameters, seed: number, stepSec: number) {
    this.#constants = constants;
    this.#noiseDps = parameters.gyroscopeNoiseDps;
    this.#kickDps = parameters.gyroscopeDriftDpsPerSqrtMin * Math.sqrt(stepSec / 60);
    this.#random = new Random(seed, 'gyroscope');
    this.#delay = new Delay(parameters.gyroscopeDelayMs / 1000, stepSec);
  }

  read(radPerSec: Readonly<Triple>): Triple {
    const delayed = this.#delay.step(radPerSec);
    const { biasDps, scale } = this.#constants;
    const counts: Triple = [0, 0, 0];
    for (let axis = 0; axis < 3; axis++) {
      this.#driftDps[axis]! += this.#kickDps * this.#random.normal();
      const shown =
        degFromRad(delayed[axis]!) * scale[axis]! +
        biasDps[axis]! +
        this.#driftDps[axis]! +
        this.#noiseDps * this.#random.normal();
      counts[axis] = int16(shown * COUNTS_PER_DPS);
    }
    return counts;
  }
}

/** @returns °/s that a gyroscope's counts show. */
export const dpsFromCounts = (counts: Readonly<Triple>): Triple =>
  mapTriple(counts, (count) => count / COUNTS_PER_DPS);

const int16 = (number: number): number => Math.min(Math.max(Math.round(number), -32768), 32767);
