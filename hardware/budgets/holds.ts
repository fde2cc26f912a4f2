/** Forces on the three cells in any hold: the balance of the sleeve contract, section 1, solved for the cells. Pure. SI inside. */
import { MILK_DENSITY_GRAMS_PER_ML, radFromDeg, STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { BOTTLE, PLACES } from '../design.ts';

/** Force of the mouth on the bottle at the teat's tip, N: lifting > 0, to the side > 0, suction > 0. */
export interface Mouth {
  readonly xN: number;
  readonly yN: number;
  readonly zN: number;
}

export const NO_MOUTH: Mouth = { xN: 0, yN: 0, zN: 0 };

/** Everything the cells carry: inner cup with liner, bottle, milk. */
export interface Carried {
  readonly massGrams: number;
  /** Centre on the axis, mm. */
  readonly centreZMm: number;
}

/** @returns cup, empty bottle and milk together */
export function carried(cup: Carried, milkMl: number): Carried {
  const parts = [
    cup,
    { massGrams: BOTTLE.emptyMassGrams, centreZMm: BOTTLE.emptyCentreZMm },
    { massGrams: milkMl * MILK_DENSITY_GRAMS_PER_ML, centreZMm: BOTTLE.milkCentreZMm },
  ];
  const massGrams = parts.reduce((sum, part) => sum + part.massGrams, 0);
  const centreZMm = parts.reduce((sum, part) => sum + part.massGrams * part.centreZMm, 0) / massGrams;
  return { massGrams, centreZMm };
}

export interface Hold {
  readonly name: string;
  /** 0 upright, 90 level, 180 teat down. */
  readonly tiltDeg: number;
  /** 0 grip underneath. */
  readonly rollDeg: number;
}

/** Specific force in g (sleeve contract, section 1). */
export function specificForce({ tiltDeg, rollDeg }: Hold): readonly [number, number, number] {
  const [tilt, roll] = [radFromDeg(tiltDeg), radFromDeg(rollDeg)];
  return [Math.sin(tilt) * Math.cos(roll), Math.sin(tilt) * Math.sin(roll), Math.cos(tilt)];
}

/** Forces of the shell on the bottle, N: along each cell, and across (held by the links). */
export interface CellForces {
  readonly axialN: number;
  readonly frontN: number;
  readonly rearN: number;
  readonly sideN: number;
}

/** @returns forces at rest; the bottle's weight acts on its axis */
export function cellForces(load: Carried, hold: Hold, mouth: Mouth = NO_MOUTH): CellForces {
  const [fx, fy, fz] = specificForce(hold);
  const weight = (load.massGrams / 1000) * STANDARD_GRAVITY_MPS2;
  const forceX = weight * fx - mouth.xN;
  const momentNmm = weight * fx * load.centreZMm - mouth.xN * BOTTLE.teatTipZMm;
  const span = PLACES.frontZMm - PLACES.rearZMm;
  const frontN = (momentNmm - PLACES.rearZMm * forceX) / span;
  return { axialN: weight * fz - mouth.zN, frontN, rearN: forceX - frontN, sideN: weight * fy - mouth.yN };
}

/** Lever on which milk acts about the teat's tip in a level hold, mm. */
export const MILK_LEVER_MM = BOTTLE.teatTipZMm - BOTTLE.milkCentreZMm;

/** The holds of the load budget. */
export const HOLDS: readonly Hold[] = [
  { name: 'upright', tiltDeg: 0, rollDeg: 0 },
  ...[0, 45, -45].map((rollDeg) => ({ name: 'level', tiltDeg: 90, rollDeg })),
  ...[0, 45, -45].map((rollDeg) => ({ name: 'steep', tiltDeg: 135, rollDeg })),
];

/**
 * Mouth forces the cells must stand, N. Suction of 150 mmHg (about the peak at the breast: 145 ± 58 mmHg, Geddes et al.
 * 2008, doi 10.1016/j.earlhumdev.2007.12.008) on 1 cm² is 2 N; pushing, lifting and side force are set to the same:
 * an assumption, no source.
 */
export const MOUTH_ENVELOPE_N = 2;

export const MOUTHS: readonly { readonly name: string; readonly mouth: Mouth }[] = [
  { name: 'none', mouth: NO_MOUTH },
  { name: 'suction', mouth: { xN: 0, yN: 0, zN: MOUTH_ENVELOPE_N } },
  { name: 'push', mouth: { xN: 0, yN: 0, zN: -MOUTH_ENVELOPE_N } },
  { name: 'lift', mouth: { xN: MOUTH_ENVELOPE_N, yN: 0, zN: 0 } },
  { name: 'press down', mouth: { xN: -MOUTH_ENVELOPE_N, yN: 0, zN: 0 } },
];

/** Force of largest size on each cell in a hold over all mouth forces, sign kept, N. */
export function worstForces(load: Carried, hold: Hold): CellForces {
  const all = MOUTHS.map(({ mouth }) => cellForces(load, hold, mouth));
  const worst = (pick: (forces: CellForces) => number) =>
    all.map(pick).reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  return {
    axialN: worst((f) => f.axialN),
    frontN: worst((f) => f.frontN),
    rearN: worst((f) => f.rearN),
    sideN: worst((f) => f.sideN),
  };
}
