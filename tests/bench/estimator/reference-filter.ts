/**
 * The reference of the bound: one plain Kalman filter whose noise is told to it, with the intakes of the last ten seconds as states of their own.
 * Shares nothing with the sensor's filter, so that a mistake there cannot hide here. Units g, mm, s.
 */

/** What a simulator does to the balance, as its own parameters say. */
export interface World {
  /** How much later the cells speak than the accelerometer. */
  lateSec: number;
  /** Couple of lips and jaw: spread at the lever of 0.1 m, correlation time. */
  coupleGrams: number;
  coupleSec: number;
  /** Where the mouth's force acts along the axis (from the tip) and across it: mean, spread, correlation time. */
  lineMm: number;
  lineSdMm: number;
  sideSdMm: number;
  lineSec: number;
  /** Scatter of a suck's milk from suck to suck, and from burst to burst, as a share of it. */
  suckScatter: number;
  burstScatter: number;
}

const MILK = 0;
const INTAKE = 1;
const PER_SUCK = 2;
const DEVIATION = 3;
const COUPLE = 4;
const LINE = 5;
const SIDE = 6;
const BIAS = 7;
const TILT_BIAS = 8;
const BIAS_X = 9;
const BIAS_Z = 10;
const STATES = 11;
/** Earlier intakes, one each 0.4 s, oldest first. */
export const EARLIER = 26;
const ALL = STATES + EARLIER;

const START_SD = { milk: 1, perSuck: 0.12, bias: 0.7, tiltBias: 0.7, massBias: 0.5 };
const BURST_SEC = 8;
const WALK = {
  perSuckPerSqrtSuck: 0.006,
  biasPerSqrtSec: 0.025,
  massPerSqrtSec: 0.03,
  rowGrams: 2.5,
  out: 0.05,
  changing: 12,
};

export interface ReferenceRow {
  stepSec: number;
  inMouth: boolean;
  /** As told: milk is being spilt or poured in; sucks give another amount from now on. */
  changing: boolean;
  anotherPerSuck: boolean;
  /** Number of sucks whose milk came in this step; may be a fraction. */
  units: number;
  /** Balance: reading less what the milk as believed shows, and what a gram, a mm along and across, and the felt force change of it. */
  balance: { left: number; perGram: number; perLineMm: number; perSideMm: number; perFelt: number } | null;
  /** Outright weighing: grams that hang there beside the empty bottle, and what a gram of milk shows. */
  weighing: { gramsX: number; milkX: number; gramsZ: number; milkZ: number } | null;
}

export class ReferenceFilter {
  readonly x = new Float64Array(ALL);
  readonly #c = new Float64Array(ALL * ALL);
  readonly #h = new Float64Array(ALL);
  readonly #seen = new Float64Array(ALL);
  readonly earlierAtSec: number[] = [];

  constructor(
    readonly world: World,
    milkGrams: number,
    perSuckGrams: number,
    perSuckSdGrams: number = START_SD.perSuck,
  ) {
    this.x[MILK] = milkGrams;
    this.x[PER_SUCK] = perSuckGrams;
    this.x[LINE] = world.lineMm;
    this.#add(MILK, START_SD.milk ** 2);
    this.#add(PER_SUCK, perSuckSdGrams ** 2);
    this.#add(LINE, world.lineSdMm ** 2);
    this.#add(SIDE, world.sideSdMm ** 2);
    this.#add(BIAS, START_SD.bias ** 2);
    this.#add(TILT_BIAS, START_SD.tiltBias ** 2);
    this.#add(BIAS_X, START_SD.massBias ** 2);
    this.#add(BIAS_Z, START_SD.massBias ** 2);
  }

  get milkGrams(): number {
    return this.x[MILK]!;
  }

  get intakeGrams(): number {
    return this.x[INTAKE]!;
  }

