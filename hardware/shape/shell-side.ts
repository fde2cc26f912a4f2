/** What the hand holds: shell with its window pane, grip cover, battery door and end cap. */
import { CELL, MOTION_BOARD, PLACES, SHAPE as S, SEAT } from '../design.ts';
import { CELL_TOP, FOOT_X, FRONT_LINK, REAR_LINKS, STOP_PIN, STOP_PIN_Z } from './cup-side.ts';
import {
  bar,
  box,
  circle,
  clear,
  common,
  curvedWall,
  cut,
  joined,
  less,
  type Outline,
  type Point3,
  type Range,
  raised,
  rod,
  type Solid,
  union,
} from './solids.ts';

export const KEEL: readonly [number, number] = [S.keelX, 0];
export const AXIS: readonly [number, number] = [0, 0];

/** Battery door: half angle about the keel's axis, and its ends. */
export const DOOR = { halfDeg: 36, fromZ: 6, toZ: 56, screwZ: 53, gap: 0.25 } as const;

/** The seam between shell and cover, and the gap left there. */
export const COVER_TOP = S.seamX - 0.15;

/** Screws that hold the end cap, x and y. */
export const CAP_SCREWS = [
  [(S.shellInner - 2.8) / 2, (S.shellInner - 2.8) * Math.sqrt(0.75)],
  [(S.shellInner - 2.8) / 2, -(S.shellInner - 2.8) * Math.sqrt(0.75)],
  [S.keelX - 13.5, 0],
] as const;

/** Charging contacts in the end cap: screws M2, x and y. Far apart, so that nothing small lies across them. */
export const CONTACTS = [
  [26, 15],
  [26, -15],
] as const;
export const COVER_SCREWS_Z = [S.shellFrontZ - 3.1, -16.5] as const;

/** For self-tapping screws of 2.2 mm: core hole, and through hole with 0.15 mm all round (common practice, no source). */
const SELF_TAPPING_RADIUS = 0.9;
export const THROUGH_RADIUS = clear(2.5);

const inner = (): Outline => joined(circle(S.shellInner, AXIS), circle(S.keelInner, KEEL));
export const outer = (): Outline => joined(circle(S.shellOuter, AXIS), circle(S.keelOuter, KEEL));

/** Room inside, a little into the walls, so that what is fixed to a wall is one with it. */
const room = (z: Range): Solid =>
  raised(joined(circle(S.shellInner + 0.6, AXIS), circle(S.keelInner + 0.6, KEEL)), z);
const keelRoom = (z: Range): Solid => raised(circle(S.keelInner + 0.6, KEEL), z);

/** Cells sit on these with two ridges each: the front and rear ones under a bridge, the axial one on a plate behind it. */
export const MOUNTS = {
  bridge: {
    x: [CELL_TOP.transverseX + SEAT.ridgeHeightMm, CELL_TOP.transverseX + 2.6] as Range,
    z: [PLACES.rearZMm + 29, PLACES.frontZMm - 29] as Range,
  },
  plate: {
    x: [S.keelX - S.keelInner, -26] as Range,
    z: [
      CELL_TOP.axialZ - CELL.thicknessMm - 3.5,
      CELL_TOP.axialZ - CELL.thicknessMm - SEAT.ridgeHeightMm,
    ] as Range,
  },
  /** In front of the bridge and above it, over the front cell, which bends there and must not touch it. */
  motionShelf: {
    x: [PLACES.accelerometerMm[0] - 2.1 - MOTION_BOARD.shelfMm, PLACES.accelerometerMm[0] - 2.1] as Range,
    z: [PLACES.frontZMm - 30, PLACES.accelerometerMm[2] + MOTION_BOARD.alongMm / 2] as Range,
  },
} as const;

/** Fixed ends of the cells, and which way the bar goes from there: z of the front and rear cell, x of the axial one. */
const FIXED_END = {
  front: { at: PLACES.frontZMm + CELL.loadHoleMm - CELL.lengthMm, towards: 1 },
  rear: { at: PLACES.rearZMm - CELL.loadHoleMm + CELL.lengthMm, towards: -1 },
  axial: { at: CELL.loadHoleMm - CELL.lengthMm, towards: 1 },
} as const;
const fromFixedEnd = (cell: keyof typeof FIXED_END, mm: readonly number[]): number[] =>
  mm.map((each) => FIXED_END[cell].at + FIXED_END[cell].towards * each);
