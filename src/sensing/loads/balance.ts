/**
 * The transverse balance: M − z_t·Fx, the moment about the teat's tip. A force at the tip cancels, so the balance weighs
 * the milk whether the teat is in the mouth or not (sleeve contract, section 1).
 */
import { STANDARD_GRAVITY_MPS2 } from '../../base/units.ts';
import { MEASUREMENT } from '../noise.ts';
import type { Calibration } from './calibration.ts';
import { type MilkCentreTable, type MilkMoments, milkMoments, tabulateMilkCentre } from './milk-centre.ts';
import { createTeatCover, type TeatCover } from './teat-cover.ts';

export interface Bottle {
  readonly emptyMassGrams: number;
  readonly emptyCentreM: number;
  readonly teatTipM: number;
  readonly table: MilkCentreTable;
  readonly cover: TeatCover;
}

/** The tables take some 50 ms to compute, so they are made once for each bottle. */
const known = new WeakMap<Calibration['bottle'], Bottle>();

export function bottleOf({ bottle }: Calibration): Bottle {
  const before = known.get(bottle);
  if (before) return before;
  const made = {
    emptyMassGrams: bottle.emptyMassGrams,
    emptyCentreM: bottle.emptyCentreZMm / 1000,
    teatTipM: bottle.teatTipZMm / 1000,
    table: tabulateMilkCentre(bottle.innerProfileMm),
    cover: createTeatCover(bottle.innerProfileMm, bottle.teatTipZMm),
  };
  known.set(bottle, made);
  return made;
}

/** The felt acceleration along the bottle's axis: at the accelerometer, and the part that turning adds per metre (sleeve contract, section 1, "Turning"). */
export interface FeltAlong {
  /** In the x–z plane at the accelerometer, g. */
  ax: number;
  az: number;
  /** Per metre toward the teat, g/m. */
  axPerM: number;
  azPerM: number;
  accelerometerZM: number;
  /** About y, rad/s²; 0 where unknown. */
  angularRadPerSec2: number;
}

export const feltX = (felt: FeltAlong, zM: number): number =>
  felt.ax + felt.axPerM * (zM - felt.accelerometerZM);
export const feltZ = (felt: FeltAlong, zM: number): number =>
  felt.az + felt.azPerM * (zM - felt.accelerometerZM);

/** How the bottle is held. */
export interface Held extends FeltAlong {
  /** Tilt of the felt force now, rad, and fx/√(fx² + fy²) of it. */
  feltTiltRad: number;
  rollShare: number;
}

/** Reading per gram of milk for a volume and a hold, and its derivatives. */
export interface Arm {
  /** Balance reading of the milk as it lies, per gram (without unit). */
  arm: number;
  /** d(milk × arm)/d milk: an added mL lies at the surface, not at the centre. */
  armOfAdded: number;
  /** d arm/d tilt, per rad, of the centre's movement only. */
  armPerRad: number;
  /** The milk's centre along the axis, m, and the felt acceleration there, g. */
  centreZM: number;
  milkAx: number;
  milkAz: number;
}

export const createArm = (): Arm => ({
  arm: 0,
  armOfAdded: 0,
  armPerRad: 0,
  centreZM: 0,
  milkAx: 0,
  milkAz: 0,
});

const TILT_PROBE_RAD = 0.03;
const LEAST_ML = 0.5;
const moments: MilkMoments = { zMlM: 0, xMlM: 0 };

/** Milk moment in the balance, mL: V·(fx·(zt − zc) + fz·xc·rollShare)/lever. */
function milkReading(
  bottle: Bottle,
  volumeMl: number,
  tiltRad: number,
  rollShare: number,
  ax: number,
  az: number,
): number {
  milkMoments(bottle.table, volumeMl, tiltRad, moments);
  return (
    (ax * (bottle.teatTipM * volumeMl - moments.zMlM) + az * moments.xMlM * rollShare) / MEASUREMENT.leverM
  );
}

/** @param volumeMl milk, mL; the felt acceleration at the milk's own centre is used, with the surface at right angles to it */
export function armAt(bottle: Bottle, volumeMl: number, felt: Held, out: Arm): void {
  const { feltTiltRad: tiltRad, rollShare } = felt;
  const volume = Math.max(volumeMl, LEAST_ML);
  milkMoments(bottle.table, volume, tiltRad, moments);
  out.centreZM = moments.zMlM / volume;
  const ax = feltX(felt, out.centreZM);
  const az = feltZ(felt, out.centreZM);
  out.milkAx = ax;
  out.milkAz = az;
  const here = milkReading(bottle, volume, tiltRad, rollShare, ax, az);
  out.arm = here / volume;
  out.armOfAdded = milkReading(bottle, volume + 1, tiltRad, rollShare, ax, az) - here;
  const above = milkReading(bottle, volume, Math.min(Math.PI, tiltRad + TILT_PROBE_RAD), rollShare, ax, az);
  const below = milkReading(bottle, volume, Math.max(0, tiltRad - TILT_PROBE_RAD), rollShare, ax, az);
  out.armPerRad = (above - below) / (2 * TILT_PROBE_RAD * volume);
}

/** Lengths of thin rods with the same moment of inertia as the empty bottle and the milk, as a share of z_t: own estimate from a bottle's shape, no source. */
const EMPTY_ROD_SHARE = 0.81;
const MILK_ROD_SHARE = 0.52;

/** Moments of inertia about their own centres, kg·m², as thin rods: m·l²/12 (any handbook of mechanics). */
export function ownInertiaKgM2(bottle: Bottle, milkGrams: number): number {
  const empty = bottle.emptyMassGrams * (EMPTY_ROD_SHARE * bottle.teatTipM) ** 2;
  const milk = Math.max(0, milkGrams) * (MILK_ROD_SHARE * bottle.teatTipM) ** 2;
  return (empty + milk) / 12000;
}

/** The balance's reading, grams of milk times arm, from loads in N and N·m. */
export function balanceReading(
  bottle: Bottle,
  felt: FeltAlong & { fxN: number; momentNm: number },
  milkGrams: number,
): number {
  const { fxN, momentNm } = felt;
  // The moment that turns bottle and milk is not weight.
  const stillNm = momentNm - ownInertiaKgM2(bottle, milkGrams) * felt.angularRadPerSec2;
  const milk = (-(stillNm - bottle.teatTipM * fxN) / STANDARD_GRAVITY_MPS2) * 1000;
  const ax = feltX(felt, bottle.emptyCentreM);
  const empty = bottle.emptyMassGrams * ax * (bottle.teatTipM - bottle.emptyCentreM);
  return (milk - empty) / MEASUREMENT.leverM;
}
