/** Bought parts as plain blocks: they show in the drawings and must not collide with what is printed. */
import { CELL, MOTION_BOARD, PLACES, SHAPE as S, WIRE } from '../design.ts';
import { CELL_TOP, FOOT_X, STOP_PIN, STOP_PIN_Z } from './cup-side.ts';
import { MOUNTS } from './shell-side.ts';
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

export interface Fitting {
  readonly name: string;
  readonly solid: () => Solid;
}

/** Clamps at the far ends of the struts, under their cells. */
function clamps(): Solid {
  const far = FOOT_X - WIRE.strutLengthMm;
  const farZ = S.cupBaseZ - 2 - WIRE.strutLengthMm;
  const under = CELL_TOP.transverseX - CELL.thicknessMm;
  return union(
    bar(2.2, [far - 2, 0, PLACES.frontZMm], [under, 0, PLACES.frontZMm]),
    bar(2.2, [far - 2, 0, PLACES.rearZMm], [under, 0, PLACES.rearZMm]),
    rod(2.2, [farZ - 2, CELL_TOP.axialZ - CELL.thicknessMm]),
  );
}

const cell = barCell();
const under = CELL_TOP.transverseX - CELL.thicknessMm;
const stopPin = (z: number): Solid =>
  bar(STOP_PIN.diameterMm / 2 - 0.02, [STOP_PIN.xMm, -15, z], [STOP_PIN.xMm, 15, z]);

/** On its shelf, the chip in its middle. */
function motionBoard(): Solid {
  const { acrossMm, alongMm, thicknessMm } = MOTION_BOARD;
  const [, shelfTop] = MOUNTS.motionShelf.x;
  const z = PLACES.accelerometerMm[2];
  return box(
    [shelfTop, shelfTop + thicknessMm],
    [-acrossMm / 2, acrossMm / 2],
    [z - alongMm / 2, z + alongMm / 2],
  );
}

export const FITTINGS: readonly Fitting[] = [
  { name: 'front cell', solid: () => cell.x(-1, PLACES.frontZMm) },
  { name: 'rear cell', solid: () => cell.x(1, PLACES.rearZMm) },
  { name: 'axial cell', solid: cell.z },
  { name: 'clamps', solid: clamps },
  { name: 'front stop pin', solid: () => stopPin(STOP_PIN_Z.front) },
  { name: 'rear stop pin', solid: () => stopPin(STOP_PIN_Z.rear) },
  { name: 'battery', solid: () => box([under - 6.8, under - 1.8], [-10, 10], [8, 48]) },
  { name: 'chip board', solid: () => box([under - 6, under - 2.4], [-9, 9], [60, 82.5]) },
  { name: 'motion board', solid: motionBoard },
  { name: 'booster', solid: () => box([under - 5, under - 2], [-5, 5], [-12, -3]) },
  { name: 'carrier board', solid: () => box([11.5, S.shellInner - 3.3], [-12, 12], [-17.5, -13.5]) },
  { name: 'radio bridge', solid: () => box([-24, 0], [8.5, 22], [-21.5, -18.5]) },
  { name: 'buzzer', solid: () => rod(6, [-22.3, -17.3], [-10, -15]) },
  { name: 'button', solid: () => rod(3.3, [-24.6, -19], [7, 0]) },
];
