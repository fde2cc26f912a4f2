/** Loads of a hold by a calibration file, and their difference from the loads of a bottle at rest. */
import { gramsFromNewtons } from '../../base/units.ts';
import type { Calibration } from '../../sensing/loads/calibration.ts';
import { convertLoads, createLoadConverter } from '../../sensing/loads/loads.ts';
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';
import type { Hold, Triple } from '../walk/hold.ts';
import { LEVER_MM } from '../walk/sleeve-design.ts';
import { placeOfLiquid } from './milk-in-hold.ts';

/** Share of the weight that the cells must feel: roll to 60° in a level hold. */
export const LEAST_IN_PLANE = 0.5;

/** Grams; the moment as grams at LEVER_MM; `f` has length 1. */
export interface StillLoads {
  fx: number;
  fz: number;
  moment: number;
  f: Triple;
}

export function stillLoads(calibration: Calibration, hold: Hold): StillLoads {
  const loads = convertLoads(createLoadConverter(calibration), {
    atSec: hold.atSec,
    cells: hold.cells,
    accelerometer: hold.accelerometer,
    flags: 0,
    missingBefore: 0,
    resetBefore: false,
  });
  const size = Math.hypot(loads.ax, loads.ay, loads.az);
  return {
    fx: gramsFromNewtons(loads.fxN),
    fz: gramsFromNewtons(loads.fzN),
    moment: (gramsFromNewtons(loads.momentNm) * 1000) / LEVER_MM,
    f: [loads.ax / size, loads.ay / size, loads.az / size],
  };
}

/** Share of the weight that lies in the plane of the cells. */
export const inPlaneShare = ({ f }: StillLoads): number => Math.hypot(f[0], f[2]);

/** Mass in the sleeve, g; not valid below `LEAST_IN_PLANE`. */
export const weightGrams = (loads: StillLoads): number =>
  (loads.fx * loads.f[0] + loads.fz * loads.f[2]) / inPlaneShare(loads) ** 2;

/** Bottle with cup at rest: three loads depend on one unknown, the milk, so two are left over. */
export interface Misfit {
  milkGrams: number;
  /** Force across the felt force, g: 0 unless a zero has moved. */
  acrossGrams: number;
  /** Pitch moment minus that of the bottle and this much milk, g at LEVER_MM. */
  turningGrams: number;
}

export function bottleMisfit(
  loads: StillLoads,
  bottle: Calibration['bottle'],
  densityGramsPerMl: number,
  profile: InnerProfileMm = bottle.innerProfileMm,
): Misfit {
  const { fx, fz, moment, f } = loads;
  const milkGrams = weightGrams(loads) - bottle.emptyMassGrams;
  const milk = Math.max(0, milkGrams);
  const tilt = Math.acos(Math.max(-1, Math.min(1, f[2])));
  const place = placeOfLiquid(profile, milk / densityGramsPerMl, tilt);
  const sideways = Math.hypot(f[0], f[1]);
  const x = sideways > 1e-9 ? (place.lateralMm * f[0]) / sideways : 0;
  const expected =
    bottle.emptyMassGrams * bottle.emptyCentreZMm * f[0] + milk * (f[0] * place.zMm - f[2] * x);
  return {
    milkGrams,
    acrossGrams: (fx * f[2] - fz * f[0]) / inPlaneShare(loads),
    turningGrams: moment - expected / LEVER_MM,
  };
}
