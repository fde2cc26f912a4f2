/** The bottle in a hand: its motion, the place of its milk, touches, and the resulting loads on the shell. */
import { mapTriple } from '../base/typed.ts';
import { type MovingBurden, shellLoads, type Touch, turningLoads } from './balance.ts';
import { Hand, Leaning } from './hand.ts';
import { Liquid } from './liquid.ts';
import { milkCentreOf } from './milk-centre.ts';
import type { FeedParameters } from './parameters.ts';
import { feltAt, STILL, type Turn } from './turning.ts';
import type { Triple } from './vectors.ts';

/** What the caregiver does with the bottle. */
export interface Hold {
  readonly wantedTiltDeg: number;
  /** Standing on a table. */
  readonly onTable: boolean;
  readonly teatIn: boolean;
}

export class HeldBottle {
  /** Milk's surface over the teat's hole, mm; covered while above 0. */
  headMm = 0;
  readonly hand: Hand;
  readonly #p: FeedParameters;
  readonly #leaning: Leaning;
  readonly #collar: Leaning;
  readonly #liquid: Liquid;
  readonly #burden: MovingBurden;
  readonly #milkG: Triple = [0, 0, 1];
  #bottleOut = false;

  constructor(parameters: FeedParameters, seed: number, stepSec: number) {
    this.#p = parameters;
    this.hand = new Hand(parameters.hand, seed, stepSec);
    this.#leaning = new Leaning(parameters.leaning, seed, stepSec);
    this.#collar = new Leaning(parameters.collar, seed, stepSec, 'collar');
    this.#liquid = new Liquid(parameters.liquid, milkCentreOf(parameters.bottle.innerProfileMm), stepSec);
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
  }

  /** How the bottle turns; zero in simulations without turning. */
  get turn(): Turn {
    return this.hand.turn ?? STILL;
  }

  /** A cheek or bib can touch the collar only while the teat is in. */
  step({ wantedTiltDeg, onTable, teatIn }: Hold, milkMl: number): void {
    this.hand.step(wantedTiltDeg, onTable);
    this.#leaning.step();
    this.#collar.step(teatIn);
    this.#settleLiquid(milkMl);
  }

  /** @returns specific force at a point of the bottle, mm, in g: `out` filled, or the hand's own value in simulations without turning */
  felt(at: Readonly<Triple>, out: Triple): Readonly<Triple> {
    const { turn, feltG } = this.hand;
    return turn ? feltAt(feltG, this.#p.hand.holdsAtZMm, turn, at, out) : feltG;
  }

  /** The bottle is out of the sleeve, or back in. */
  setBottleOut(out: boolean): void {
    const { bottle } = this.#p;
    this.#bottleOut = out;
    this.#burden.emptyMassGrams = out ? bottle.cupMassGrams : bottle.emptyMassGrams;
    this.#burden.emptyCentreZMm = out ? bottle.cupCentreZMm : bottle.emptyCentreZMm;
    this.#burden.emptyInertiaMm2 = (out ? bottle.cupGyrationMm : bottle.emptyGyrationMm) ** 2;
  }

  /** @returns [Fx, Fz, M] of the shell on the bottle, N, N, N·m */
  weigh(milkMl: number, mouth: Touch): Triple {
    this.#burden.milkMassGrams = this.#bottleOut ? 0 : milkMl * this.#p.densityGramsPerMl;
    const { feltG } = this.hand;
    const loads = shellLoads(this.#burden, feltG, [mouth, this.#leaning.touch, this.#collar.touch]);
    const turning = turningLoads(this.#burden, feltG, this.#p.hand.holdsAtZMm, this.turn);
    return mapTriple(loads, (load, i) => load + turning[i]!);
  }

  /** The liquid and its surface follow the force felt at the liquid. */
  #settleLiquid(milkMl: number): void {
    const liquid = this.#liquid;
    liquid.step(milkMl, this.felt(liquid.centreMm, this.#milkG));
    const { tiltRad, place, centreMm, accelerationMps2 } = liquid;
    this.headMm = place.surfaceMm - this.#p.bottle.teatTipZMm * Math.cos(tiltRad);
    [this.#burden.milkXMm, this.#burden.milkYMm, this.#burden.milkZMm] = centreMm;
    this.#burden.milkInertiaMm2 = place.inertiaMm2;
    this.#burden.milkAccelerationX = accelerationMps2[0];
    this.#burden.milkAccelerationZ = accelerationMps2[2];
  }
}
