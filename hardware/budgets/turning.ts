/** What a turning hand does to the felt force: the accelerometer feels another force than milk and bottle do. Pure. mm, rad/s², g. */
import { MILK_DENSITY_GRAMS_PER_ML, STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { BOTTLE, PLACES } from '../design.ts';
import type { Carried } from './holds.ts';

/** Angular acceleration that the budget reckons with: a hand that tilts the bottle briskly (sleeve contract, section 1). */
export const TURN_RAD_PER_S2 = 1;

/** On the carrier board behind the bottle, beside the converters: the handiest place, and the worst. */
export const BEHIND_BOTTLE_MM: readonly [x: number, y: number, z: number] = [20, 0, -15.5];

/** How far two places so far apart feel different forces while the tilt is accelerated: α·Δ/g0, in g. */
export const feltErrorG = (apartMm: number, turnRadPerS2 = TURN_RAD_PER_S2): number =>
  Math.abs((turnRadPerS2 * apartMm) / 1000) / STANDARD_GRAVITY_MPS2;

/** Along the bottle it is the way from the axis that counts; milk and bottle are on it. */
export const alongErrorG = ([xMm]: readonly [x: number, y: number, z: number]): number => feltErrorG(xMm);

export interface TurningError {
  readonly what: string;
  readonly zMm: number;
  readonly massGrams: number;
  /** Across the bottle, along x: with the accelerometer behind the bottle, and where it is. */
  readonly behindG: number;
  readonly hereG: number;
}

/** For a full bottle: milk, and all else that the cells carry. */
export function turningErrors(cup: Carried): TurningError[] {
  const empty = cup.massGrams + BOTTLE.emptyMassGrams;
  const emptyZMm = (cup.massGrams * cup.centreZMm + BOTTLE.emptyMassGrams * BOTTLE.emptyCentreZMm) / empty;
  return (
    [
      ['milk', BOTTLE.milkCentreZMm, BOTTLE.fullMl * MILK_DENSITY_GRAMS_PER_ML],
      ['bottle, liner and cup', emptyZMm, empty],
    ] as const
  ).map(([what, zMm, massGrams]) => ({
    what,
    zMm,
    massGrams,
    behindG: feltErrorG(zMm - BEHIND_BOTTLE_MM[2]),
    hereG: feltErrorG(zMm - PLACES.accelerometerMm[2]),
  }));
}
