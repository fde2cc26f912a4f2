/** The hand that holds the bottle: it moves to the wanted hold and is never quite still. Gives felt force in the bottle's axes, and turning. */

import { Random, Wander } from '../base/random.ts';
import { degFromRad, radFromDeg } from '../base/units.ts';
import { Arm } from './arm.ts';
import type { Touch } from './balance.ts';
import type { HandParameters, LeaningParameters } from './parameters.ts';
import { setTurn, type Turn } from './turning.ts';
import type { Triple } from './vectors.ts';

/** How fast a hold is taken up, rad/s, and how fast the hand can turn the bottle, degrees/s. */
const FOLLOW_PER_SEC = 5;
const FASTEST_DEG_PER_SEC = 70;
/** Smoothing time of the hand's slow movement, since an arm has mass. */
const SMOOTH_SEC = 0.15;
/** Duration of one walk, s. */
const WALK_SPELL_SEC = 15;

export class Hand {
  /** True hold, without errors of an accelerometer. */
  tiltDeg = 0;
  rollDeg = 0;
  /** Null in simulations without turning. */
  readonly turn: Turn | null;
  /** Specific force in the bottle's axes where the hand holds it, g. */
  readonly feltG: Triple = [0, 0, 1];
  readonly #p: HandParameters;
  readonly #stepSec: number;
  readonly #random: Random;
  readonly #tiltWander: Wander;
  readonly #rollWander: Wander;
  readonly #shake: readonly Wander[];
  #heldTiltDeg = 0;
  #turnDegPerSec = 0;
  #smoothTiltDeg = 0;
  #smoothRollDeg = 0;
  #held = 0;
  #walking = false;
  #walkLevel = 0;
  #walkPhase = 0;
  readonly #tiltArm: Arm;
  readonly #rollArm: Arm;

