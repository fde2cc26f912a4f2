/**
 * The milk in the bottle: its surface stays a plane whose normal follows the felt force, either with a simple lag or oscillating at the
 * frequency of the surface's first lateral mode. A plane is accurate enough: in an upright cylinder as deep as wide the first mode makes 99 % of the
 * motion of the milk's centre (from the modal masses in Abramson, NASA SP-106, from memory).
 */
import { STANDARD_GRAVITY_MPS2 } from '../base/units.ts';
import { type MilkCentre, type MilkPlace, noMilkPlace } from './milk-centre.ts';
import type { Triple } from './vectors.ts';

export interface LiquidParameters {
  /** First-order lag behind the felt force, s; used if the surface does not oscillate. */
  lagSec: number;
  /** Damping ratio of the oscillating surface; 0: a lag instead of an oscillation. Clean water in a smooth bottle has 0.01 or less (same source), milk with froth more. */
  ringDamping: number;
}

/** Wave number of the first mode times the surface's radius of gyration: 1.841/2 for a circle (radius/2), π/√12 = 0.907 for a rectangle. */
const WAVE_NUMBER = 1.8412 / 2;
const LOOK_RAD = (2 * Math.PI) / 180;
const LOOK_ML = 3;
/** Limits of the frequency, Hz; outside of them there is almost no milk, or the surface is in the neck. */
const SLOWEST_HZ = 0.5;
const FASTEST_HZ = 8;

export class Liquid {
  /** Normal of the surface times the felt force, g, in the bottle's axes. */
  readonly normalG: Triple = [0, 0, 1];
  /** Centre of the milk in the bottle, mm, and its acceleration there, m/s². */
  readonly centreMm: Triple = [0, 0, 0];
  readonly accelerationMps2: Triple = [0, 0, 0];
  readonly place: MilkPlace = noMilkPlace();
  /** Angle from the bottle's axis to the normal, rad. */
  tiltRad = 0;
  /** Frequency of the oscillating surface, Hz. */
  ringHz = 0;
  readonly #p: LiquidParameters;
  readonly #milkCentre: MilkCentre;
  readonly #stepSec: number;
  readonly #rate: Triple = [0, 0, 0];
  readonly #bend: Triple = [0, 0, 0];
  readonly #before = noMilkPlace();
  readonly #behind = noMilkPlace();
  #omega = 0;

  constructor(parameters: LiquidParameters, milkCentre: MilkCentre, stepSec: number) {
    this.#p = parameters;
    this.#milkCentre = milkCentre;
    this.#stepSec = stepSec;
  }

