/** Bought parts as plain blocks: they show in the drawings and must not collide with what is printed. */

import { MODULES } from '../circuit/modules.ts';
import { CELL, CLAMP, PLACES, SHAPE as S, SEAT, SIDE_GAP_MM } from '../design.ts';
import { CELL_TOP, STOP_PIN, STOP_PIN_Z } from './cup-side.ts';
import { CONTACTS, seatScrews } from './shell-side.ts';
import { bar, box, cut, rod, type Solid, union } from './solids.ts';

/** Slotted middle of a bar cell, standing for its two spot-thinned beams. */
function barCell(): { x: (towards: 1 | -1, loadZ: number) => Solid; z: () => Solid } {
  const { lengthMm: l, widthMm: w, thicknessMm: t, loadHoleMm: h } = CELL;
  const hole = CELL.loadHoleDiameterMm / 2;
  return {
    /** Bar along z under the keel's bridge; its fixed end lies `towards` +z or −z of the load. */
    x: (towards, loadZ) => {
      const top = CELL_TOP.transverseX;
      const z: [number, number] = towards === 1 ? [loadZ - h, loadZ - h + l] : [loadZ + h - l, loadZ + h];
      const middle = (z[0] + z[1]) / 2;
      return cut(
        box([top - t, top], [-w / 2, w / 2], z),
        box([top - t + 1, top - 1], [-w, w], [middle - 6, middle + 6]),
        bar(hole, [top - t - 1, 0, loadZ], [top + 1, 0, loadZ]),
      );
    },
    /** Bar along −x behind the bottle, load on the axis. */
    z: () => {
      const top = CELL_TOP.axialZ;
      const middle = h - l / 2;
      return cut(
        box([h - l, h], [-w / 2, w / 2], [top - t, top]),
        box([middle - 6, middle + 6], [-w, w], [top - t + 1, top - 1]),
        rod(hole, [top - t - 1, top + 1]),
      );
    },
  };
}

/** Half the width of a foot, and the gap; up to the boss. */
const STOP_SPACER = { diameterMm: 5, fromYMm: 4 + SIDE_GAP_MM, toYMm: 11 } as const;

export interface Fitting {
  readonly name: string;
  readonly solid: () => Solid;
}

/** One clamp along `axis` up to a cell's near face at `top`: head, neck through the hole, nut; drilled for the wire. */
function clampAt(along: (radius: number, from: number, to: number) => Solid, top: number): Solid {
  const under = top - CELL.thicknessMm;
  const [low, high] = [under - CLAMP.headMm, top + CLAMP.nutMm];
  return cut(
    union(
      along(CLAMP.headDiameterMm / 2, low, under),
      along(CLAMP.neckDiameterMm / 2, under - 0.5, top + 0.5),
      along(CLAMP.nutCornersMm / 2, top, high),
    ),
    along(CLAMP.boreDiameterMm / 2, low + CLAMP.headMm / 2 + 0.5, high + 1),
  );
}

/** Clamps of the struts: they hold their cells between head and nut. */
function clamps(): Solid {
  const across = (z: number) => (radius: number, from: number, to: number) =>
    bar(radius, [from, 0, z], [to, 0, z]);
  return union(
    clampAt(across(PLACES.frontZMm), CELL_TOP.transverseX),
    clampAt(across(PLACES.rearZMm), CELL_TOP.transverseX),
    clampAt((radius, from, to) => rod(radius, [from, to]), CELL_TOP.axialZ),
  );
}

/** Springs and heads of the cells' screws, as plain bars. */
function seatSprings(): Solid {
  const on = CELL_TOP.transverseX + 2.6 - SEAT.spotFaceMm;
  const radius = (SEAT.coilDiameterMm + SEAT.wireDiameterMm) / 2;
  const high = SEAT.setLengthMm + SEAT.headMm;
  return union(
    ...[...seatScrews('front'), ...seatScrews('rear')].map((z) => bar(radius, [on, 0, z], [on + high, 0, z])),
    ...seatScrews('axial').map((x) => rod(radius, [CELL_TOP.axialZ, CELL_TOP.axialZ + high], [x, 0])),
  );
}

/** Tubes on the stop pins, between foot and boss: they stop the cup sideways. */
const stopSpacers = (): Solid =>
  union(
    ...[STOP_PIN_Z.front, STOP_PIN_Z.rear].flatMap((z) =>
      [-1, 1].map((side) => {
        const y = (mm: number): [number, number, number] => [STOP_PIN.xMm, side * mm, z];
        return cut(
          bar(STOP_SPACER.diameterMm / 2, y(STOP_SPACER.fromYMm), y(STOP_SPACER.toYMm)),
          bar(STOP_PIN.diameterMm / 2 + 0.05, y(0), y(20)),
        );
      }),
    ),
  );

const cell = barCell();
const under = CELL_TOP.transverseX - CELL.thicknessMm;
const stopPin = (z: number): Solid =>
  bar(STOP_PIN.diameterMm / 2 - 0.02, [STOP_PIN.xMm, -17, z], [STOP_PIN.xMm, 17, z]);

export const FITTINGS: readonly Fitting[] = [
  { name: 'front cell', solid: () => cell.x(-1, PLACES.frontZMm) },
  { name: 'rear cell', solid: () => cell.x(1, PLACES.rearZMm) },
  { name: 'axial cell', solid: cell.z },
  { name: 'clamps', solid: clamps },
  { name: 'seat springs', solid: seatSprings },
  { name: 'stop spacers', solid: stopSpacers },
  { name: 'front stop pin', solid: () => stopPin(STOP_PIN_Z.front) },
  { name: 'rear stop pin', solid: () => stopPin(STOP_PIN_Z.rear) },
  { name: 'battery', solid: () => box([under - 6.8, under - 1.8], [-10, 10], [6.2, 46.2]) },
  ...MODULES.map(({ name, x, y, z }) => ({ name, solid: () => box(x, y, z) })),
  {
    name: 'charging contacts',
    solid: () => union(...CONTACTS.map(([x, y]) => rod(1, [S.capRearZ - 0.3, S.capRearZ + 5], [x, y]))),
  },
  { name: 'buzzer', solid: () => rod(6, [-23, -18], [-10, -15]) },
  { name: 'button', solid: () => rod(3.3, [-25.2, -19.6], [7, 0]) },
];
