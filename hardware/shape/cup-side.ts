/** What the cells weigh: the bottle, its washable liner and the inner cup with its feet. */
import { type Bottle, CELL, CLAMP, FIT, PLACES, SHAPE as S, SMALL_CUP, WIRE } from '../design.ts';
import {
  bar,
  box,
  clear,
  curvedWall,
  cut,
  type Range,
  rod,
  type Solid,
  tube,
  turned,
  union,
  wedge,
} from './solids.ts';

/** Stop pins across the keel, one in each foot: x and z of their middles. */
export const STOP_PIN = { diameterMm: 3, xMm: -(S.cupOuter + 2.9) } as const;
export const STOP_PIN_Z = { front: PLACES.frontZMm - 5.5, rear: PLACES.rearZMm + 5.5 } as const;
/** Lower face of the feet, where the struts begin. */
export const FOOT_X = -(S.cupOuter + 6);
/** The link under the front foot, and the two behind the bottle. */
export const FRONT_LINK = { xMm: FOOT_X - 5, zMm: PLACES.frontZMm - 12, fromY: -15, toY: 16.5 } as const;
const rearX = S.cupOuter - 10.8;
export const REAR_LINKS = {
  xMm: [rearX, -rearX],
  zMm: -8,
  // From a post at the edge of the cup's base to a block on the shell's wall.
  fromY: 3 - Math.sqrt((S.cupOuter + 0.1) ** 2 - (rearX + 2) ** 2),
  toY: Math.sqrt(S.shellInner ** 2 - rearX ** 2) - 4.3,
} as const;

/** Posts of the cup that the links end in: so deep is their glue there, mm. The shell's blocks are deeper. */
export const LINK_POST_MM = { front: 1.6, rear: 3 } as const;

export const linkLengthsMm = {
  front: FRONT_LINK.toY - FRONT_LINK.fromY,
  rear: REAR_LINKS.toY - REAR_LINKS.fromY,
} as const;

/** The foot's pin hole leaves the stop gap all round. */
function feet(stopGapMm: number): Solid {
  const top = -(S.cupInner + 0.4);
  const link: Range = [FRONT_LINK.zMm - 2, FRONT_LINK.zMm + 2];
  const front = box([FOOT_X, top], [-4, 4], [link[0], PLACES.frontZMm + 4]);
  // Under the side of the front pin's boss the arm is lower: on its way in it passes there.
  const arm = union(
    box([FOOT_X - 2.5, FOOT_X + 0.8], [-9, 4], link),
    box([FOOT_X - 2.5, FOOT_X - 0.5], [FRONT_LINK.fromY - LINK_POST_MM.front, -8], link),
  );
  const post = box(
    [FRONT_LINK.xMm - 1.5, FOOT_X - 0.5],
    [FRONT_LINK.fromY - LINK_POST_MM.front, FRONT_LINK.fromY],
    link,
  );
  const rear = box([FOOT_X, top], [-4, 4], [S.cupBaseZ, 10.5]);
  const hole = (z: number) =>
    bar(clear(STOP_PIN.diameterMm + 2 * stopGapMm), [STOP_PIN.xMm, -6, z], [STOP_PIN.xMm, 6, z]);
  return cut(
    union(front, arm, post, rear),
    hole(STOP_PIN_Z.front),
    hole(STOP_PIN_Z.rear),
    bar(0.5, [FOOT_X - 1, 0, PLACES.frontZMm], [FOOT_X + 5, 0, PLACES.frontZMm]),
    bar(0.5, [FOOT_X - 1, 0, PLACES.rearZMm], [FOOT_X + 5, 0, PLACES.rearZMm]),
    bar(0.5, [FRONT_LINK.xMm, -20, FRONT_LINK.zMm], [FRONT_LINK.xMm, -10, FRONT_LINK.zMm]),
  );
}

/** Openings between the cup's three ribs (below, left and right), degrees from +x and half width: the upper one is the window's. */
const CUP_OPENINGS = [
  [0, 97],
  [136.5, 23.5],
  [-136.5, 23.5],
] as const;