  /** @param feltG where the milk is, bottle's axes */
  step(milkMl: number, feltG: Readonly<Triple>): void {
    if (this.#p.ringDamping > 0 && this.#omega > 0) this.#ring(feltG);
    else this.#lag(feltG);
    const normal = this.normalG;
    const across = Math.hypot(normal[0], normal[1]);
    this.tiltRad = Math.atan2(across, normal[2]);
    this.#milkCentre.locate(milkMl, this.tiltRad, this.place);
    this.centreMm[0] = across > 1e-9 ? (this.place.lateralMm * normal[0]) / across : 0;
    this.centreMm[1] = across > 1e-9 ? (this.place.lateralMm * normal[1]) / across : 0;
    this.centreMm[2] = this.place.zMm;
    if (this.#p.ringDamping > 0) this.#pushBack(milkMl, across);
  }

  #lag(feltG: Readonly<Triple>): void {
    const share = 1 - Math.exp(-this.#stepSec / this.#p.lagSec);
    for (let axis = 0; axis < 3; axis++) this.normalG[axis]! += (feltG[axis]! - this.normalG[axis]!) * share;
  }

  /** A damped oscillator, solved exactly over the step. */
  #ring(feltG: Readonly<Triple>): void {
    const dt = this.#stepSec;
    const omega = this.#omega;
    const decay = this.#p.ringDamping * omega;
    const ringing = Math.sqrt(omega * omega - decay * decay);
    const fade = Math.exp(-decay * dt);
    const cosine = fade * Math.cos(ringing * dt);
    const sine = (fade * Math.sin(ringing * dt)) / ringing;
    for (let axis = 0; axis < 3; axis++) {
      const off = this.normalG[axis]! - feltG[axis]!;
      const rate = this.#rate[axis]!;
      const offNext = cosine * off + sine * (rate + decay * off);
      const rateNext = cosine * rate - sine * (decay * rate + omega * omega * off);
      this.normalG[axis] = feltG[axis]! + offNext;
      this.#rate[axis] = rateNext;
      this.#bend[axis] = -omega * omega * offNext - 2 * decay * rateNext;
    }
  }

  /** Motion of the centre with the normal, and from that the mode's frequency and the centre's acceleration (without terms in the square of the rate). */
  #pushBack(milkMl: number, across: number): void {
    const { place, tiltRad } = this;
    const before = this.#milkCentre.locate(milkMl, Math.max(tiltRad - LOOK_RAD, 0), this.#before);
    const behind = this.#milkCentre.locate(milkMl, Math.min(tiltRad + LOOK_RAD, Math.PI), this.#behind);
    const lookedRad = Math.min(tiltRad + LOOK_RAD, Math.PI) - Math.max(tiltRad - LOOK_RAD, 0);
    const lateralPerRad = (behind.lateralMm - before.lateralMm) / lookedRad;
    const zPerRad = (behind.zMm - before.zMm) / lookedRad;
    const sine = Math.sin(tiltRad);
    const cosine = Math.cos(tiltRad);
    const size = Math.hypot(...this.normalG);
    this.#setFrequency(milkMl, cosine * lateralPerRad - sine * zPerRad, size);
    const [nx, ny] = this.normalG;
    const ex = across > 1e-6 ? nx / across : 1;
    const ey = across > 1e-6 ? ny / across : 0;
    const [bx, by, bz] = this.#bend;
    const tiltPerSec2 = (cosine * (bx * ex + by * ey) - sine * bz) / size;
    const sidewaysPerSec2 = (by * ex - bx * ey) / size;
    const sidewaysMm = Math.abs(sine) > 0.05 ? place.lateralMm / sine : lateralPerRad;
    const outward = lateralPerRad * tiltPerSec2;
    const sideways = sidewaysMm * sidewaysPerSec2;
    this.accelerationMps2[0] = (outward * ex - sideways * ey) / 1000;
    this.accelerationMps2[1] = (outward * ey + sideways * ex) / 1000;
    this.accelerationMps2[2] = (zPerRad * tiltPerSec2) / 1000;
  }

  /**
   * ω² = k·g·tanh(k·h): first lateral mode, exact for an upright cylinder (Abramson, NASA SP-106, from memory) and a box; elsewhere with the
   * surface's own radius of gyration and the mean depth below it.
   * @param shiftMm motion of the centre along the surface per radian of the normal: −(surface's second moment)/volume
   */
  #setFrequency(milkMl: number, shiftMm: number, feltG: number): void {
    const low = this.#milkCentre.locate(Math.max(milkMl - LOOK_ML, 0), this.tiltRad, this.#before).surfaceMm;
    const high = this.#milkCentre.locate(milkMl + LOOK_ML, this.tiltRad, this.#behind).surfaceMm;
    const lookedMl = milkMl + LOOK_ML - Math.max(milkMl - LOOK_ML, 0);
    const depthMm = (milkMl * (high - low)) / lookedMl;
    const gyrationMm = Math.sqrt(Math.max(-shiftMm * depthMm, 1));
    const perM = (1000 * WAVE_NUMBER) / gyrationMm;
    const square = perM * feltG * STANDARD_GRAVITY_MPS2 * Math.tanh((perM * depthMm) / 1000);
    const hz = Math.sqrt(Math.max(square, 0)) / (2 * Math.PI);
    this.ringHz = Math.min(Math.max(hz, SLOWEST_HZ), FASTEST_HZ);
    this.#omega = 2 * Math.PI * this.ringHz;
  }
}
