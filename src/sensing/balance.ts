/**
 * The transverse balance: M − z_t·Fx, the moment about the teat's tip. A mouth force that acts at the tip drops out, so it weighs
 * the milk whether the teat is in the mouth or not (sleeve contract, section 1).
 */
import { STANDARD_GRAVITY_MPS2 } from '../units.ts';
import type { Calibration } from './calibration.ts';
import { type MilkCentreTable, type MilkMoments, milkMoments, tabulateMilkCentre } from './milk-centre.ts';
import { MEASUREMENT } from './noise.ts';
import { createTeatCover, type TeatCover } from './teat-cover.ts';

export interface Bottle {
  readonly emptyMassGrams: number;
  readonly emptyCentreM: number;
  readonly teatTipM: number;
  readonly table: MilkCentreTable;
  readonly cover: TeatCover;
}

export const bottleOf = ({ bottle }: Calibration): Bottle => ({
  emptyMassGrams: bottle.emptyMassGrams,
  emptyCentreM: bottle.emptyCentreZMm / 1000,
  teatTipM: bottle.teatTipZMm / 1000,
  table: tabulateMilkCentre(bottle.innerProfileMm),
  cover: createTeatCover(bottle.innerProfileMm, bottle.teatTipZMm),
});

/** What an added gram adds to the balance, at a volume and hold; and how that changes with volume and tilt. */
export interface Arm {
  /** Balance reading of the milk as it lies, per gram (without unit). */
  arm: number;
  /** d(milk × arm)/d milk: an added mL lies at the surface, not at the centre. */
  armOfAdded: number;
  /** d arm/d tilt, per rad, of the centre's movement only. */
  armPerRad: number;
}

const TILT_PROBE_RAD = 0.03;
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

/**
 * @param volumeMl milk, mL
 * @param tiltRad tilt of the milk's surface normal (lagged), rad
 * @param rollShare fx/√(fx² + fy²) of the same
 * @param ax, az felt acceleration now, g
 */
export function armAt(
  bottle: Bottle,
  volumeMl: number,
  tiltRad: number,
  rollShare: number,
  ax: number,
  az: number,
  out: Arm,
): void {
  const volume = Math.max(volumeMl, 0.5);
  const here = milkReading(bottle, volume, tiltRad, rollShare, ax, az);
  out.arm = here / volume;
  out.armOfAdded = milkReading(bottle, volume + 1, tiltRad, rollShare, ax, az) - here;
  const above = milkReading(bottle, volume, Math.min(Math.PI, tiltRad + TILT_PROBE_RAD), rollShare, ax, az);
  const below = milkReading(bottle, volume, Math.max(0, tiltRad - TILT_PROBE_RAD), rollShare, ax, az);
  out.armPerRad = (above - below) / (2 * TILT_PROBE_RAD * volume);
}

/** The balance's reading, grams of milk times arm, from loads in N and N·m. */
export function balanceReading(bottle: Bottle, fxN: number, momentNm: number, ax: number): number {
  const milk = (-(momentNm - bottle.teatTipM * fxN) / STANDARD_GRAVITY_MPS2) * 1000;
  const empty = bottle.emptyMassGrams * ax * (bottle.teatTipM - bottle.emptyCentreM);
  return (milk - empty) / MEASUREMENT.leverM;
}