/** Inner cup: two rings, three ribs and a base, so that it is light and the bottle can be read. */
export function innerCup(stopGapMm: number): Solid {
  const bowl = turned([
    [0, S.cupBaseZ],
    [S.cupOuter, S.cupBaseZ],
    [S.cupOuter, S.cupFrontZ],
    [S.cupInner, S.cupFrontZ],
    [S.cupInner, S.linerBaseZ],
    [0, S.linerBaseZ],
  ]);
  const openings = CUP_OPENINGS.map(([middle, half]) =>
    curvedWall([S.cupInner - 3, S.cupOuter + 3], middle, half, [S.windowFromZ, S.windowToZ + 2]),
  );
  const lightening = [0, 60, 120, 180, 240, 300].map((deg) =>
    rod(6.5, [-10, 5], [18 * Math.cos((deg * Math.PI) / 180), 18 * Math.sin((deg * Math.PI) / 180)]),
  );
  const body = cut(bowl, ...openings, ...lightening);
  const boss = rod(4, [S.cupBaseZ - 2, S.cupBaseZ + 0.5]);
  const posts = REAR_LINKS.xMm.map((x) =>
    box(
      [x - 2, x + 2],
      [REAR_LINKS.fromY - LINK_POST_MM.rear, REAR_LINKS.fromY],
      [REAR_LINKS.zMm - 2, S.cupBaseZ + 0.5],
    ),
  );
  const holes = REAR_LINKS.xMm.map((x) => bar(0.5, [x, -30, REAR_LINKS.zMm], [x, -16, REAR_LINKS.zMm]));
  return cut(union(body, boss, ...posts, feet(stopGapMm)), rod(0.5, [-6, 0]), ...holes);
}

/** Drip lip all round from `inner`, and the tab to lift by. */
const lipAndTab = (inner: number): Solid =>
  union(
    tube(inner, S.shellOuter + 1, [S.lipZ, S.lipZ + 1]),
    curvedWall([S.linerOuter, S.shellOuter + 8], 0, 14, [S.lipZ, S.lipZ + 1]),
  );

/** Two tongues that snap under the cup's front ring. */
const tongues = (): Solid[] =>
  [136.5, -136.5].map((deg) =>
    curvedWall([S.linerOuter - 0.2, S.linerOuter + 1], deg, 5, [S.windowToZ - 1, S.windowToZ + 1.7]),
  );

/** Liner: a soft cup that catches drips, lifts out by its tab and goes into the sink. */
export function liner(): Solid {
  const wall = tube(S.linerInner, S.linerOuter, [S.linerBaseZ, S.lipZ + FIT.minLinerWallMm]);
  const base = rod(S.linerOuter, [S.linerBaseZ, 0]);
  // Three soft ribs hold the bottle by friction.
  const ribs = [180, 108, -108].map((deg) =>
    curvedWall([S.linerInner - 0.5, S.linerInner + 0.2], deg, 2.2, [8, S.cupFrontZ - 2]),
  );
  const window = wedge(0, S.linerWindowHalfDeg, 60, [S.windowFromZ, S.windowToZ]);
  return union(cut(union(wall, base, lipAndTab(S.linerInner)), window), ...ribs, ...tongues());
}

/** Fins that carry the small cup in the inner cup: all round under its floor, beside the window only at the back. */
const FIN_DEG = { below: [0, 60, -60], whole: [180, 136.5, -136.5, 108, -108] } as const;

