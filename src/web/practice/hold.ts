/** Where the bottle is drawn in a practice feed, so that it is always inside the drawing. Pure; px of the drawing. */

/** The drawing: a face on the left, room for the bottle above and below. */
export const HOLD_VIEW = { left: 0, top: -20, width: 360, height: 340 } as const;

/** The nipple's tip: at the mouth, or beside the face. */
const TIP = { in: { x: 112, y: 160 }, out: { x: 158, y: 140 } } as const;

export interface BottlePlace {
  x: number;
  y: number;
  /** Clockwise, from level with the bottle to the right of its tip. */
  turnDeg: number;
}

/** @param tiltDeg  counts from upright: level is 90, and the nipple points to the baby */
export const bottlePlace = (teatIn: boolean, tiltDeg: number): BottlePlace => ({
  ...TIP[teatIn ? 'in' : 'out'],
  turnDeg: 90 - tiltDeg,
});
