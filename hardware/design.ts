/**
 * The sleeve's measures, the one place for all of them: shape, parts and budgets read from here.
 * Axes of the sleeve contract, section 1: origin at the centre of the bottle's base, z to the teat, x away from the grip.
 * All lengths in mm, masses in g. The bottle stands in bottle.ts.
 */
import { BOTTLE, checkBottle, checkSmallBottle, SMALL_BOTTLE } from './bottle.ts';

export { BOTTLE, type Bottle, SMALL_BOTTLE } from './bottle.ts';

checkBottle(BOTTLE);
checkSmallBottle(SMALL_BOTTLE);

/** Densities, g/cm³: usual table values, from memory. */
export const DENSITY = {
  pa12: 1.01,
  asa: 1.07,
  petg: 1.27,
  tpu: 1.21,
  petFilm: 1.38,
  aluminium: 2.7,
} as const;

/**
 * What the hard parts may be printed in; mass, warmth, stops and falls are worked out for each. Young's modulus and strength in
 * MPa (the least of the printed directions), growth per K; all from memory of usual data sheets. A filament print is taken
 * as full, all lines walls.
 */
export const HARD_MATERIALS = {
  pa12: { name: 'PA12, laser-sintered', modulusMPa: 1650, strengthMPa: 45, growthPerK: 1.1e-4 },
  asa: { name: 'ASA filament', modulusMPa: 1900, strengthMPa: 25, growthPerK: 1.0e-4 },
} as const;
export type HardMaterial = keyof typeof HARD_MATERIALS;

/** A straight bar cell with two spot-thinned beams; sizes of the usual small bar. */
export const CELL = {
  lengthMm: 47,
  widthMm: 12,
  thicknessMm: 6,
  /** From the free end to the hole that takes the load. */
  loadHoleMm: 5,
  /** Hole for the load, Ø: takes the neck of the strut's clamp (M3, ISO 273 fine fit; from memory). */
  loadHoleDiameterMm: 3.2,
  /** The two screw holes of the fixed end, from that end. */
  screwHolesMm: [3, 9],
  /** Spot-thinned middle, cut out across the bar: metal left of the bar's full volume. */
  metalFraction: 0.8,
} as const;

/** Music wire (ASTM A228). Young's modulus and strength from memory of the usual tables. */
export const WIRE = {
  youngsModulusMPa: 200_000,
  tensileStrengthMPa: 2000,
  strutDiameterMm: 0.4,
  /** From the cup to the set screw in the clamp's head, on the far side of the cell: what can bend. */
  strutLengthMm: 16.5,
  linkDiameterMm: 0.45,
} as const;

/**
 * Clamp of a strut: a drilled M3 screw through the cell's load hole, head on the far face, nut on the near one, so that it
 * can push and pull. The wire runs through its bore without touching and is held by a set screw across the head.
 */
export const CLAMP = {
  headDiameterMm: 5.5,
  headMm: 3,
  neckDiameterMm: 3,
  /** Thin nut: height, and across its corners (ISO 4035; from memory). */
  nutMm: 1.8,
  nutCornersMm: 6,
  boreDiameterMm: 1.2,
} as const;

/**
 * How a cell's fixed end sits: on two ridges, held down by a spring under the head of each of its two screws. It gives way
 * beyond a load that a feed never reaches, long before the cell is hurt; then the stop pins take the rest. What a bar cell
 * feels does not depend on how stiff its seat is, so the springs cost no accuracy.
 */
export const SEAT = {
  /** Middles of the ridges, from the fixed end: the rear one takes the pushes, the front one the pulls. */
  ridgesMm: [0.8, 10.2],
  ridgeHeightMm: 0.6,
  ridgeWidthMm: 1,
  /** Spring of music wire, both ends closed and ground. */
  wireDiameterMm: 0.9,
  coilDiameterMm: 4.2,
  activeTurns: 2.5,
  /** Length that the screw is turned to, with a gauge. */
  setLengthMm: 4.4,
  preloadN: 38,
  /** Screw M2.5: low head, spot face for the spring, through hole (ISO 273 medium; from memory). */
  headMm: 1.6,
  headDiameterMm: 4.5,
  holeDiameterMm: 2.9,
  spotFaceMm: 0.6,
} as const;

/** Gap round every stop pin, mm: more than warmth, hand and load together close (budget "Stops"). */
export const STOP_GAP_MM = 0.35;
/** Gap to either side of a foot, mm: the links, pressed together so far, bend out and spring back. */
export const SIDE_GAP_MM = 0.3;

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
  /** The board's middle in front of the chip: it keeps off the springs of the front cell's screws. */
  aheadMm: 0.29,
  shelfMm: 2,
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
  paneThickness: 0.25,
  keelX: -(shellInner + 11),
  keelInner: 18.9,
  keelOuter: 20,
  /** Below this x the keel is the cover, above it the shell. */
  seamX: -(shellInner + 17),
  linerBaseZ: -FIT.minLinerWallMm,
  cupBaseZ: -FIT.minLinerWallMm - 1.2,
  cupFrontZ,
  shellFrontZ: cupFrontZ + 2,
  shellRearZ: -23.2,
  capRearZ: -24.2,
  lipZ: cupFrontZ + 3.5,
  /** Half angles of the window about +x, degrees; and its ends. */
  windowHalfDeg: 74,
  linerWindowHalfDeg: 95,
  windowFromZ: 14,
  windowToZ: cupFrontZ - 16,
} as const;

/** The small cup: how high the small bottle's base stands, so that its shoulder is where the cup ends. */
export const SMALL_CUP = {
  innerMm: SMALL_BOTTLE.diameterMm / 2 + FIT.slipMm,
  liftMm: Math.max(0, Math.round(cupFrontZ - SMALL_BOTTLE.bodyHeightMm)),
  finMm: 1,
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
  atMm: [24, 0, -24.2],
  towards: [Math.SQRT1_2, 0, -Math.SQRT1_2],
} as const;

/** The whole sleeve without the bottle may weigh this much. */
export const MAX_ADDED_MASS_GRAMS = 150;