/** Where the two screws of a cell stand, and its two ridges. */
export const seatScrews = (cell: keyof typeof FIXED_END): number[] => fromFixedEnd(cell, CELL.screwHolesMm);
export const seatRidges = (cell: keyof typeof FIXED_END): number[] => fromFixedEnd(cell, SEAT.ridgesMm);

/** Ridges of all three seats, a little into bridge and plate, so that they are one with them. */
function ridges(): Solid {
  const [w, half] = [SEAT.ridgeWidthMm / 2, CELL.widthMm / 2];
  const top = CELL_TOP.transverseX;
  const under = CELL_TOP.axialZ - CELL.thicknessMm;
  return union(
    ...[...seatRidges('front'), ...seatRidges('rear')].map((z) =>
      box([top, MOUNTS.bridge.x[0] + 0.4], [-half, half], [z - w, z + w]),
    ),
    ...seatRidges('axial').map((x) => box([x - w, x + w], [-half, half], [MOUNTS.plate.z[1] - 0.4, under])),
  );
}

/** Through holes of the cells' screws, spot faces of their springs, and pockets for the nuts behind the plate. */
function seatHoles(): Solid {
  const [hole, spot] = [clear(SEAT.holeDiameterMm), clear(SEAT.coilDiameterMm + SEAT.wireDiameterMm + 0.5)];
  const [from, to] = MOUNTS.bridge.x;
  const nut = clear(5.8);
  return union(
    ...[...seatScrews('front'), ...seatScrews('rear')].flatMap((z) => [
      bar(hole, [from - 4, 0, z], [to + 4, 0, z]),
      bar(spot, [to - SEAT.spotFaceMm, 0, z], [to + 4, 0, z]),
    ]),
    ...seatScrews('axial').flatMap((x) => [
      bar(hole, [x, 0, -40], [x, 0, CELL_TOP.axialZ]),
      bar(nut, [x, 0, -40], [x, 0, MOUNTS.plate.z[0] + 1.9]),
    ]),
  );
}

/** What the cup's feet, arm and post need of the front wall on their way in, with room to spare; closed by a film afterwards. */
const feetWay = (z: Range): Solid =>
  union(
    box([FOOT_X - 1, -30], [-5, 5], z),
    box([FOOT_X - 3.5, -30], [-17.6, 5], z),
    box([FRONT_LINK.xMm - 2.5, -30], [-17.6, FRONT_LINK.fromY + 1], z),
  );

