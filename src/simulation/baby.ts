/** The baby: when it sucks, how hard, how much it lets in, and the forces of its mouth on the bottle. */

import { Random, Wander } from '../base/random.ts';
import type { Touch } from './balance.ts';
import type { FeedParameters, LetDown } from './parameters.ts';
import { headPressurePa, holeFlowMlPerSec, milkShare, PASCALS_PER_MMHG } from './teat.ts';

/** What is offered to the baby, each step. */
export interface Offered {
  teatIn: boolean;
  /** Height of the milk's surface over the teat's hole, mm; the hole is covered while it is above 0. */
  headMm: number;
  milkMl: number;
  intakeMl: number;
  /** Time since the first latch, s. */
  feedSec: number;
}

/** Part of a suck's period in which it pulls. */
const PULL_SHARE = 0.8;
/** Time in which the lips close on the teat or let go of it. */
const CLOSE_SEC = 0.1;
/** A burst ends after this many sucks without milk because the hole was uncovered. */
const BARE_SUCKS = 2;
/** Below this drive no burst begins. */
const FAINTEST_DRIVE = 0.12;

export class Baby {
  /** Milk drawn in this step, mL. */
  drawnMl = 0;
  /** True in the step in which a suck begins. */
  suckBegan = false;
  sucks = 0;
  /** No suck is in progress and none is due. */
  pausing = true;
  /** Wish to drink, 0 to 1. */
  drive = 1;
  readonly mouth = { forceXN: 0, forceZN: 0, atXMm: 0, atZMm: 0, coupleNmm: 0 } satisfies Touch;
  readonly #p: FeedParameters;
  readonly #stepSec: number;
  readonly #random: Random;
  readonly #push: Wander;
  readonly #lift: Wander;
  readonly #chew: Wander;
  readonly #chewAcross: Wander;
  readonly #offAxis: Wander;
  readonly #offAlong: Wander;
  readonly #line: Wander;
  readonly #lineSide: Wander;
  readonly #couple: Wander;
  #closed = 0;
  #wasIn = false;
  #pauseSec = 0;
  #burstLeft = 0;
  #burstFactor = 1;
  #bareSucks = 0;
  #phase = 1;
  #periodSec = 1;
  #pull = 1;
  #opening = 1;
  #sideFromMl = 0;
  #sideSec = 0;

