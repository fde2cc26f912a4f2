/** Falls on the side: what the links, the spacers, the axial strut and its cell carry, and what survives. Pure. N, mm. */
import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { CELL, CLAMP, HARD_MATERIALS, SHAPE, SIDE_GAP_MM, WIRE } from '../design.ts';
import { LINK_POST_MM } from '../shape/cup-side.ts';
import { roundInertiaMm4 } from './beams.ts';
import { CELL_DATA, ratedN } from './cells.ts';
import { DROP, GROUNDS, type Ground, peakForceN } from './drop.ts';
import type { Carried } from './holds.ts';
import { strutBendingMPa } from './seat.ts';
import { linkForcesN } from './stray.ts';

/** Before the links give way the cup hangs on them alone; right and left as seen from behind. */
export type Side = 'right' | 'left';

/**
 * Shares of a side force that the links carry, front, rear on the window's side, rear on the grip's side; of unlike sign: one is pulled while
 * another is pressed. The front link is far below the axis, so it turns the cup, and the rear ones hold that as a pair.
 */
export const linkShares = (centreZMm: number): [front: number, rearWindow: number, rearGrip: number] =>
  linkForcesN(
    { massGrams: 1000 / STANDARD_GRAVITY_MPS2, centreZMm },
    { name: 'level', tiltDeg: 90, rollDeg: 90 },
  );

/** What the glue of each link holds in the cup's post, N: as for the struts, bond of epoxy on roughened wire 8 MPa (a low figure, from memory). */
const linkGlueHoldsN = (): [front: number, rearWindow: number, rearGrip: number] => {
  const perMm = Math.PI * WIRE.linkDiameterMm * 8;
  return [perMm * LINK_POST_MM.front, perMm * LINK_POST_MM.rear, perMm * LINK_POST_MM.rear];
};

/** Force on what hangs, N, at which the glue of a link lets go. All links run to the right wall: what is pressed on one side is pulled on the other. */
export function linksHoldN(centreZMm: number, side: Side): number {
  const holds = linkGlueHoldsN();
  const limits = linkShares(centreZMm).map((share, i) => {
    const pulled = side === 'left' ? share : -share;
    return pulled > 0 ? holds[i]! / pulled : Number.POSITIVE_INFINITY;
  });
  return Math.min(...limits);
}

/** Height of a fall after which all three links still hold, mm. */
export function safeSideFallMm(load: Carried, ground: Ground, side: Side): number {
  const { stoppingMm } = GROUNDS[ground];
  const weightN = (load.massGrams / 1000) * STANDARD_GRAVITY_MPS2;
  return Math.max(
    0,
    (linksHoldN(load.centreZMm, side) / DROP.peakFactor / weightN) * stoppingMm - stoppingMm,
  );
}

/**
 * A wire, fixed at one end, on a prop after `beforeMm`, its far end `beyondMm` further on pushed sideways without turning: greatest moment and
 * force at that end, both over E·I. Slope deflection: θ·(4/a + 4/b) = 6·Δ/b² at the prop, M = 6·Δ/b² − 2·θ/b,
 * V = 12·Δ/b³ − 6·θ/b² (any book of structural analysis, e.g. Hibbeler; from memory).
 */
export function proppedWire(
  beforeMm: number,
  beyondMm: number,
  sidewaysMm: number,
): { moment: number; force: number } {
  const [a, b, d] = [beforeMm, beyondMm, sidewaysMm];
  const turn = (6 * d) / b ** 2 / (4 / a + 4 / b);
  return {
    moment: (6 * d) / b ** 2 - (2 * turn) / b,
    force: (12 * d) / b ** 3 - (6 * turn) / b ** 2,
  };
}

/** Once links give way the cup stops at the spacers beside its feet, turns about them, and comes to rest on the shell's wall. */
const wallGapMm = (): number => SHAPE.shellInner - SHAPE.cupOuter;

/** Stress of the axial strut, MPa, and side force on its cell, N, as the cup has gone to the wall: bent free until it meets the bore's mouth, then over it. */
function axialStrutAtWall(): { stressMPa: number; sideN: number } {
  const inBoreMm = CLAMP.headMm / 2 + CELL.thicknessMm + CLAMP.nutMm;
  const s = inBoreMm / WIRE.strutLengthMm;
  const roomMm = (CLAMP.boreDiameterMm - WIRE.strutDiameterMm) / 2;
  const freeMm = Math.min(wallGapMm(), roomMm / (3 * s ** 2 - 2 * s ** 3));
  const { moment, force } = proppedWire(inBoreMm, WIRE.strutLengthMm - inBoreMm, wallGapMm() - freeMm);
  const stiffness = WIRE.youngsModulusMPa * roundInertiaMm4(WIRE.strutDiameterMm);
  return {
    stressMPa: strutBendingMPa(freeMm) + (WIRE.youngsModulusMPa * moment * WIRE.strutDiameterMm) / 2,
    sideN: stiffness * ((12 * freeMm) / WIRE.strutLengthMm ** 3 + force),
  };
}

/** Margins of a fall on the side: each ≥ 1 survives. */
export interface SideFallMargins {
  readonly links: number;
  readonly axialStrut: number;
  readonly cell: number;
  readonly spacer: number;
}

export function sideFallMargins(
  heightMm: number,
  load: Carried,
  ground: Ground,
  side: Side,
): SideFallMargins {
  const forceN = peakForceN(heightMm, load.massGrams, ground);
  const { stressMPa, sideN } = axialStrutAtWall();
  const links = linksHoldN(load.centreZMm, side) / forceN;
  // While the links hold, the cup goes no further than the gap at its feet.
  const strutMPa = links >= 1 ? strutBendingMPa(SIDE_GAP_MM) : stressMPa;
  return {
    links,
    axialStrut: (0.9 * WIRE.tensileStrengthMPa) / strutMPa,
    // A bar's side load is taken as safe as its load; the data sheets of small bars say so or nothing (from memory).
    cell: (CELL_DATA.safeOverload * ratedN) / sideN,
    // As if the wall took nothing: both spacers, Ø 5 over Ø 3, against feet and bosses of the weaker material.
    spacer: (DROP.pins * HARD_MATERIALS.asa.strengthMPa * (Math.PI / 4) * (5 ** 2 - 3 ** 2)) / forceN,
  };
}