/** Small cup: as the liner, for a small bottle, which stands raised on it. */
export function smallCup(): Solid {
  const { innerMm, liftMm, finMm } = SMALL_CUP;
  const outer = innerMm + FIT.minLinerWallMm;
  const floor: Range = [liftMm - FIT.minLinerWallMm, liftMm];
  const wall = tube(innerMm, outer, [floor[0], S.lipZ + FIT.minLinerWallMm]);
  const fin = (deg: number, radii: Range, z: Range): Solid =>
    curvedWall(radii, deg, (finMm / 2 / radii[1]) * (180 / Math.PI), z);
  const inwards: Range = [outer - 2, S.linerOuter];
  const below: Range = [S.linerBaseZ, liftMm - 0.2];
  const fins = union(
    ...[...FIN_DEG.below, ...FIN_DEG.whole].map((deg) => fin(deg, inwards, below)),
    ...FIN_DEG.whole.map((deg) => fin(deg, [outer - 0.4, S.linerOuter], [floor[0], S.lipZ + 0.5])),
    // Rings at both ends, so that the fins do not lean.
    tube(S.linerOuter - FIT.minLinerWallMm, S.linerOuter, [S.linerBaseZ, S.linerBaseZ + 4]),
    tube(S.linerOuter - FIT.minLinerWallMm, S.linerOuter, [S.cupFrontZ - 2, S.lipZ + 0.5]),
  );
  const ribs = [180, 108, -108].map((deg) =>
    curvedWall([innerMm - 0.5, innerMm + 0.2], deg, 2.6, [liftMm + 6, S.cupFrontZ - 2]),
  );
  const window = wedge(0, S.linerWindowHalfDeg, 60, [liftMm + 8, S.windowToZ]);
  const body = cut(union(wall, rod(outer, floor), lipAndTab(innerMm)), window);
  return union(body, fins, ...ribs, ...tongues());
}

/** The bottle as a solid of revolution: for drawings and for the window's test, never printed. */
export function bottleSolid(bottle: Bottle): Solid {
  const r = bottle.diameterMm / 2;
  const teat: [number, number][] = [
    [14, bottle.collarTopZMm],
    [13, bottle.collarTopZMm + 8],
    [8, bottle.collarTopZMm + 16],
    [6.5, bottle.teatTipZMm - 9],
    [5.5, bottle.teatTipZMm - 3],
    [3, bottle.teatTipZMm - 0.5],
    [0, bottle.teatTipZMm],
  ];
  return turned([
    [0, 0],
    [r - 3, 0],
    [r - 0.8, 1],
    [r, 3],
    [r, bottle.bodyHeightMm],
    [r - 2.5, bottle.bodyHeightMm + 6],
    [bottle.neckRadiusMm, bottle.neckZMm],
    [bottle.collarRadiusMm, bottle.neckZMm],
    [bottle.collarRadiusMm, bottle.collarTopZMm],
    ...teat,
  ]);
}

/** The three struts: thin wires, stiff along their length only. */
export function struts(): Solid[] {
  const r = WIRE.strutDiameterMm / 2;
  const l = WIRE.strutLengthMm;
  return [
    bar(r, [0, 0, S.cupBaseZ - 2], [0, 0, S.cupBaseZ - 2 - l]),
    bar(r, [FOOT_X, 0, PLACES.frontZMm], [FOOT_X - l, 0, PLACES.frontZMm]),
    bar(r, [FOOT_X, 0, PLACES.rearZMm], [FOOT_X - l, 0, PLACES.rearZMm]),
  ];
}

/** The three links that hold y, roll and yaw. */
export function links(): Solid[] {
  const r = WIRE.linkDiameterMm / 2;
  const f = FRONT_LINK;
  return [
    bar(r, [f.xMm, f.fromY, f.zMm], [f.xMm, f.toY, f.zMm]),
    ...REAR_LINKS.xMm.map((x) =>
      bar(r, [x, REAR_LINKS.fromY, REAR_LINKS.zMm], [x, REAR_LINKS.toY, REAR_LINKS.zMm]),
    ),
  ];
}

/** Nearer faces of the three bar cells, seen from the bottle: the set screw sits in the middle of the clamp's head. */
const WIRE_END_TO_TOP = CELL.thicknessMm + CLAMP.headMm / 2;
export const CELL_TOP = {
  axialZ: S.cupBaseZ - 2 - WIRE.strutLengthMm + WIRE_END_TO_TOP,
  transverseX: FOOT_X - WIRE.strutLengthMm + WIRE_END_TO_TOP,
} as const;