  constructor(parameters: FeedParameters, seed: number, stepSec: number) {
    const p = parameters.baby;
    this.#p = parameters;
    this.#stepSec = stepSec;
    this.#random = new Random(seed, 'baby');
    const mouth = new Random(seed, 'mouth');
    this.#push = new Wander(mouth, p.pushWanderN, p.pushWanderTauSec, stepSec);
    this.#lift = new Wander(mouth, p.liftWanderN, p.pushWanderTauSec, stepSec);
    this.#chew = new Wander(mouth, p.chewForceN, 0.25, stepSec);
    this.#chewAcross = new Wander(mouth, p.chewForceN * 0.3, 0.25, stepSec);
    this.#offAxis = new Wander(mouth, p.offAxisMm, p.offAxisTauSec, stepSec);
    this.#offAlong = new Wander(mouth, p.offAlongMm, p.offAxisTauSec, stepSec);
    const line = new Random(seed, 'line of the lips');
    this.#line = new Wander(line, p.lipsWanderMm, p.lipsTauSec, stepSec);
    this.#lineSide = new Wander(line, p.lipsSideMm, p.lipsTauSec, stepSec);
    this.#couple = new Wander(
      new Random(seed, 'couple of the jaw'),
      p.jawCoupleNmm,
      p.jawCoupleTauSec,
      stepSec,
    );
  }

  /** The other side is offered: a breast-like flow starts from the beginning. */
  changeSide(intakeMl: number): void {
    this.#sideFromMl = intakeMl;
    this.#sideSec = 0;
  }

  step(offered: Offered): void {
    const dt = this.#stepSec;
    this.drawnMl = 0;
    this.suckBegan = false;
    this.drive = this.#driveNow(offered);
    if (offered.teatIn && !this.#wasIn) this.#latch();
    if (offered.teatIn) {
      this.#sideSec += dt;
      this.#suck(offered);
    } else {
      this.#phase = 1;
      this.#burstLeft = 0;
    }
    this.#wasIn = offered.teatIn;
    this.pausing = this.#phase >= 1 && this.#burstLeft === 0;
    this.#feel(offered.teatIn);
  }

  #driveNow(offered: Offered): number {
    const p = this.#p.baby;
    const hungry = clamp01((p.appetiteMl - offered.intakeMl) / p.fadeMl);
    if (p.sleepyFromMin === null || p.asleepAtMin === null) return hungry;
    const awake = (p.asleepAtMin - offered.feedSec / 60) / (p.asleepAtMin - p.sleepyFromMin);
    return hungry * clamp01(awake);
  }

  #latch(): void {
    this.#pauseSec = this.#random.between([0.3, 0.9]);
    this.#burstLeft = 0;
  }

  #suck(offered: Offered): void {
    const dt = this.#stepSec;
    if (this.#phase >= 1) {
      if (this.#burstLeft === 0) {
        this.#pauseSec -= dt;
        if (this.#pauseSec > 0 || this.drive < FAINTEST_DRIVE) return;
        this.#beginBurst(offered);
      }
      this.#beginSuck(offered);
    }
    this.#phase += dt / this.#periodSec;
    this.#draw(offered);
    if (this.#phase < 1) return;
    this.#burstLeft -= 1;
    this.#bareSucks = offered.headMm > 0 ? 0 : this.#bareSucks + 1;
    if (this.#bareSucks >= BARE_SUCKS) this.#burstLeft = 0;
    if (this.#burstLeft === 0) this.#beginPause(offered);
  }

  #eagerness(intakeMl: number): number {
    return clamp01(1 - intakeMl / this.#p.baby.eagerMl);
  }

  #beginBurst(offered: Offered): void {
    const { baby } = this.#p;
    const eagerness = this.#eagerness(offered.intakeMl);
    const eager = this.#random.integer(baby.eager.sucks);
    const settled = this.#random.integer(baby.settled.sucks) * (0.5 + 0.5 * this.drive);
    this.#burstLeft = Math.max(2, Math.round(settled + (eager - settled) * eagerness));
    this.#bareSucks = 0;
    const dry = this.#random.uniform() < baby.dryBurstShare;
    this.#burstFactor = dry ? 0 : this.#random.factor(baby.volumeScatterPerBurst);
  }

  #beginPause(offered: Offered): void {
    const { baby } = this.#p;
    const eagerness = this.#eagerness(offered.intakeMl);
    const eager = this.#random.between(baby.eager.pauseSec);
    const settled = this.#random.between(baby.settled.pauseSec) / Math.max(this.drive, 0.2);
    this.#pauseSec = settled + (eager - settled) * eagerness;
  }

  #beginSuck(offered: Offered): void {
    const { baby } = this.#p;
    const scatter = Math.max(0.6, 1 + baby.suckRateScatter * this.#random.normal());
    this.#periodSec = (60 / baby.suckRatePerMin) * scatter;
    this.#phase = 0;
    this.#pull = 0.6 + 0.4 * this.drive;
    const wanted = baby.letDown ? this.#letDownShare(baby.letDown, offered) : 0.4 + 0.6 * this.drive;
    this.#opening = wanted * this.#burstFactor * this.#random.factor(baby.volumeScatterPerSuck);
    this.suckBegan = true;
    this.sucks += 1;
  }

  /** @returns how much flow the baby lets in so that by the end of this suck it has taken as much as at a breast, 0 to 1. */
  #letDownShare(letDown: LetDown, offered: Offered): number {
    const untilMin = (this.#sideSec + this.#periodSec) / 60;
    const dueMl = letDown.perSideMl * shareAt(letDown, untilMin) - (offered.intakeMl - this.#sideFromMl);
    const peakMlPerSec = this.#flowMlPerSec(1, offered.headMm);
    const fullMl = peakMlPerSec * (2 / Math.PI) * PULL_SHARE * this.#periodSec;
    return fullMl > 0 ? clamp01(dueMl / fullMl) : 0;
  }

  /** @returns mL/s of milk at the share `suction` of the mouth's full suction. */
  #flowMlPerSec(suction: number, headMm: number): number {
    const { teat, densityGramsPerMl, baby } = this.#p;
    const headPa = headPressurePa(headMm, densityGramsPerMl);
    const pressurePa = suction * baby.suctionMmHg * PASCALS_PER_MMHG + headPa;
    return milkShare(teat, headMm) * holeFlowMlPerSec(teat, pressurePa, densityGramsPerMl);
  }

  #draw(offered: Offered): void {
    const { teat } = this.#p;
    const pullPhase = this.#phase / PULL_SHARE;
    const suction = pullPhase < 1 ? this.#pull * Math.sin(Math.PI * pullPhase) ** 2 : 0;
    const openness = suction > 0 ? this.#opening : this.#opening * teat.leakShare;
    const flow = openness * this.#flowMlPerSec(suction, offered.headMm);
    this.drawnMl = Math.min(offered.milkMl, flow * this.#stepSec);
  }

  /** Computes the forces of the mouth on the bottle. */
  #feel(teatIn: boolean): void {
    const p = this.#p.baby;
    this.#closed += ((teatIn ? 1 : 0) - this.#closed) * Math.min(1, this.#stepSec / CLOSE_SEC);
    const pullPhase = this.#phase / PULL_SHARE;
    const suck = pullPhase < 1 ? this.#pull * Math.sin(Math.PI * pullPhase) ** 2 : 0;
    const push = p.pushN + this.#push.step();
    const lift = p.liftN + this.#lift.step();
    this.mouth.forceZN = this.#closed * (p.suctionForceN * suck - push + this.#chew.step());
    this.mouth.forceXN = this.#closed * (p.suckLiftN * suck + lift + this.#chewAcross.step());
    this.mouth.atXMm = this.#offAxis.step() + this.#lineSide.step();
    this.mouth.atZMm = this.#p.bottle.teatTipZMm + this.#offAlong.step() - p.lipsBehindMm + this.#line.step();
    this.mouth.coupleNmm = this.#closed * this.#couple.step();
    if (teatIn || this.#closed >= 1e-3) return;
    this.mouth.forceXN = this.mouth.forceZN = this.mouth.coupleNmm = this.#closed = 0;
  }
}

function shareAt(letDown: LetDown, min: number): number {
  const points = letDown.shareByMin;
  for (let i = 1; i < points.length; i++) {
    const [min0, share0] = points[i - 1]!;
    const [min1, share1] = points[i]!;
    if (min <= min1) return share0 + ((share1 - share0) * Math.max(0, min - min0)) / (min1 - min0);
  }
  return points.at(-1)![1];
}

const clamp01 = (number: number): number => Math.min(Math.max(number, 0), 1);
