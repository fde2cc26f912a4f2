/**
 * Calibration of a sleeve on a kitchen table: fixtures with small errors, a hand that does not hold exactly the pose asked for, zeros that
 * drift with time. It gives raw samples as the sleeve would send them, and keeps the truth.
 */

import { Random } from '../base/random.ts';
import { mapTriple } from '../base/typed.ts';
import { newtonsFromGrams } from '../base/units.ts';
import { shellLoads } from './balance.ts';
import {
  type BenchErrors,
  type BenchLoad,
  type BenchOptions,
  type BenchSample,
  REALISTIC_ERRORS,
} from './bench-setting.ts';
import { type BottleShape, DEFAULT_BOTTLE } from './bottle.ts';
import { PLAIN_PARAMETERS } from './defaults.ts';
import { drawSleeve, type SleeveConstants } from './drawn-sleeve.ts';
import { milkCentreOf, noMilkPlace } from './milk-centre.ts';
import { Accelerometer, Cells, type SensorParameters } from './sensors.ts';
import { across, inverse, type Matrix, type Triple, times, unit } from './vectors.ts';

const STEP_SEC = 1 / 80;
const DENSITY_WATER = 0.9982;

export class CalibrationBench {
  readonly sleeve: SleeveConstants;
  readonly bottle: BottleShape;
  readonly #errors: BenchErrors;
  readonly #random: Random;
  readonly #cells: Cells;
  readonly #accelerometer: Accelerometer;
  readonly #chip: Matrix;
  readonly #countsPerGram: Triple;
  readonly #countsPerLoad: Matrix;
  readonly #driftGramsPerSqrtMin: number;
  readonly #driftedCounts: Triple = [0, 0, 0];
  /** Creep of each cell: its share, its present load, and the creep reached so far, counts. */
  readonly #creepShares: Triple;
  readonly #creepTauSec: number;
  #idealCounts: Triple = [0, 0, 0];
  readonly #creptCounts: Triple = [0, 0, 0];
  readonly #stacks = new Map<string, number>();
  readonly #placements = new Map<string, readonly [number, number]>();
  #atSec = 0;

