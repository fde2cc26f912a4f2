/**
 * A whole simulated feed: baby, caregiver, bottle and sleeve, one sample per step of 12.5 ms.
 * Pure: the same options give the same samples; no clock, no disk, no randomness but the seed's.
 */
import { SAMPLE_FLAGS, type Sample } from '../../firmware-bridge/wire/messages.ts';
import { radFromDeg } from '../units.ts';
import { Baby, type Offered } from './baby.ts';
import { type MovingBurden, shellLoads, turningLoads } from './balance.ts';
import {
  exactCalibration,
  foundGyroscope,
  goodCalibration,
  type SleeveCalibration,
  withMotionParts,
} from './calibration.ts';
import { Caregiver, type Noticed, type SeenCue } from './caregiver.ts';
import { Chip, type Stamp } from './chip.ts';
import { Hand, Leaning } from './hand.ts';
import { Liquid } from './liquid.ts';
import { type MilkCentre, milkCentreOf, noMilkPlace } from './milk-centre.ts';
import { isMotionFault, MotionFaults } from './motion-faults.ts';
import type { FeedParameters } from './parameters.ts';
import { Random } from './random.ts';
import { type FeedOptions, parametersOf } from './scenarios.ts';
import { Accelerometer, type CellReading, Cells, drawGyroscope, drawSleeve, Gyroscope } from './sensors.ts';
import { type FeedTruth, type MilkAccount, TruthWriter } from './truth.ts';
import { feltAt, STILL, type Turn } from './turning.ts';
import type { Triple } from './vectors.ts';

const SAMPLES_PER_SEC = 80;
/** Time from sample to sample, s. */
export const SAMPLE_SEC = 1 / SAMPLES_PER_SEC;

const CELL_FAULTS: readonly string[] = ['axialCellFault', 'frontCellFault', 'rearCellFault'];

/** The truth of one step. */
export interface TruthNow extends MilkAccount {
  /** True time since the first sample, s. */
  atSec: number;
  onMouth: boolean;
  tiltDeg: number;
  rollDeg: number;
  /** Milk's surface over the teat's hole, mm; covered while above 0. */
  headMm: number;
  /** Mouth on the bottle: across (lifting > 0) and along (suction > 0), N. */
  mouthForceXN: number;
  mouthForceZN: number;
  sucks: number;
  /** Noise-free felt force where the accelerometer is, g, and shell loads [Fx, Fz, M] in N, N, N·m. */
  feltG: Triple;
  loads: Triple;
  /** How the bottle turns; still while turning is left out. */
  turn: Turn;
}

/** What a gyroscope shows beside the SAMPLE of that sequence: counts about x, y, z. */
export interface MotionReading {
  sequence: number;
  rate: Triple;
}

export interface SimulatedStep {
  /** Null when this sample was lost on the way, or the chip is starting up. */
  sample: Sample | null;
  /** Null where there is no gyroscope, and with a lost sample. */
  motion: MotionReading | null;
  truth: TruthNow;
}

export type { FeedOptions };

export const createSimulatedFeed = (options: FeedOptions): SimulatedFeed => new SimulatedFeed(options);

export class SimulatedFeed {
  readonly parameters: FeedParameters;
  /** As a good calibration leaves it, and everything known (sleeve contract, section 4). */
  readonly calibration: SleeveCalibration;
  readonly exactCalibration: SleeveCalibration;
  readonly #milkCentre: MilkCentre;
  readonly #baby: Baby;
  readonly #caregiver: Caregiver;
  readonly #hand: Hand;
  readonly #leaning: Leaning;
  readonly #collar: Leaning;
  readonly #cells: Cells;
  readonly #accelerometer: Accelerometer;
  readonly #gyroscope: Gyroscope | null;
  readonly #motionFaults: MotionFaults;
  readonly #chip: Chip;
  readonly #writer = new TruthWriter();
  readonly #account: MilkAccount;
  readonly #liquid: Liquid;
  readonly #burden: MovingBurden;
  /** Felt force where the accelerometer is and where the milk is, g. */
  readonly #shownG: Triple = [0, 0, 1];
  readonly #milkG: Triple = [0, 0, 1];
  readonly #noticed: Noticed;
  readonly #offered: Offered;
  #steps = 0;
  #headMm = 0;
  #bottleOut = false;
  #stuckCounts: number | null = null;
  #firstLatchSec: number | null = null;