  /** Changes the estimate of a suck's milk by `moreGrams`. */
  expect(moreGrams: number): void {
    this.x[PER_SUCK] = this.x[PER_SUCK]! + moreGrams;
  }

  /** Earlier intakes as known now, oldest first; how many is `earlierAtSec.length`. */
  earlierGrams(i: number): number {
    return this.x[STATES + EARLIER - this.earlierAtSec.length + i]!;
  }

  /** Milk taken since the earlier intake `i`: mean and variance. */
  takenSince(i: number): { grams: number; variance: number } {
    const k = STATES + EARLIER - this.earlierAtSec.length + i;
    const c = this.#c;
    const variance = c[INTAKE * ALL + INTAKE]! + c[k * ALL + k]! - 2 * c[k * ALL + INTAKE]!;
    return { grams: this.x[INTAKE]! - this.x[k]!, variance: Math.max(0, variance) };
  }

  step(row: ReferenceRow): void {
    const milkBefore = this.x[MILK]!;
    this.#predict(row);
    const h = this.#h;
    if (row.balance !== null) {
      const { left, perGram, perLineMm, perSideMm, perFelt } = row.balance;
      h.fill(0);
      h[MILK] = perGram;
      h[COUPLE] = 1;
      h[LINE] = perLineMm;
      h[SIDE] = perSideMm;
      h[BIAS] = 1;
      h[TILT_BIAS] = perFelt;
      const expected = this.#expected() - perGram * milkBefore;
      this.#correct(left - expected, WALK.rowGrams ** 2);
    }
    if (row.weighing !== null) {
      const { gramsX, milkX, gramsZ, milkZ } = row.weighing;
      for (const [grams, perGram, bias] of [
        [gramsX, milkX, BIAS_X],
        [gramsZ, milkZ, BIAS_Z],
      ] as const) {
        h.fill(0);
        h[MILK] = perGram;
        h[bias] = 1;
        this.#correct(grams - this.#expected(), 1);
      }
    }
    for (const state of [MILK, PER_SUCK]) this.#holdAtNone(state);
  }

  /** Stores the present intake as one of the earlier intakes. */
  remember(atSec: number): void {
    const c = this.#c;
    for (let i = STATES; i < ALL - 1; i++) {
      this.x[i] = this.x[i + 1]!;
      c.copyWithin(i * ALL, (i + 1) * ALL, (i + 2) * ALL);
    }
    for (let i = 0; i < ALL; i++) c.copyWithin(i * ALL + STATES, i * ALL + STATES + 1, (i + 1) * ALL);
    const last = ALL - 1;
    this.x[last] = this.x[INTAKE]!;
    for (let i = 0; i < last; i++) {
      const shared = c[i * ALL + INTAKE]!;
      c[last * ALL + i] = shared;
      c[i * ALL + last] = shared;
    }
    c[last * ALL + last] = c[INTAKE * ALL + INTAKE]!;
    this.earlierAtSec.push(atSec);
    if (this.earlierAtSec.length > EARLIER) this.earlierAtSec.shift();
  }