/** Shell: tube and upper part of the keel, with everything that carries cells, links and stop pins. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a solid, cut by cut
export function shell(): Solid {
  const wall = raised(less(outer(), inner()), [S.shellRearZ, S.shellFrontZ]);
  const window = curvedWall([S.shellInner - 3, S.shellOuter + 3], 0, S.windowHalfDeg, [
    S.windowFromZ,
    S.windowToZ,
  ]);
  const cover = box([-100, S.seamX], [-50, 50], [-50, 150]);
  const bridge = common(keelRoom(MOUNTS.bridge.z), box(MOUNTS.bridge.x, [-30, 30], MOUNTS.bridge.z));
  const { shelfHalfWidthMm } = MOTION_BOARD;
  const motionShelf = box(MOUNTS.motionShelf.x, [-shelfHalfWidthMm, shelfHalfWidthMm], MOUNTS.motionShelf.z);
  const plate = common(room(MOUNTS.plate.z), box([S.seamX, -26], [-30, 30], MOUNTS.plate.z));
  const plateFoot = union(
    common(
      rod(S.keelInner - 0.3, MOUNTS.plate.z, KEEL),
      box([-100, S.seamX + 0.5], [-30, 30], MOUNTS.plate.z),
    ),
    box([S.keelX - 17.5, S.keelX - 10.4], [-5, 5], [MOUNTS.plate.z[0], -14]),
  );
  // The front wall closes the cover too, so below the seam it only touches it.
  const front: Range = [S.shellFrontZ - 2, S.shellFrontZ - 0.5];
  const frontWall = union(
    cut(
      common(
        raised(less(circle(S.keelInner + 0.6, KEEL), circle(S.shellInner, AXIS)), front),
        box([S.seamX, 0], [-30, 30], front),
      ),
      feetWay([front[0] - 1, front[1] + 1]),
    ),
    common(rod(S.keelInner - 0.3, front, KEEL), box([-100, S.seamX + 0.5], [-30, 30], front)),
    box([S.keelX - 17.5, S.keelX - 11.8], [-5, 5], [S.shellFrontZ - 5.7, S.shellFrontZ - 1]),
  );
  const linkZ: Range = [FRONT_LINK.zMm - 3, FRONT_LINK.zMm + 3];
  const linkBlocks = union(
    common(keelRoom(linkZ), box([FRONT_LINK.xMm - 2, FRONT_LINK.xMm + 4], [FRONT_LINK.toY, 20], linkZ)),
    ...REAR_LINKS.xMm.map((x) =>
      common(room([-11, -5]), box([x - 2.5, x + 2.5], [REAR_LINKS.toY, S.shellOuter + 1], [-11, -5])),
    ),
  );
  const pinBosses = union(
    ...[STOP_PIN_Z.front, STOP_PIN_Z.rear].flatMap((z) =>
      (
        [
          [11, 20],
          [-20, -11],
        ] as const
      ).map((y) =>
        common(keelRoom([z - 3, z + 3]), box([STOP_PIN.xMm - 3, STOP_PIN.xMm + 3], y, [z - 3, z + 3])),
      ),
    ),
  );
  const capBosses = CAP_SCREWS.slice(0, 2).map(([x, y]) =>
    common(room([S.shellRearZ + 0.1, -14]), rod(3, [S.shellRearZ + 0.1, -14], [x, y])),
  );
  const body = union(
    cut(wall, window, cover),
    union(bridge, motionShelf, linkBlocks, pinBosses),
    union(plate, plateFoot, ridges(), ...capBosses),
    frontWall,
  );
  const bore = (from: Point3, to: Point3, radius = SELF_TAPPING_RADIUS) => bar(radius, from, to);
  return cut(
    body,
    ...[STOP_PIN_Z.front, STOP_PIN_Z.rear].map((z) =>
      bore([STOP_PIN.xMm, -30, z], [STOP_PIN.xMm, 30, z], clear(STOP_PIN.diameterMm)),
    ),
    ...REAR_LINKS.xMm.map((x) => bore([x, 20, REAR_LINKS.zMm], [x, 40, REAR_LINKS.zMm], 0.5)),
    bore([FRONT_LINK.xMm, 12, FRONT_LINK.zMm], [FRONT_LINK.xMm, 30, FRONT_LINK.zMm], 0.5),
    ...CAP_SCREWS.map(([x, y]) => bore([x, y, -30], [x, y, y === 0 ? -19.5 : -15])),
    ...COVER_SCREWS_Z.map((z) => bore([S.keelX - 25, 0, z], [S.keelX - 10, 0, z])),
    seatHoles(),
  );
}

/** A screw or pin and the hole that it goes through: Ø of its shank, and a stretch of its axis inside the part. */
export interface ScrewHole {
  readonly part: string;
  readonly screw: number;
  readonly from: Point3;
  readonly to: Point3;
}

/** Every hole with something in it, for the fit check: through holes by the thread's size, core holes by their own. */
export function SCREW_HOLES(): ScrewHole[] {
  const [bridge0, bridge1] = MOUNTS.bridge.x;
  const hole = (part: string, screw: number, from: Point3, to: Point3): ScrewHole => ({
    part,
    screw,
    from,
    to,
  });
  return [
    ...COVER_SCREWS_Z.flatMap((z) => [
      hole('grip cover', 2.2, [S.keelX - 24, 0, z], [S.keelX - 16, 0, z]),
      hole('shell', 1.7, [S.keelX - 17, 0, z], [S.keelX - 12, 0, z]),
    ]),
    ...CAP_SCREWS.flatMap(([x, y]) => [
      hole('end cap', 2.2, [x, y, -27], [x, y, -21]),
      hole('shell', 1.7, [x, y, S.shellRearZ], [x, y, -20]),
    ]),
    ...CONTACTS.map(([x, y]) => hole('end cap', 2, [x, y, -27], [x, y, -21])),
    ...[...seatScrews('front'), ...seatScrews('rear')].map((z) =>
      hole('shell', 2.5, [bridge0 - 0.5, 0, z], [bridge1 + 0.5, 0, z]),
    ),
    ...seatScrews('axial').map((x) =>
      hole('shell', 2.5, [x, 0, MOUNTS.plate.z[0] - 0.5], [x, 0, MOUNTS.plate.z[1] + 0.5]),
    ),
    ...[STOP_PIN_Z.front, STOP_PIN_Z.rear].map((z) =>
      hole('shell', STOP_PIN.diameterMm, [STOP_PIN.xMm, -25, z], [STOP_PIN.xMm, 25, z]),
    ),
    hole('battery door', 2.5, [S.keelX - 22, 0, DOOR.screwZ], [S.keelX - 16, 0, DOOR.screwZ]),
  ];
}