  /** @throws RangeError when the parameters cannot be: more milk than the bottle holds, an unknown scenario */
  constructor(options: FeedOptions) {
    const { seed } = options;
    const parameters = parametersOf(options);
    this.parameters = parameters;
    this.#milkCentre = milkCentreOf(parameters.bottle.innerProfileMm);
    if (!(parameters.milkMl >= 0 && parameters.milkMl <= this.#milkCentre.capacityMl)) {
      const capacity = Math.floor(this.#milkCentre.capacityMl);
      throw new RangeError(`milkMl is ${parameters.milkMl}; the simulated bottle holds 0 to ${capacity} mL.`);
    }
    const sleeve = drawSleeve(new Random(seed, 'sleeve'));
    const gyroscope = parameters.sensors.gyroscope
      ? drawGyroscope(parameters.sensors, new Random(seed, 'gyroscope itself'))
      : null;
    const { calibrationErrorScale, statedAccelerometerZMm, sensors } = parameters;
    const exact = exactCalibration(sleeve, parameters.bottle, `simulated-${seed}`);
    const good = goodCalibration(exact, new Random(seed, 'calibration'), calibrationErrorScale);
    const found =
      gyroscope &&
      foundGyroscope(gyroscope, new Random(seed, 'calibration of the gyroscope'), calibrationErrorScale);
    const accelerometerZMm = statedAccelerometerZMm ?? sensors.accelerometerZMm;
    this.exactCalibration = withMotionParts(exact, { accelerometerZMm, gyroscope });
    this.calibration = withMotionParts(good, { accelerometerZMm, gyroscope: found });
    this.#baby = new Baby(parameters, seed, SAMPLE_SEC);
    this.#caregiver = new Caregiver(parameters.caregiver, seed);
    this.#hand = new Hand(parameters.hand, seed, SAMPLE_SEC);
    this.#leaning = new Leaning(parameters.leaning, seed, SAMPLE_SEC);
    this.#collar = new Leaning(parameters.collar, seed, SAMPLE_SEC, 'collar');
    this.#liquid = new Liquid(parameters.liquid, this.#milkCentre, SAMPLE_SEC);
    this.#cells = new Cells(sleeve, parameters.sensors, seed, SAMPLE_SEC);
    this.#accelerometer = new Accelerometer(sleeve, parameters.sensors, seed, SAMPLE_SEC);
    this.#gyroscope = gyroscope && new Gyroscope(gyroscope, parameters.sensors, seed, SAMPLE_SEC);
    this.#motionFaults = new MotionFaults(parameters.chip.faults);
    this.#chip = new Chip(parameters.chip, seed);
    this.#account = { milkMl: parameters.milkMl, intakeMl: 0, spiltMl: 0, addedMl: 0 };
    const { emptyMassGrams, emptyCentreZMm, emptyGyrationMm } = parameters.bottle;
    this.#burden = {
      emptyMassGrams,
      emptyCentreZMm,
      emptyInertiaMm2: emptyGyrationMm ** 2,
      milkMassGrams: 0,
      milkXMm: 0,
      milkYMm: 0,
      milkZMm: 0,
      milkInertiaMm2: 0,
      milkAccelerationX: 0,
      milkAccelerationZ: 0,
    };
    this.#noticed = { atSec: 0, milkMl: 0, intakeMl: 0, sucks: 0, babyPausing: true, coverTiltDeg: 90 };
    this.#offered = { teatIn: false, headMm: 0, milkMl: 0, intakeMl: 0, feedSec: 0 };
  }

  /** The feed is over and the bottle stands on the table; stepping on gives more of that. */
  get done(): boolean {
    return this.#caregiver.over;
  }

  /** Everything so far. */
  get truth(): FeedTruth {
    return this.#writer.read();
  }

  /** True time of the next sample, s. */
  get nextSec(): number {
    return this.#steps / SAMPLES_PER_SEC;
  }

  /** The chip is starting up after a reset: no samples, and it hears nothing. */
  get chipAway(): boolean {
    return this.#chip.away;
  }

  /** What the caregiver sees or hears just now. */
  perceive(cue: SeenCue | null): void {
    this.#caregiver.perceive(cue, this.nextSec);
  }

  /** The chip starts anew: no samples for a second or so, its clock and sequence from zero. */
  resetChip(): void {
    this.#writer.event(this.nextSec, 'chip-reset', this.#account.milkMl);
    this.#chip.reset(this.nextSec);
  }

  step(): SimulatedStep {
    const atSec = this.nextSec;
    this.#steps += 1;
    this.#care(atSec);
    const { teatIn } = this.#caregiver;
    this.#hand.step(this.#caregiver.wantedTiltDeg, this.#caregiver.onTable);
    this.#leaning.step();
    this.#collar.step();
    this.#settleLiquid();
    this.#drink(atSec, teatIn);
    this.#doTask();
    const loads = this.#weigh();
    const reading = this.#cells.read(loads);
    const { accelerometerZMm } = this.parameters.sensors;
    const accelerometer = this.#accelerometer.read(this.#felt([0, 0, accelerometerZMm], this.#shownG));
    const rate = this.#gyroscope?.read(this.#turn.rate) ?? null;
    const { stamp, resetNow } = this.#chip.step(atSec);
    if (resetNow) this.#writer.event(atSec, 'chip-reset', this.#account.milkMl);
    this.#writer.step(atSec, SAMPLE_SEC, this.#account, teatIn, stamp !== null);
    const composed = stamp && this.#compose(stamp, reading, accelerometer, atSec);
    const motion = stamp && rate && this.#motionFaults.showing({ sequence: stamp.sequence, rate }, atSec);
    const sample = this.#motionFaults.losesSample(atSec) ? null : composed;
    return { sample, motion, truth: this.#now(atSec, teatIn, loads) };
  }

  get #turn(): Turn {
    return this.#hand.turn ?? STILL;
  }

  /** @returns specific force at a point of the bottle, mm, in g: `out` filled, or the hand's own while turning is left out */
  #felt(at: Readonly<Triple>, out: Triple): Readonly<Triple> {
    const { turn, feltG } = this.#hand;
    return turn ? feltAt(feltG, this.parameters.hand.holdsAtZMm, turn, at, out) : feltG;
  }