  #predict({ stepSec, inMouth, units, changing, anotherPerSuck }: ReferenceRow): void {
    const { world, x } = this;
    const perSuck = Math.max(0.05, x[PER_SUCK]!);
    const lineKeep = inMouth ? Math.exp(-stepSec / world.lineSec) : 1;
    const coupleDecay = Math.exp(-stepSec / world.coupleSec);
    const deviationDecay = inMouth ? Math.exp(-stepSec / BURST_SEC) : 1;
    this.#moveMilk(x, 1, units);
    this.#moveMilk(this.#c, ALL, units);
    this.#moveMilk(this.#c, 1, units, ALL);
    x[LINE] = world.lineMm + (x[LINE]! - world.lineMm) * lineKeep;
    this.#fade(LINE, lineKeep, false);
    this.#fade(SIDE, lineKeep);
    this.#fade(COUPLE, coupleDecay);
    this.#fade(DEVIATION, deviationDecay);
    if (inMouth) {
      const scatter = (world.suckScatter * perSuck) ** 2 * units;
      this.#add(MILK, scatter);
      this.#add(INTAKE, scatter);
      this.#c[MILK * ALL + INTAKE] = this.#c[MILK * ALL + INTAKE]! - scatter;
      this.#c[INTAKE * ALL + MILK] = this.#c[INTAKE * ALL + MILK]! - scatter;
      this.#add(PER_SUCK, WALK.perSuckPerSqrtSuck ** 2 * units);
      this.#add(DEVIATION, (world.burstScatter * perSuck) ** 2 * (1 - deviationDecay ** 2));
      this.#add(LINE, world.lineSdMm ** 2 * (1 - lineKeep ** 2));
      this.#add(SIDE, world.sideSdMm ** 2 * (1 - lineKeep ** 2));
      this.#add(COUPLE, world.coupleGrams ** 2 * (1 - coupleDecay ** 2));
    } else this.#add(MILK, (changing ? WALK.changing : WALK.out) ** 2 * stepSec);
    if (anotherPerSuck) this.#add(PER_SUCK, START_SD.perSuck ** 2);
    this.#add(BIAS, WALK.biasPerSqrtSec ** 2 * stepSec);
    this.#add(BIAS_X, WALK.massPerSqrtSec ** 2 * stepSec);
    this.#add(BIAS_Z, WALK.massPerSqrtSec ** 2 * stepSec);
  }

  /** Moves the milk of the sucks from the state milk to the state intake, in a vector or in every row or column of a matrix. */
  #moveMilk(of: Float64Array, rows: number, units: number, stride = 1): void {
    for (let k = 0; k < (stride === 1 ? rows : ALL); k++) {
      const at = stride === 1 ? k * ALL : k;
      const taken = units * (of[at + PER_SUCK * stride]! + of[at + DEVIATION * stride]!);
      of[at + MILK * stride] = of[at + MILK * stride]! - taken;
      of[at + INTAKE * stride] = of[at + INTAKE * stride]! + taken;
    }
  }

  #fade(state: number, keep: number, mean = true): void {
    if (mean) this.x[state] = this.x[state]! * keep;
    for (let i = 0; i < ALL; i++) {
      this.#c[state * ALL + i] = this.#c[state * ALL + i]! * keep;
      this.#c[i * ALL + state] = this.#c[i * ALL + state]! * keep;
    }
  }

  #add(state: number, variance: number): void {
    this.#c[state * ALL + state] = this.#c[state * ALL + state]! + variance;
  }

  #expected(): number {
    let sum = 0;
    for (let i = 0; i < STATES; i++) sum += this.#h[i]! * this.x[i]!;
    return sum;
  }

  #correct(innovation: number, variance: number): void {
    const c = this.#c;
    let expected = variance;
    for (let i = 0; i < ALL; i++) {
      let sum = 0;
      for (let j = 0; j < STATES; j++) sum += c[i * ALL + j]! * this.#h[j]!;
      this.#seen[i] = sum;
      if (i < STATES) expected += this.#h[i]! * sum;
    }
    const s = Math.max(expected, (innovation * innovation) / 9);
    for (let i = 0; i < ALL; i++) {
      const gain = this.#seen[i]! / s;
      this.x[i] = this.x[i]! + gain * innovation;
      for (let j = 0; j < ALL; j++) c[i * ALL + j] = c[i * ALL + j]! - gain * this.#seen[j]!;
    }
  }

  /** Neither milk nor what a suck gives is less than none: all else moves along, the covariance stays. */
  #holdAtNone(state: number): void {
    const missing = -this.x[state]!;
    const variance = this.#c[state * ALL + state]!;
    if (missing <= 0 || variance <= 1e-12) return;
    for (let i = 0; i < ALL; i++) this.x[i] = this.x[i]! + (this.#c[i * ALL + state]! / variance) * missing;
  }
}
