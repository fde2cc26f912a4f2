/**
 * The sleeve's measures, the one place for all of them: shape, parts and budgets read from here.
 * Axes of the sleeve contract, section 1: origin at the centre of the bottle's base, z to the teat, x away from the grip.
 * All lengths in mm, masses in g. The bottle stands in bottle.ts.
 */
import { BOTTLE, checkBottle } from './bottle.ts';

export { BOTTLE, type Bottle } from './bottle.ts';

checkBottle(BOTTLE);

/** Densities, g/cm³: usual table values, from memory. */
export const DENSITY = { pa12: 1.01, tpu: 1.21, petFilm: 1.38, aluminium: 2.7 } as const;

/** A straight bar cell with two spot-thinned beams; sizes of the usual small bar. */
export const CELL = {
  lengthMm: 47,
  widthMm: 12,
  thicknessMm: 6,
  /** From the free end to the hole that takes the load. */
  loadHoleMm: 5,
  /** Hole for the load, Ø; the strut's wire goes through it without touching. */
  loadHoleDiameterMm: 3,
  /** Spot-thinned middle, cut out across the bar: metal left of the bar's full volume. */
  metalFraction: 0.8,
} as const;

/** Music wire (ASTM A228). Young's modulus and strength from memory of the usual tables. */
export const WIRE = {
  youngsModulusMPa: 200_000,
  tensileStrengthMPa: 2000,
  strutDiameterMm: 0.4,
  strutLengthMm: 15,
  linkDiameterMm: 0.5,
} as const;

export const FIT = {
  /** Thinnest wall of a printed part: two lines of a 0.5 mm nozzle. Common practice, no source. */
  minWallMm: 1,
  minLinerWallMm: 0.8,
  /** Cup side to shell side, everywhere but at the struts, links and stop pins. */
  minClearanceMm: 1.2,
  /** Bottle to liner, liner to cup: slip fits. */
  slipMm: 0.25,
} as const;

const cupFrontZ = BOTTLE.bodyHeightMm - 13;
const linerInner = BOTTLE.diameterMm / 2 + FIT.slipMm;
const linerOuter = linerInner + FIT.minLinerWallMm;
const cupInner = linerOuter + FIT.slipMm;
const cupOuter = cupInner + FIT.minWallMm;
const shellInner = cupOuter + 1.5;

/** Where the cells take their load: x and z of the working points. And where the sleeve feels how it is held. */
export const PLACES = {
  frontZMm: BOTTLE.bodyHeightMm - 19,
  rearZMm: 2,
  axialXMm: 0,
  /**
   * The accelerometer's chip, on its shelf in the grip right under the bottle; goes into the calibration file as positionMm.
   * As near as may be to the height of the milk and the bottle, so that it feels what they feel when a hand turns the sleeve
   * (budget "Turning"). Nothing but the grip has room there.
   */
  accelerometerMm: [-Math.round(10 * (cupOuter + 8.8)) / 10, 0, BOTTLE.bodyHeightMm - 42],
} as const;

/** The accelerometer's board: lies along the bottle on a shelf in front of the cells' bridge, chip towards the bottle. */
export const MOTION_BOARD = {
  acrossMm: 21,
  alongMm: 15,
  /** Board, chip and solder under it. */
  thicknessMm: 3.2,
  shelfMm: 1.4,
  shelfHalfWidthMm: 9,
} as const;

/** Radii about the bottle's axis and about the keel's; z of the steps from the end cap to the liner's lip. */
export const SHAPE = {
  linerInner,
  linerOuter,
  cupInner,
  cupOuter,
  shellInner,
  shellOuter: shellInner + 1.1,
  paneThickness: 0.4,
  keelX: -(shellInner + 9.5),
  keelInner: 18.9,
  keelOuter: 20,
  /** Below this x the keel is the cover, above it the shell. */
  seamX: -(shellInner + 15.5),
  linerBaseZ: -FIT.minLinerWallMm,
  cupBaseZ: -FIT.minLinerWallMm - 1.6,
  cupFrontZ,
  shellFrontZ: cupFrontZ + 2,
  shellRearZ: -22.5,
  capRearZ: -23.7,
  lipZ: cupFrontZ + 3.5,
  /** Half angles of the window about +x, degrees; and its ends. */
  windowHalfDeg: 74,
  linerWindowHalfDeg: 95,
  windowFromZ: 14,
  windowToZ: cupFrontZ - 16,
} as const;

/** What the hand holds. */
export const GRIP = {
  diameterMm: 2 * SHAPE.keelOuter,
  lengthMm: SHAPE.shellFrontZ - SHAPE.capRearZ,
  /**
   * Handle of a one-handled power grip, 1¼ to 2 inches: "Easy Ergonomics: A Guide to Selecting Non-Powered Hand
   * Tools", Cal/OSHA and NIOSH, DHHS (NIOSH) Publication 2004-164.
   */
  leastDiameterMm: 31.75,
  greatestDiameterMm: 50.8,
} as const;

/** The light sits behind the bottle and shines back and up, to whoever holds the sleeve. Unit vector. */
export const LIGHT = {
  atMm: [24, 0, -23.7],
  towards: [Math.SQRT1_2, 0, -Math.SQRT1_2],
} as const;

/** The whole sleeve without the bottle may weigh this much. */
export const MAX_ADDED_MASS_GRAMS = 150;
