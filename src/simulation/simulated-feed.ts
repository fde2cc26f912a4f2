/**
 * A whole simulated feed: baby, caregiver, bottle and sleeve, one sample per step of 12.5 ms.
 * Pure: the same options give the same samples; no clock, no disk, no randomness except from the seed.
 */
import { SAMPLE_FLAGS, type Sample } from '../../firmware-bridge/wire/messages.ts';
import { radFromDeg } from '../base/units.ts';
import { Baby, type Offered } from './baby.ts';
import type { SleeveCalibration } from './calibration.ts';
import { Caregiver, type Noticed, type SeenCue } from './caregiver.ts';
import { Chip, type Stamp } from './chip.ts';
import { HeldBottle } from './held-bottle.ts';
import { type MilkCentre, milkCentreOf, noMilkPlace } from './milk-centre.ts';
import { isMotionFault, MotionFaults } from './motion-faults.ts';
import type { FeedParameters } from './parameters.ts';
import { type FeedOptions, parametersOf } from './scenarios.ts';
import { type CellReading, dpsFromCounts } from './sensors.ts';
import { SleeveSensors } from './sleeve-sensors.ts';
import { type FeedTruth, type MilkAccount, type SimulatedStep, type TruthNow, TruthWriter } from './truth.ts';
import type { Triple } from './vectors.ts';

const SAMPLES_PER_SEC = 80;
/** Time from sample to sample, s. */
export const SAMPLE_SEC = 1 / SAMPLES_PER_SEC;

const CELL_FAULTS: readonly string[] = ['axialCellFault', 'frontCellFault', 'rearCellFault'];

export type { FeedOptions };

export const createSimulatedFeed = (options: FeedOptions): SimulatedFeed => new SimulatedFeed(options);

export class SimulatedFeed {
  readonly parameters: FeedParameters;
  readonly #milkCentre: MilkCentre;
  readonly #baby: Baby;
  readonly #caregiver: Caregiver;
  readonly #held: HeldBottle;
  readonly #sensors: SleeveSensors;
  readonly #motionFaults: MotionFaults;
  readonly #chip: Chip;
  readonly #writer = new TruthWriter();
  readonly #account: MilkAccount;
  readonly #shownG: Triple = [0, 0, 1];
  readonly #noticed: Noticed;
  readonly #offered: Offered;
  #steps = 0;
  #stuckCounts: number | null = null;
  #firstLatchSec: number | null = null;

