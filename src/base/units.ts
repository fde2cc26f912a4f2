/**
 * The only place where units are converted. Inside the project everything is SI, grams and millilitres;
 * people's texts convert here, last.
 */

/** Standard gravity, m/s² (CGPM 1901, resolution 2; value from memory). */
export const STANDARD_GRAVITY_MPS2 = 9.80665;

/** Density of milk unless the feed says otherwise, g/mL (usual value for human milk; USDA cup weight gives 1.04). */
export const MILK_DENSITY_GRAMS_PER_ML = 1.03;

/** Millilitres in one US fluid ounce, exact (NIST Handbook 44, appendix C). */
export const ML_PER_US_FL_OZ = 29.5735295625;

/** @returns US fluid ounces in `ml` millilitres. */
export const flOzFromMl = (ml: number): number => ml / ML_PER_US_FL_OZ;
/** @returns millilitres in `flOz` US fluid ounces. */
export const mlFromFlOz = (flOz: number): number => flOz * ML_PER_US_FL_OZ;
/** @returns degrees in `rad` radians. */
export const degFromRad = (rad: number): number => (rad * 180) / Math.PI;
/** @returns radians in `deg` degrees. */
export const radFromDeg = (deg: number): number => (deg * Math.PI) / 180;
/** @returns newtons that `grams` weigh under standard gravity. */
export const newtonsFromGrams = (grams: number): number => (grams / 1000) * STANDARD_GRAVITY_MPS2;
/** @returns grams whose weight under standard gravity is `newtons`. */
export const gramsFromNewtons = (newtons: number): number => (newtons * 1000) / STANDARD_GRAVITY_MPS2;
const QUARTER_MARKS = ['', '¼', '½', '¾'] as const;

/** @returns `ml` in US fluid ounces rounded to a quarter, as on the marks of a bottle: "2¾". */
export function quarterFlOzText(ml: number): string {
  const quarters = Math.round(flOzFromMl(ml) * 4);
  const whole = Math.floor(quarters / 4);
  const mark = QUARTER_MARKS[((quarters % 4) + 4) % 4]!;
  return whole === 0 && mark !== '' ? mark : `${whole}${mark}`;
}

/** Which volume unit stands first in a text; the other stands beside it. */
export type VolumeUnit = 'fl-oz' | 'ml';

/** @returns a volume for people, both units, the chosen one first: "2¾ fl oz (82 mL)" or "82 mL (2¾ fl oz)". */
export function volumeText(ml: number, first: VolumeUnit = 'fl-oz'): string {
  const flOz = `${quarterFlOzText(ml)} fl oz`;
  const millilitres = `${Math.round(ml)} mL`;
  return first === 'fl-oz' ? `${flOz} (${millilitres})` : `${millilitres} (${flOz})`;
}
