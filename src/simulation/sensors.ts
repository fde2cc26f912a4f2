/** The sleeve's cells and accelerometer as they truly are: gains, zeros, drift, noise, counts. */
import { newtonsFromGrams } from '../units.ts';
import { Random, Wander } from './random.ts';
import { inverse, type Matrix, type Triple, times } from './vectors.ts';

export interface SensorParameters {
  /** Factor on the cells' noise, white and coloured. */
  cellNoiseScale: number;
  /** White noise of one cell's reading, and coloured noise (forgotten in 0.1 s), grams of load. */
  cellWhiteGrams: number;
  cellColouredGrams: number;
  /** Random walk of each cell's zero, g/√min. */
  zeroDriftGramsPerSqrtMin: number;
  /** Part of a load that creeps in late (below 0: that is shown too much at first), and the time in which it does. */
  creepShare: number;
  creepTauSec: number;
  /** Chance per reading of one cell being off by `glitchGrams` for that reading. */
  glitchChance: number;
  glitchGrams: number;
  /** White noise of one accelerometer reading per axis, mg. */
  accelerometerNoiseMg: number;
}

/** What no two built sleeves share; drawn once per sleeve. */
export interface SleeveConstants {
  /** Rows Fx (N), Fz (N), M (N·m); columns axial, front, rear (sleeve contract, section 4). */
  loadPerCount: Matrix;
  zeroCounts: Triple;
  accelerometerBiasG: Triple;
  accelerometerScale: Triple;
}

const CELL_LIMIT = 2 ** 23 - 1;
const COUNTS_PER_G = 8192;

/** Places of the front and rear cell along the bottle, and an ordinary gain of each cell: an invented, plausible build. */
const FRONT_CELL_Z_M = 0.095;
const REAR_CELL_Z_M = 0.0215;
const AXIAL_N_PER_COUNT = 4e-6;
const CROSS_N_PER_COUNT = 3.1e-6;

export function drawSleeve(random: Random): SleeveConstants {
  const gain = (newtons: number): number => newtons * (1 + 0.03 * random.normal());
  const crosstalk = (newtons: number): number => newtons * 0.01 * random.normal();
  const axial = gain(AXIAL_N_PER_COUNT);
  const front = gain(CROSS_N_PER_COUNT);
  const rear = gain(CROSS_N_PER_COUNT);
  const frontZ = FRONT_CELL_Z_M + 0.0005 * random.normal();
  const rearZ = REAR_CELL_Z_M + 0.0005 * random.normal();
  const aboutZero = (size: number): Triple => [0, 0, 0].map(() => size * random.normal()) as Triple;
  return {
    loadPerCount: [
      [crosstalk(axial), front, rear],
      [axial, crosstalk(front), crosstalk(rear)],
      [crosstalk(axial) * 0.1, front * frontZ, rear * rearZ],
    ],
    zeroCounts: aboutZero(35_000).map(Math.round) as Triple,
    accelerometerBiasG: aboutZero(0.02),
    accelerometerScale: aboutZero(0.01).map((off) => 1 + off) as Triple,
  };
}

export interface CellReading {
  counts: Triple;
  /** True where the converter was at its end. */
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

  constructor(sleeve: SleeveConstants, parameters: SensorParameters, seed: number, stepSec: number) {
    const { loadPerCount } = sleeve;
    this.#p = parameters;
    this.#random = new Random(seed, 'cells');
    this.#countsPerLoad = inverse(loadPerCount);
    this.#countsPerGram = [loadPerCount[1][0], loadPerCount[0][1], loadPerCount[0][2]].map(
      (newtonsPerCount) => newtonsFromGrams(1) / newtonsPerCount,
    ) as Triple;
    this.#zero = [...sleeve.zeroCounts];
    const coloured = parameters.cellColouredGrams * parameters.cellNoiseScale;
    this.#coloured = [0, 1, 2].map(() => new Wander(this.#random, coloured, 0.1, stepSec));
    this.#driftKickGrams = parameters.zeroDriftGramsPerSqrtMin * Math.sqrt(stepSec / 60);
    this.#creepRate = 1 - Math.exp(-stepSec / parameters.creepTauSec);
  }

  /** @param loads [Fx, Fz, M] in N, N, N·m */
  read(loads: Readonly<Triple>): CellReading {
    const p = this.#p;
    const ideal = times(this.#countsPerLoad, loads);
    const reading: CellReading = { counts: [0, 0, 0], saturated: [false, false, false] };
    for (let i = 0; i < 3; i++) {
      this.#driftGrams[i]! += this.#driftKickGrams * this.#random.normal();
      this.#crept[i]! += (ideal[i]! - this.#crept[i]!) * this.#creepRate;
      let grams = this.#driftGrams[i]! + this.#coloured[i]!.step();
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

/** Three axes of specific force, 1/8192 g per count. */
export class Accelerometer {
  readonly #sleeve: SleeveConstants;
  readonly #noiseG: number;
  readonly #random: Random;

  constructor(sleeve: SleeveConstants, parameters: SensorParameters, seed: number) {
    this.#sleeve = sleeve;
    this.#noiseG = parameters.accelerometerNoiseMg / 1000;
    this.#random = new Random(seed, 'accelerometer');
  }

  read(feltG: Readonly<Triple>): Triple {
    const counts: Triple = [0, 0, 0];
    for (let axis = 0; axis < 3; axis++) {
      const shown =
        feltG[axis]! * this.#sleeve.accelerometerScale[axis]! +
        this.#sleeve.accelerometerBiasG[axis]! +
        this.#noiseG * this.#random.normal();
      counts[axis] = Math.min(Math.max(Math.round(shown * COUNTS_PER_G), -32768), 32767);
    }
    return counts;
  }
}
