/**
 * An angle that an arm turns. The arm has mass: the wanted angle, and the arm's own unsteadiness, act on the bottle through four equal poles,
 * so the angle has a second derivative, and an unsteady arm shakes most at the frequency of the poles.
 */
import { Random } from '../base/random.ts';
import type { MovingAngle } from './turning.ts';

/**
 * Poles at 1.34 Hz. White unsteadiness behind four of them gives angular acceleration ∝ x⁴/(1 + x²)⁴ with x = ω/ARM_PER_SEC:
 * half of its peak at 0.73 and 2.45 Hz, and nearly four fifths of the whole between 0.6 and 3 Hz (a hand's wobble; assumption, no source).
 */
const ARM_PER_SEC = 2 * Math.PI * 1.34;
/** An angle below this without motion counts as standing on the table. */
const REST_RAD = 1e-6;

export class Arm implements MovingAngle {
  rad = 0;
  radPerSec = 0;
  radPerSec2 = 0;
  readonly #random: Random;
  readonly #stepSec: number;
  readonly #unsteadyRad: number;
  #drawn = 0;
  #nextRad = 0;
  #midRate = 0;
  #innerRad = 0;
  #innerRate = 0;

  /** @param wobbleRadPerSec2 rms of the angular acceleration caused by its unsteadiness */
  constructor(wobbleRadPerSec2: number, seed: number, stream: string, stepSec: number) {
    this.#random = new Random(seed, stream);
    this.#stepSec = stepSec;
    // ∫ x⁴/(1 + x²)⁴ dx over all x is π/16, so a density S of the input gives the acceleration a variance of S·k⁵/32.
    this.#unsteadyRad = wobbleRadPerSec2 * Math.sqrt(32 / (ARM_PER_SEC ** 5 * stepSec));
  }

  /**
   * The second difference of `rad` over the steps before and after is `radPerSec2` times the step squared, exactly.
   * @param wantedRad target angle @param unsteady 1: held freely; 0: not held @param resting nobody holds it and it stands upright
   */
  step(wantedRad: number, unsteady: number, resting: boolean): void {
    const dt = this.#stepSec;
    const k = ARM_PER_SEC;
    this.#drawn = this.#random.normal();
    if (resting && this.#isNearRest()) {
      this.rad = this.radPerSec = this.radPerSec2 = 0;
      this.#nextRad = this.#midRate = this.#innerRad = this.#innerRate = 0;
      return;
    }
    const wanted = wantedRad + unsteady * this.#unsteadyRad * this.#drawn;
    this.#innerRate += (k * k * (wanted - this.#innerRad) - 2 * k * this.#innerRate) * dt;
    this.#innerRad += this.#innerRate * dt;
    this.rad = this.#nextRad;
    this.radPerSec2 = k * k * (this.#innerRad - this.rad) - 2 * k * this.#midRate;
    this.radPerSec = this.#midRate + (this.radPerSec2 * dt) / 2;
    this.#midRate += this.radPerSec2 * dt;
    this.#nextRad += this.#midRate * dt;
  }

  #isNearRest(): boolean {
    const sizes = [this.#nextRad, this.#midRate, this.#innerRad, this.#innerRate];
    return sizes.every((size) => Math.abs(size) < REST_RAD);
  }
}