  #care(atSec: number): void {
    const noticed = this.#noticed;
    noticed.atSec = atSec;
    noticed.milkMl = this.#account.milkMl;
    noticed.intakeMl = this.#account.intakeMl;
    noticed.sucks = this.#baby.sucks;
    noticed.babyPausing = this.#baby.pausing;
    if (this.#steps % 40 === 1) noticed.coverTiltDeg = this.#coverTiltDeg();
    this.#caregiver.step(noticed);
    const event = this.#caregiver.teatEvent;
    if (event) this.#writer.event(atSec, event, this.#account.milkMl);
    if (event === 'latch') this.#firstLatchSec ??= atSec;
    if (this.#caregiver.sideChanged) this.#baby.changeSide(this.#account.intakeMl);
  }

  /** The liquid follows the force that is felt where it is; so does its surface. */
  #settleLiquid(): void {
    const liquid = this.#liquid;
    liquid.step(this.#account.milkMl, this.#felt(liquid.centreMm, this.#milkG));
    const { tiltRad, place, centreMm, accelerationMps2 } = liquid;
    this.#headMm = place.surfaceMm - this.parameters.bottle.teatTipZMm * Math.cos(tiltRad);
    [this.#burden.milkXMm, this.#burden.milkYMm, this.#burden.milkZMm] = centreMm;
    this.#burden.milkInertiaMm2 = place.inertiaMm2;
    this.#burden.milkAccelerationX = accelerationMps2[0];
    this.#burden.milkAccelerationZ = accelerationMps2[2];
  }

  #drink(atSec: number, teatIn: boolean): void {
    const account = this.#account;
    const offered = this.#offered;
    offered.teatIn = teatIn;
    offered.headMm = account.milkMl > 0 ? this.#headMm : 0;
    offered.milkMl = account.milkMl;
    offered.intakeMl = account.intakeMl;
    offered.feedSec = this.#firstLatchSec === null ? 0 : atSec - this.#firstLatchSec;
    this.#baby.step(offered);
    if (this.#baby.suckBegan) this.#writer.suck(atSec);
    account.milkMl -= this.#baby.drawnMl;
    account.intakeMl += this.#baby.drawnMl;
  }

  /** Spilling, pouring, changing the bottle: what the caregiver is at just now. */
  #doTask(): void {
    const { task } = this.#caregiver;
    const account = this.#account;
    const { bottle } = this.parameters;
    if (task?.kind === 'spill' && this.#headMm > 0) {
      const outMl = Math.min(account.milkMl, task.mlPerSec * SAMPLE_SEC);
      account.milkMl -= outMl;
      account.spiltMl += outMl;
    } else if (task?.kind === 'pour-in') {
      const inMl = Math.min(this.#milkCentre.capacityMl - account.milkMl, task.mlPerSec * SAMPLE_SEC);
      account.milkMl += inMl;
      account.addedMl += inMl;
    } else if (task?.kind === 'bottle-in') {
      account.addedMl += task.milkMl - account.milkMl;
      account.milkMl = task.milkMl;
    }
    this.#bottleOut = task?.kind === 'bottle-out';
    this.#burden.emptyMassGrams = this.#bottleOut ? bottle.cupMassGrams : bottle.emptyMassGrams;
    this.#burden.emptyCentreZMm = this.#bottleOut ? bottle.cupCentreZMm : bottle.emptyCentreZMm;
    this.#burden.emptyInertiaMm2 = (this.#bottleOut ? bottle.cupGyrationMm : bottle.emptyGyrationMm) ** 2;
  }

  #weigh(): Triple {
    const massGrams = this.#account.milkMl * this.parameters.densityGramsPerMl;
    this.#burden.milkMassGrams = this.#bottleOut ? 0 : massGrams;
    const { feltG } = this.#hand;
    const touches = [this.#baby.mouth, this.#leaning.touch, this.#collar.touch];
    const loads = shellLoads(this.#burden, feltG, touches);
    const { holdsAtZMm } = this.parameters.hand;
    const turning = turningLoads(this.#burden, feltG, holdsAtZMm, this.#turn);
    return loads.map((load, i) => load + turning[i]!) as Triple;
  }

  /** @returns the flattest tilt that keeps the wanted depth of milk over the hole, by halving; 60° to 165°. */
  #coverTiltDeg(): number {
    const place = noMilkPlace();
    const { bottle, caregiver } = this.parameters;
    const headAt = (tiltDeg: number): number => {
      const tiltRad = radFromDeg(tiltDeg);
      this.#milkCentre.locate(this.#account.milkMl, tiltRad, place);
      return place.surfaceMm - bottle.teatTipZMm * Math.cos(tiltRad);
    };
    let bare = 60;
    let covered = 165;
    while (covered - bare > 0.5) {
      const middle = (bare + covered) / 2;
      if (headAt(middle) >= caregiver.coverDepthMm) covered = middle;
      else bare = middle;
    }
    return covered;
  }

  #compose(stamp: Stamp, { counts, saturated }: CellReading, accelerometer: Triple, atSec: number): Sample {
    let flags = stamp.firstAfterReset ? SAMPLE_FLAGS.firstAfterReset : 0;
    for (let cell = 0; cell < 3; cell++) if (saturated[cell]) flags |= 1 << cell;
    for (const { what, fromSec, toSec } of this.parameters.chip.faults) {
      if (atSec < fromSec || atSec >= toSec) continue;
      if (what === 'frontCellStuck') {
        this.#stuckCounts ??= counts[1];
        counts[1] = this.#stuckCounts;
        continue;
      }
      if (isMotionFault(what)) continue;
      flags |= SAMPLE_FLAGS[what];
      const cell = CELL_FAULTS.indexOf(what);
      if (cell >= 0) counts[cell] = 0;
      if (what === 'accelerometerFault') accelerometer.fill(0);
    }
    return { sequence: stamp.sequence, timeMicros: stamp.timeMicros, cells: counts, accelerometer, flags };
  }

  #now(atSec: number, onMouth: boolean, loads: Triple): TruthNow {
    const feltG = this.#hand.turn ? this.#shownG : this.#hand.feltG;
    const { rate, acceleration } = this.#turn;
    const { forceXN, forceZN } = this.#baby.mouth;
    const { milkMl, intakeMl, spiltMl, addedMl } = this.#account;
    return {
      atSec,
      milkMl,
      intakeMl,
      spiltMl,
      addedMl,
      onMouth,
      tiltDeg: this.#hand.tiltDeg,
      rollDeg: this.#hand.rollDeg,
      headMm: this.#headMm,
      mouthForceXN: forceXN,
      mouthForceZN: forceZN,
      sucks: this.#baby.sucks,
      feltG: [feltG[0], feltG[1], feltG[2]],
      loads,
      turn: { rate: [...rate], acceleration: [...acceleration] },
    };
  }
}
