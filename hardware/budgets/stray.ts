/** Loads that go past the cells: share of wires that bend, and wires that lean while they carry load. Pure. N, mm. */

import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { BOTTLE, PLACES, WIRE } from '../design.ts';
import { FRONT_LINK, linkLengthsMm, REAR_LINKS } from '../shape/cup-side.ts';
import {
  axialStiffnessNPerMm,
  fixedColumnLoadN,
  geometricStiffnessNPerMm,
  guidedStiffnessNPerMm,
  roundAreaMm2,
  roundInertiaMm4,
} from './beams.ts';
import { CELL_DATA, supportStiffnessNPerMm } from './cells.ts';
import {
  type Carried,
  type CellForces,
  cellForces,
  type Hold,
  MILK_LEVER_MM,
  type Mouth,
  NO_MOUTH,
  specificForce,
} from './holds.ts';

export interface Link {
  readonly name: string;
  readonly xMm: number;
  readonly zMm: number;
  readonly lengthMm: number;
}

export const LINKS: readonly [Link, Link, Link] = [
  { name: 'front', xMm: FRONT_LINK.xMm, zMm: FRONT_LINK.zMm, lengthMm: linkLengthsMm.front },
  { name: 'upper rear', xMm: REAR_LINKS.xMm[0], zMm: REAR_LINKS.zMm, lengthMm: linkLengthsMm.rear },
  { name: 'lower rear', xMm: REAR_LINKS.xMm[1], zMm: REAR_LINKS.zMm, lengthMm: linkLengthsMm.rear },
];

const linkInertia = roundInertiaMm4(WIRE.linkDiameterMm);
const strutInertia = roundInertiaMm4(WIRE.strutDiameterMm);
const E = WIRE.youngsModulusMPa;

/**
 * Side load on each link, N (tension > 0): three links, three equations (y, yaw, roll), weight and mouth on the axis.
 */
export function linkForcesN(load: Carried, hold: Hold, mouth: Mouth = NO_MOUTH): [number, number, number] {
  const weightY = (load.massGrams / 1000) * STANDARD_GRAVITY_MPS2 * specificForce(hold)[1];
  const side = weightY - mouth.yN;
  const yaw = weightY * load.centreZMm - mouth.yN * BOTTLE.teatTipZMm;
  const [front, upper, lower] = LINKS;
  const frontN = (yaw - side * upper.zMm) / (front.zMm - upper.zMm);
  const rearN = side - frontN;
  // Roll: Σ x·F = 0.
  const upperN = (-front.xMm * frontN - lower.xMm * rearN) / (upper.xMm - lower.xMm);
  return [frontN, upperN, rearN - upperN];
}

/** Bending stiffness of links and struts beside the cells: linear and constant, so the calibration takes it in. Shares of the load. */
export function bypassShares(): { x: number; z: number } {
  const link = LINKS.reduce((sum, each) => sum + guidedStiffnessNPerMm(each.lengthMm, E, linkInertia), 0);
  const strut = guidedStiffnessNPerMm(WIRE.strutLengthMm, E, strutInertia);
  const cell = supportStiffnessNPerMm();
  return { x: (link + strut) / (2 * cell), z: (link + 2 * strut) / cell };
}

/** The state in which links and struts are fixed straight: level, roll 0, half full, nothing at the teat. */
export const STRAIGHT_HOLD: Hold = { name: 'level', tiltDeg: 90, rollDeg: 0 };

interface Moved {
  frontMm: number;
  rearMm: number;
  axialMm: number;
}

/** How far the cup has moved at each cell since the wires were fixed, mm, along the cell, x or z upwards. */
function moved(forces: CellForces, straight: CellForces): Moved {
  const k = supportStiffnessNPerMm();
  return {
    frontMm: -(forces.frontN - straight.frontN) / k,
    rearMm: -(forces.rearN - straight.rearN) / k,
    axialMm: -(forces.axialN - straight.axialN) / k,
  };
}

const xAt = (m: Moved, z: number): number =>
  m.rearMm + ((m.frontMm - m.rearMm) * (z - PLACES.rearZMm)) / (PLACES.frontZMm - PLACES.rearZMm);

/** A force that no cell feels as such: where it acts and what it is. */
interface Stray {
  zMm: number;
  xN: number;
  zN: number;
}

const leanN = (tensionN: number, lengthMm: number, byMm: number) =>
  -geometricStiffnessNPerMm(tensionN, lengthMm) * byMm;

/** Of the links, under side load. */
export function linkStrays(load: Carried, straight: Carried, hold: Hold, mouth: Mouth): Stray[] {
  const m = moved(cellForces(load, hold, mouth), cellForces(straight, STRAIGHT_HOLD));
  const forces = linkForcesN(load, hold, mouth);
  return LINKS.map((link, i) => ({
    zMm: link.zMm,
    xN: leanN(forces[i]!, link.lengthMm, xAt(m, link.zMm)),
    zN: leanN(forces[i]!, link.lengthMm, m.axialMm),
  }));
}

/** Of the struts, under their own load (compression is negative tension). */
export function strutStrays(load: Carried, straight: Carried, hold: Hold, mouth: Mouth): Stray[] {
  const forces = cellForces(load, hold, mouth);
  const m = moved(forces, cellForces(straight, STRAIGHT_HOLD));
  const l = WIRE.strutLengthMm;
  return [
    { zMm: PLACES.frontZMm, xN: 0, zN: leanN(-forces.frontN, l, m.axialMm) },
    { zMm: PLACES.rearZMm, xN: 0, zN: leanN(-forces.rearN, l, m.axialMm) },
    { zMm: 0, xN: leanN(-forces.axialN, l, xAt(m, 0)), zN: 0 },
  ];
}

/** What stray x forces do to the milk found from the balance about the teat's tip, g. */
export const balanceGrams = (strays: readonly Stray[]): number =>
  strays.reduce((sum, s) => sum + s.xN * (BOTTLE.teatTipZMm - s.zMm), 0) /
  MILK_LEVER_MM /
  (STANDARD_GRAVITY_MPS2 / 1000);

/** What stray z forces do to the axial reading, g. */
export const axialGrams = (strays: readonly Stray[]): number =>
  strays.reduce((sum, s) => sum + s.zN, 0) / (STANDARD_GRAVITY_MPS2 / 1000);

/** Side load moves the cup sideways; the struts then press on their cells from the side. g per cell, worst. */
export function sideOnCellGrams(load: Carried, hold: Hold, mouth: Mouth): number {
  const k = LINKS.map((link) => axialStiffnessNPerMm(link.lengthMm, E, roundAreaMm2(WIRE.linkDiameterMm)));
  const byMm = Math.max(...linkForcesN(load, hold, mouth).map((force, i) => Math.abs(force) / k[i]!));
  const strutN = guidedStiffnessNPerMm(WIRE.strutLengthMm, E, strutInertia) * byMm;
  return (strutN * CELL_DATA.sideSensitivity) / (STANDARD_GRAVITY_MPS2 / 1000);
}

/** Force that buckles a wire over what it carries at most; > 1 holds. */
export function bucklingMargins(
  load: Carried,
  hold: Hold,
  mouth: Mouth,
  strutN: number,
): { link: number; strut: number } {
  const forces = linkForcesN(load, hold, mouth);
  const link = Math.min(
    ...LINKS.map(
      (each, i) => fixedColumnLoadN(each.lengthMm, E, linkInertia) / Math.max(1e-9, Math.abs(forces[i]!)),
    ),
  );
  return { link, strut: fixedColumnLoadN(WIRE.strutLengthMm, E, strutInertia) / strutN };
}