  /** @throws RangeError when the parameters are impossible: more milk than the bottle holds, an unknown scenario */
  constructor(options: FeedOptions) {
    const { seed } = options;
    const parameters = parametersOf(options);
    this.parameters = parameters;
    this.#milkCentre = milkCentreOf(parameters.bottle.innerProfileMm);
    if (!(parameters.milkMl >= 0 && parameters.milkMl <= this.#milkCentre.capacityMl)) {
      const capacity = Math.floor(this.#milkCentre.capacityMl);
      throw new RangeError(`milkMl is ${parameters.milkMl}; the simulated bottle holds 0 to ${capacity} mL.`);
    }
    this.#sensors = new SleeveSensors(parameters, seed, SAMPLE_SEC);
    this.#held = new HeldBottle(parameters, seed, SAMPLE_SEC);
    this.#baby = new Baby(parameters, seed, SAMPLE_SEC);
    this.#caregiver = new Caregiver(parameters.caregiver, seed);
    this.#motionFaults = new MotionFaults(parameters.chip.faults);
    this.#chip = new Chip(parameters.chip, seed);
    this.#account = { milkMl: parameters.milkMl, intakeMl: 0, spiltMl: 0, addedMl: 0 };
    this.#noticed = { atSec: 0, milkMl: 0, intakeMl: 0, sucks: 0, babyPausing: true, coverTiltDeg: 90 };
    this.#offered = { teatIn: false, headMm: 0, milkMl: 0, intakeMl: 0, feedSec: 0 };
  }

  /** With the errors of a good calibration (sleeve contract, section 4). */
  get calibration(): SleeveCalibration {
    return this.#sensors.calibration;
  }

  /** Without errors. */
  get exactCalibration(): SleeveCalibration {
    return this.#sensors.exactCalibration;
  }

  /** The feed is over and the bottle stands on the table; further steps continue with that. */
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

  /** The cue that the caregiver sees or hears now. */
  perceive(cue: SeenCue | null): void {
    this.#caregiver.perceive(cue, this.nextSec);
  }

  /** Resets the chip: no samples for a second or so, its clock and sequence from zero. */
  resetChip(): void {
    this.#writer.event(this.nextSec, 'chip-reset', this.#account.milkMl);
    this.#chip.reset(this.nextSec);
  }

  step(): SimulatedStep {
    const atSec = this.nextSec;
    this.#steps += 1;
    this.#care(atSec);
    const { teatIn } = this.#caregiver;
    const held = this.#held;
    held.step(this.#caregiver, this.#account.milkMl);
    this.#drink(atSec, teatIn);
    this.#doTask();
    const loads = held.weigh(this.#account.milkMl, this.#baby.mouth);
    const feltG = held.felt(this.parameters.sensors.accelerometerMm, this.#shownG);
    const { cells, accelerometer, gyroscope } = this.#sensors.read(loads, feltG, held.turn.rate);
    if (gyroscope) this.#motionFaults.spoil(gyroscope, atSec);
    const { stamp, resetNow } = this.#chip.step(atSec);
    if (resetNow) this.#writer.event(atSec, 'chip-reset', this.#account.milkMl);
    const sent = stamp !== null && !this.#motionFaults.losesSample(atSec);
    this.#writer.step(atSec, SAMPLE_SEC, this.#account, teatIn, sent);
    const sample = sent ? this.#compose(stamp, cells, accelerometer, atSec) : null;
    const motion = stamp && gyroscope && { sequence: stamp.sequence, gyroscope };
    const truth = this.#now(atSec, teatIn, loads, feltG);
    return { sample, motion, truth, ...(gyroscope && { turningDps: dpsFromCounts(gyroscope) }) };
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

  #drink(atSec: number, teatIn: boolean): void {
    const account = this.#account;
    const offered = this.#offered;
    offered.teatIn = teatIn;
    offered.headMm = account.milkMl > 0 ? this.#held.headMm : 0;
    offered.milkMl = account.milkMl;
    offered.intakeMl = account.intakeMl;
    offered.feedSec = this.#firstLatchSec === null ? 0 : atSec - this.#firstLatchSec;
    this.#baby.step(offered);
    if (this.#baby.suckBegan) this.#writer.suck(atSec);
    account.milkMl -= this.#baby.drawnMl;
    account.intakeMl += this.#baby.drawnMl;
  }

  /** Spilling, pouring, changing the bottle: what the caregiver does now. */
  #doTask(): void {
    const { task } = this.#caregiver;
    const account = this.#account;
    if (task?.kind === 'spill' && this.#held.headMm > 0) {
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
    this.#held.setBottleOut(task?.kind === 'bottle-out');
  }

  /** @returns the flattest tilt that keeps the wanted depth of milk over the hole, by bisection; 60° to 165°. */
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

  #now(atSec: number, onMouth: boolean, loads: Triple, feltG: Readonly<Triple>): TruthNow {
    const { hand, turn } = this.#held;
    const { forceXN, forceZN } = this.#baby.mouth;
    const { milkMl, intakeMl, spiltMl, addedMl } = this.#account;
    return {
      atSec,
      milkMl,
      intakeMl,
      spiltMl,
      addedMl,
      onMouth,
      tiltDeg: hand.tiltDeg,
      rollDeg: hand.rollDeg,
      headMm: this.#held.headMm,
      mouthForceXN: forceXN,
      mouthForceZN: forceZN,
      sucks: this.#baby.sucks,
      feltG: [feltG[0], feltG[1], feltG[2]],
      loads,
      turn: { rate: [...turn.rate], acceleration: [...turn.acceleration] },
    };
  }
}
