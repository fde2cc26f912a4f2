/** What closes the shell: grip cover, battery door, end cap, pane, film and the disc before the light. */
import { LIGHT, SHAPE as S } from '../design.ts';
import { FRONT_LINK } from './cup-side.ts';
import {
  AXIS,
  CAP_SCREWS,
  CONTACTS,
  COVER_SCREWS_Z,
  COVER_TOP,
  DOOR,
  KEEL,
  outer,
  THROUGH_RADIUS,
} from './shell-side.ts';
import {
  bar,
  box,
  circle,
  clear,
  common,
  curvedWall,
  cut,
  less,
  type Point3,
  type Range,
  raised,
  rod,
  type Solid,
  union,
} from './solids.ts';

/** Grip cover: lower part of the keel, with the opening of the battery door. */
export function gripCover(): Solid {
  const ring = curvedWall([S.keelInner, S.keelOuter], 180, 80, [S.shellRearZ, S.shellFrontZ], KEEL);
  const upper = box([COVER_TOP, 100], [-50, 50], [-50, 150]);
  const opening = curvedWall(
    [S.keelInner - 0.1, S.keelOuter + 8],
    180,
    DOOR.halfDeg,
    [DOOR.fromZ, DOOR.toZ],
    KEEL,
  );
  const ledge = curvedWall([S.keelInner - 2.2, S.keelInner + 0.4], 180, DOOR.halfDeg + 5, [50, 60], KEEL);
  const screws = COVER_SCREWS_Z.map((z) => bar(THROUGH_RADIUS, [S.keelX - 25, 0, z], [S.keelX - 15, 0, z]));
  const doorScrew = bar(clear(3.2), [S.keelX - 22, 0, DOOR.screwZ], [S.keelX - 10, 0, DOOR.screwZ]);
  return cut(union(ring, ledge), upper, opening, ...screws, doorScrew);
}

/** Battery door: a tongue at the rear, one captive screw at the front. */
export function batteryDoor(): Solid {
  const g = DOOR.gap;
  const panel = curvedWall(
    [S.keelInner + 0.15, S.keelOuter],
    180,
    DOOR.halfDeg - 0.8,
    [DOOR.fromZ + g, DOOR.toZ - g],
    KEEL,
  );
  const tongue = curvedWall(
    [S.keelInner - 1.4, S.keelInner - 0.2],
    180,
    DOOR.halfDeg - 12,
    [DOOR.fromZ - 3.5, DOOR.fromZ + 4],
    KEEL,
  );
  const root = curvedWall(
    [S.keelInner - 1.4, S.keelInner + 0.8],
    180,
    DOOR.halfDeg - 12,
    [DOOR.fromZ + g, DOOR.fromZ + 4],
    KEEL,
  );
  return cut(
    union(panel, tongue, root),
    bar(clear(2.9), [S.keelX - 22, 0, DOOR.screwZ], [S.keelX - 15, 0, DOOR.screwZ]),
  );
}
const along = (steps: number): Point3 => [
  LIGHT.atMm[0] + steps * LIGHT.towards[0],
  0,
  LIGHT.atMm[2] + steps * LIGHT.towards[2],
];

/** End cap: closes the rear, carries light, button and buzzer, all turned away from the baby. */
export function endCap(): Solid {
  const plate = raised(outer(), [S.capRearZ, S.shellRearZ]);
  // The plate goes on behind the light, so that none shines into the sleeve; its legs go through a small hole.
  const housing = common(bar(6.4, along(-8), along(7.5)), box([-100, 100], [-50, 50], [-60, S.shellRearZ]));
  const room = common(bar(4.9, along(-12), along(9)), box([-100, 100], [-50, 50], [-60, S.capRearZ]));
  return cut(
    union(plate, housing),
    room,
    rod(1.5, [-30, -20], [LIGHT.atMm[0], 0]),
    rod(3.6, [-30, -20], [7, 0]),
    rod(1.5, [-30, -20], [-10, -15]),
    box([S.keelX - 5, S.keelX - 1], [-4.5, 4.5], [-30, -20]),
    ...CAP_SCREWS.map(([x, y]) => rod(THROUGH_RADIUS, [-30, -20], [x, y])),
    ...CONTACTS.map(([x, y]) => rod(clear(2.2), [-30, -20], [x, y])),
  );
}

/** Clear film over the window, glued on from outside: keeps fingers off the bottle, and the label readable. */
export const pane = (): Solid =>
  curvedWall([S.shellOuter + 0.05, S.shellOuter + 0.05 + S.paneThickness], 0, S.windowHalfDeg + 6, [
    S.windowFromZ - 3,
    S.windowToZ + 3,
  ]);
/** Clear film on the front wall, glued on when the cup is in: milk that drips must not get to the cells. */
export function frontFilm(): Solid {
  const z: Range = [S.shellFrontZ - 0.5 + 0.02, S.shellFrontZ - 0.5 + 0.02 + S.paneThickness];
  return common(
    raised(less(circle(S.keelInner - 0.4, KEEL), circle(S.shellInner + 0.2, AXIS)), z),
    box([FRONT_LINK.xMm - 5, 0], [-30, 30], z),
  );
}

/** Milky disc in front of the light. */
export const lightDisc = (): Solid => bar(4.7, along(6.2), along(7.5));