  constructor({ seed, errors = REALISTIC_ERRORS, bottle = DEFAULT_BOTTLE, sensors, sleeve }: BenchOptions) {
    const parameters: SensorParameters = { ...PLAIN_PARAMETERS.sensors, ...sensors };
    this.#random = new Random(seed, 'calibration bench');
    this.sleeve = sleeve ?? drawSleeve(new Random(seed, 'sleeve'));
    this.bottle = bottle;
    this.#errors = errors;
    // The bench itself simulates drift and creep, since they must continue between holds while nobody reads the sensors.
    const still = { ...parameters, zeroDriftGramsPerSqrtMin: 0, creepShare: 0 };
    this.#cells = new Cells(this.sleeve, still, seed, STEP_SEC);
    const creep = new Random(seed, 'creep');
    this.#creepShares = mapTriple(
      [0, 0, 0],
      () => parameters.creepShare + creep.between([-errors.creepShare, errors.creepShare]),
    );
    this.#creepTauSec = parameters.creepTauSec;
    this.#driftGramsPerSqrtMin = parameters.zeroDriftGramsPerSqrtMin;
    this.#accelerometer = new Accelerometer(this.sleeve, parameters, seed, STEP_SEC);
    this.#chip = this.#drawChip();
    const { loadPerCount } = this.sleeve;
    this.#countsPerLoad = inverse(loadPerCount);
    this.#countsPerGram = mapTriple(
      [loadPerCount[1][0], loadPerCount[0][1], loadPerCount[0][2]],
      (newtons) => newtonsFromGrams(1) / newtons,
    );
  }

  /** Zero of each cell at this moment, counts. */
  get zeroCounts(): Triple {
    return mapTriple(this.sleeve.zeroCounts, (zero, i) => zero + this.#driftedCounts[i]!);
  }

  get loadPerCount(): Matrix {
    return this.sleeve.loadPerCount;
  }

  get atSec(): number {
    return this.#atSec;
  }

  /** Counts for this load at this moment, without noise. @param loads Fx N, Fz N, M N·m */
  countsOf(loads: Readonly<Triple>): Triple {
    const counts = times(this.#countsPerLoad, loads);
    return mapTriple(counts, (count, i) => count + this.zeroCounts[i]!);
  }

  /** Reading of the chip for this felt force, 1/8192 g, without noise. */
  readingOf(feltG: Readonly<Triple>): Triple {
    return mapTriple(
      times(this.#chip, feltG),
      (g, i) => 8192 * (g * this.sleeve.accelerometerScale[i]! + this.sleeve.accelerometerBiasG[i]!),
    );
  }

  /** Lets time pass; the load stays as it was. */
  pass(sec: number): void {
    const kick = this.#driftGramsPerSqrtMin * Math.sqrt(sec / 60);
    const crept = 1 - Math.exp(-sec / this.#creepTauSec);
    for (let i = 0; i < 3; i++) {
      this.#driftedCounts[i]! += kick * this.#random.normal() * this.#countsPerGram[i]!;
      this.#creptCounts[i]! += (this.#idealCounts[i]! - this.#creptCounts[i]!) * crept;
    }
    this.#atSec += sec;
  }

  /**
   * Holds the sleeve near a direction for some seconds.
   * @param asked felt direction asked for, in the sleeve's axes; held with the pose error
   */
  hold(asked: Readonly<Triple>, load: BenchLoad, sec = 3): BenchSample[] {
    const samples: BenchSample[] = [];
    const held = this.#nearby(asked);
    const tremor = load.tremorDeg ?? 0;
    for (let i = 0; i < sec / STEP_SEC; i++) {
      this.pass(STEP_SEC);
      const felt = tremor > 0 ? this.#turned(held, tremor) : held;
      const loads = this.#loads(felt, load);
      const read = this.#cells.read(loads);
      this.#idealCounts = times(this.#countsPerLoad, loads);
      const cells = mapTriple(read.counts, (count, k) =>
        Math.round(count + this.#driftedCounts[k]! + this.#creepOf(k)),
      );
      const accelerometer = this.#accelerometer.read(times(this.#chip, felt));
      samples.push({
        atSec: this.#atSec,
        cells,
        accelerometer,
        flags: 0,
        missingBefore: 0,
        resetBefore: false,
      });
    }
    return samples;
  }

  /** Present error of a cell by creep, counts. */
  #creepOf(cell: number): number {
    return this.#creepShares[cell]! * (this.#creptCounts[cell]! - this.#idealCounts[cell]!);
  }

  #loads(felt: Readonly<Triple>, load: BenchLoad): Triple {
    const withBottle = load.bottleWithGrams ?? null;
    const { bottle } = this;
    const burden = {
      emptyMassGrams: withBottle === null ? bottle.cupMassGrams : bottle.emptyMassGrams,
      emptyCentreZMm: withBottle === null ? bottle.cupCentreZMm : bottle.emptyCentreZMm,
      milkMassGrams: 0,
      milkXMm: 0,
      milkZMm: 0,
    };
    if (withBottle) {
      const place = milkCentreOf(bottle.innerProfileMm).locate(
        withBottle / DENSITY_WATER,
        Math.acos(Math.max(-1, Math.min(1, felt[2] / Math.hypot(...felt)))),
        noMilkPlace(),
      );
      const sideways = Math.hypot(felt[0], felt[1]);
      burden.milkMassGrams = withBottle;
      // The milk lies on the side against the felt force's sideways part; only its x part acts on the balance.
      burden.milkXMm = sideways > 1e-9 ? (place.lateralMm * felt[0]) / sideways : 0;
      burden.milkZMm = place.zMm;
    }
    const total = shellLoads(burden, felt, []);
    for (const mass of load.masses ?? []) {
      const [xMm, zMm] = this.#placeOf(mass);
      const newtons = newtonsFromGrams(this.#trueGrams(mass.stack, mass.grams));
      total[0] += newtons * felt[0];
      total[1] += newtons * felt[2];
      total[2] += (newtons * (felt[0] * zMm - felt[2] * xMm)) / 1000;
    }
    if (load.push) {
      total[0] -= load.push.xN;
      total[1] -= load.push.zN;
      total[2] -= (bottle.teatTipZMm * load.push.xN) / 1000;
    }
    return total;
  }

  #trueGrams(stack: string, grams: number): number {
    if (!this.#stacks.has(stack)) this.#stacks.set(stack, this.#off(this.#errors.massGrams));
    return grams + this.#stacks.get(stack)!;
  }

  #placeOf({ putOn, xMm, zMm }: { putOn: string; xMm: number; zMm: number }): readonly [number, number] {
    if (!this.#placements.has(putOn)) {
      const off = this.#errors.placeMm;
      this.#placements.set(putOn, [xMm + this.#off(off), zMm + this.#off(off)]);
    }
    return this.#placements.get(putOn)!;
  }

  #off(halfWidth: number): number {
    return this.#random.between([-halfWidth, halfWidth]);
  }

  /** The asked direction with the pose error about two axes across it. */
  #nearby(asked: Readonly<Triple>): Triple {
    const off = Math.tan((this.#errors.poseDeg * Math.PI) / 180);
    const [one, other] = across(asked);
    const a = this.#off(off);
    const b = this.#off(off);
    return unit(mapTriple(asked, (entry, i) => entry + a * one[i]! + b * other[i]!));
  }

  #turned(held: Readonly<Triple>, degrees: number): Triple {
    const [one, other] = across(held);
    const size = (degrees * Math.PI) / 180;
    const a = size * this.#random.normal();
    const b = size * this.#random.normal();
    return unit(mapTriple(held, (entry, i) => entry + a * one[i]! + b * other[i]!));
  }

  #drawChip(): Matrix {
    const { chipTurnDeg, chipSkew } = this.#errors;
    const [x, y, z] = mapTriple([0, 0, 0], () => (this.#off(chipTurnDeg) * Math.PI) / 180);
    const skew = mapTriple([0, 0, 0], () => chipSkew * this.#random.normal());
    // Small rotations: the second order of 1.5° is 0.03 % and only adds a little skew.
    return [
      [1, -z + skew[0], y + skew[1]],
      [z + skew[0], 1, -x + skew[2]],
      [-y + skew[1], x + skew[2], 1],
    ];
  }
}