  constructor(parameters: HandParameters, seed: number, stepSec: number) {
    const p = parameters;
    this.#p = p;
    this.#stepSec = stepSec;
    this.#random = new Random(seed, 'hand');
    const wander = (size: number, tauSec: number) =>
      new Wander(this.#random, size * p.motionScale, tauSec, stepSec);
    this.#tiltWander = wander(p.tiltWanderDeg, p.tiltWanderTauSec);
    this.#rollWander = wander(p.rollWanderDeg, p.rollWanderTauSec);
    this.#shake = [0, 1, 2].map(() => wander(p.accelerationG, p.accelerationTauSec));
    const wobble = p.wobbleRadPerSec2 * p.motionScale;
    this.#tiltArm = new Arm(wobble, seed, 'wobble of tilt', stepSec);
    this.#rollArm = new Arm(wobble, seed, 'wobble of roll', stepSec);
    this.turn = p.turns ? { rate: [0, 0, 0], acceleration: [0, 0, 0] } : null;
  }

  /** @param wantedTiltDeg hold to take up @param onTable standing on a table, so upright and still */
  step(wantedTiltDeg: number, onTable: boolean): void {
    const dt = this.#stepSec;
    const p = this.#p;
    // Critically damped, with a limited speed.
    const pull = FOLLOW_PER_SEC ** 2 * ((onTable ? 0 : wantedTiltDeg) - this.#heldTiltDeg);
    this.#turnDegPerSec += (pull - 2 * FOLLOW_PER_SEC * this.#turnDegPerSec) * dt;
    this.#turnDegPerSec = Math.min(Math.max(this.#turnDegPerSec, -FASTEST_DEG_PER_SEC), FASTEST_DEG_PER_SEC);
    this.#heldTiltDeg += this.#turnDegPerSec * dt;
    const still = onTable && Math.abs(this.#heldTiltDeg) < 1;
    this.#held += ((still ? 0 : 1) - this.#held) * Math.min(1, dt / 0.25);
    if (still && this.#held < 0.002) this.#held = 0;

    const smooth = dt / SMOOTH_SEC;
    this.#smoothTiltDeg += (this.#tiltWander.step() - this.#smoothTiltDeg) * smooth;
    this.#smoothRollDeg += (this.#rollWander.step() - this.#smoothRollDeg) * smooth;
    this.tiltDeg = this.#held === 0 ? 0 : this.#heldTiltDeg + this.#held * this.#smoothTiltDeg;
    this.rollDeg = this.#held * (p.rollDeg + this.#smoothRollDeg);
    if (this.turn) this.#turn(this.turn);

    const tilt = radFromDeg(this.tiltDeg);
    const roll = radFromDeg(this.rollDeg);
    const up = 1 + this.#walk();
    const across = Math.sin(tilt) * up;
    this.feltG[0] = across * Math.cos(roll) + this.#held * this.#shake[0]!.step();
    this.feltG[1] = across * Math.sin(roll) + this.#held * this.#shake[1]!.step();
    this.feltG[2] = Math.cos(tilt) * up + this.#held * this.#shake[2]!.step();
  }

  /** The same hold with an arm that has mass. */
  #turn(turn: Turn): void {
    const resting = this.#held === 0;
    this.#tiltArm.step(radFromDeg(this.tiltDeg), this.#held, resting);
    this.#rollArm.step(radFromDeg(this.rollDeg), this.#held, resting);
    this.tiltDeg = degFromRad(this.#tiltArm.rad);
    this.rollDeg = degFromRad(this.#rollArm.rad);
    setTurn(turn, this.#tiltArm, this.#rollArm);
  }

  /** @returns vertical acceleration of walking, g: the step and its first overtone. */
  #walk(): number {
    const p = this.#p;
    if (p.walkingShare === 0) return 0;
    const dt = this.#stepSec;
    const restSec = (WALK_SPELL_SEC * (1 - p.walkingShare)) / p.walkingShare;
    if (this.#random.uniform() < dt / (this.#walking ? WALK_SPELL_SEC : Math.max(restSec, dt))) {
      this.#walking = !this.#walking;
    }
    if (p.walkingShare >= 1) this.#walking = true;
    this.#walkLevel += ((this.#walking ? 1 : 0) - this.#walkLevel) * (dt / 0.5);
    this.#walkPhase += 2 * Math.PI * p.stepsHz * dt;
    const wave = Math.sin(this.#walkPhase) + 0.4 * Math.sin(2 * this.#walkPhase + 1);
    return this.#held * this.#walkLevel * p.walkingG * wave;
  }
}

/** A hand, cloth or cheek that touches the bottle from time to time. */
export class Leaning {
  readonly touch: Touch = { forceXN: 0, forceZN: 0, atXMm: 0, atZMm: 0 };
  readonly #p: LeaningParameters;
  readonly #random: Random;
  readonly #stepSec: number;
  #leftSec = 0;
  #wantedXN = 0;
  #wantedZN = 0;

  constructor(parameters: LeaningParameters, seed: number, stepSec: number, stream = 'leaning') {
    this.#p = parameters;
    this.#random = new Random(seed, stream);
    this.#stepSec = stepSec;
  }

  /** @param near false: nothing can touch it, and a present touch ends */
  step(near = true): void {
    const p = this.#p;
    if (p.timesPerMin === 0) return;
    const dt = this.#stepSec;
    this.#leftSec = near ? this.#leftSec - dt : 0;
    if (this.#leftSec < 0 || !near) {
      this.#wantedXN = 0;
      this.#wantedZN = 0;
      if (near && this.#random.uniform() < (p.timesPerMin / 60) * dt) {
        this.#leftSec = this.#random.between(p.forSec);
        this.#wantedXN = p.forceN * this.#random.normal();
        this.#wantedZN = 0.5 * p.forceN * this.#random.normal();
        this.touch.atZMm = this.#random.between(p.atZMm);
      }
    }
    const follow = dt / 0.3;
    this.touch.forceXN += (this.#wantedXN - this.touch.forceXN) * follow;
    this.touch.forceZN += (this.#wantedZN - this.touch.forceZN) * follow;
  }
}
