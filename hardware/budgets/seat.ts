/**
 * The seats of the cells: at which load a cell lifts off its ridges, and what it then carries. Pure. N, mm.
 * By levers about a ridge: a push on the cell's free end lifts the fixed end off the ridge near the free end and turns it about the
 * far one, a pull the other way. Both springs stand together in the middle of the two screws.
 */
import { CELL, CLAMP, SEAT, WIRE } from '../design.ts';
import {
  coilRateNPerMm,
  coilStressMPa,
  guidedStiffnessNPerMm,
  roundInertiaMm4,
  screwForceN,
} from './beams.ts';
import { CELL_DATA, ratedN } from './cells.ts';

/** Music wire (ASTM A228) of 0.9 mm: shear modulus and strength, from memory of the usual tables. */
export const SPRING_WIRE = { shearModulusMPa: 80_000, tensileStrengthMPa: 2000, allowedShare: 0.45 } as const;

export const springRateNPerMm = (): number =>
  coilRateNPerMm(SEAT.wireDiameterMm, SEAT.coilDiameterMm, SEAT.activeTurns, SPRING_WIRE.shearModulusMPa);

/** Length of the free spring, and of the spring pressed together, two dead turns and all, mm. */
export const springFreeMm = (): number => SEAT.setLengthMm + SEAT.preloadN / springRateNPerMm();
export const springSolidMm = (): number => (SEAT.activeTurns + 2) * SEAT.wireDiameterMm;
export const springStressMPa = (): number =>
  coilStressMPa(
    SEAT.preloadN + springRateNPerMm() * liftAtSpringMm(1),
    SEAT.wireDiameterMm,
    SEAT.coilDiameterMm,
  );

export type Way = 'push' | 'pull';
const screwsMm = (CELL.screwHolesMm[0] + CELL.screwHolesMm[1]) / 2;
const loadMm = CELL.lengthMm - CELL.loadHoleMm;

/** Arms about the ridge that the cell turns on, mm: of the springs, and of the load. */
function arms(way: Way): { spring: number; load: number } {
  const ridge = SEAT.ridgesMm[way === 'push' ? 0 : 1];
  return { spring: Math.abs(screwsMm - ridge), load: Math.abs(loadMm - ridge) };
}

/** How far the springs are pressed when the cell's free end has moved by so much, mm. */
function liftAtSpringMm(freeEndMm: number, way: Way = 'push'): number {
  const { spring, load } = arms(way);
  return (freeEndMm * spring) / load;
}

/** Load at which the seat gives way, N; springs set so much too strong or too weak. */
export function yieldN(way: Way, springShare = 1): number {
  const { spring, load } = arms(way);
  return (2 * SEAT.preloadN * springShare * spring) / load;
}

/** What the cell carries when its free end has been moved so far beyond yielding, N. */
export function yieldedN(way: Way, beyondMm: number, springShare = 1): number {
  const { spring, load } = arms(way);
  const more = 2 * springRateNPerMm() * liftAtSpringMm(beyondMm, way) * (spring / load);
  return yieldN(way, springShare) + more;
}

/** Springs of one batch, and a screw set by a gauge of feeler leaves: together so far off. Assumption, no source. */
export const SPRING_SPREAD = 0.12;

/** The least load a seat gives way at over the greatest in use; > 1 never gives way in a feed. */
export const useMargin = (greatestUseN: number): number =>
  Math.min(yieldN('push', 1 - SPRING_SPREAD), yieldN('pull', 1 - SPRING_SPREAD)) / greatestUseN;

/** Safe overload of the cell over the most that its seat lets through while the cup moves so far; ≥ 1 is safe. */
export const seatMargin = (movedMm: number): number =>
  (CELL_DATA.safeOverload * ratedN) /
  Math.max(yieldedN('push', movedMm, 1 + SPRING_SPREAD), yieldedN('pull', movedMm, 1 + SPRING_SPREAD));

/** Friction of the set screw on the wire, N: M1.6 with 50 N·mm, both sides, 0.15 (friction and torque: from memory). */
export const clampHoldsN = (): number => 2 * 0.15 * screwForceN(50, 1.6);

/** Glue round the wire in the cup, N: length in the hole, bond of epoxy on roughened wire 8 MPa (a low figure, from memory). */
export const glueHoldsN = (): number => Math.PI * WIRE.strutDiameterMm * 5 * 8;

/** How near the wire comes to the bore of its clamp when the cup has moved sideways by so much, mm (0 touches): shape of a guided beam, 3·s² − 2·s³. */
export function boreLeavesMm(sidewaysMm: number): number {
  const inside = CLAMP.headMm / 2 + CELL.thicknessMm + CLAMP.nutMm;
  const s = inside / WIRE.strutLengthMm;
  const room = (CLAMP.boreDiameterMm - WIRE.strutDiameterMm) / 2;
  return room - Math.abs(sidewaysMm) * (3 * s ** 2 - 2 * s ** 3);
}

/** Greatest bending stress of a strut whose cup has moved sideways, MPa: 3·E·d·δ/L², from M = 6·E·I·δ/L². */
export const strutBendingMPa = (sidewaysMm: number): number =>
  (guidedStiffnessNPerMm(WIRE.strutLengthMm, WIRE.youngsModulusMPa, roundInertiaMm4(WIRE.strutDiameterMm)) *
    sidewaysMm *
    WIRE.strutLengthMm) /
  2 /
  ((Math.PI * WIRE.strutDiameterMm ** 3) / 32);
