/**
 * Centre of the liquid in a bottle at rest, for any profile, volume and tilt, without tables, since the fitted profile
 * changes at every step. Slices across the axis are circular segments (closed form, any handbook of mathematics); the level is found by the Illinois
 * variant of false position.
 */
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';

/** Water at 20 °C, g/mL (CRC Handbook of Chemistry and Physics; value from memory). */
export const WATER_GRAMS_PER_ML = 0.9982;

export interface LiquidPlace {
  /** Centre along the axis, and towards the felt force's sideways part (negative: the liquid lies on the far side), mm. */
  zMm: number;
  lateralMm: number;
}

interface Cut {
  volume: number;
  momentZ: number;
  momentLateral: number;
}

const SLICES_PER_PIECE = 24;
/** Near upright the surface crosses few slices, so they must be thinner; below one degree the sideways shift is scaled. */
const NEAR_AXIS_SIN = 0.2;
const NEAR_AXIS_SLICES = 120;
const LEAST_TILT_RAD = (1 * Math.PI) / 180;
const MAX_TRIES = 60;

/** The part of the profile below the plane lateral·sin + z·cos = level; mm³, mm⁴. */
function cutAt(profile: InnerProfileMm, sin: number, cos: number, level: number): Cut {
  const cut: Cut = { volume: 0, momentZ: 0, momentLateral: 0 };
  const slices = sin < NEAR_AXIS_SIN ? NEAR_AXIS_SLICES : SLICES_PER_PIECE;
  for (let piece = 1; piece < profile.length; piece++) {
    const [z0, r0] = profile[piece - 1]!;
    const [z1, r1] = profile[piece]!;
    const thickness = (z1 - z0) / slices;
    for (let i = 0; i < slices; i++) {
      const share = (i + 0.5) / slices;
      const z = z0 + share * (z1 - z0);
      const r = r0 + share * (r1 - r0);
      const room = level - z * cos;
      if (room <= -sin * r) continue;
      let area = Math.PI * r * r;
      if (room < sin * r) {
        const chord = room / sin;
        const half = Math.sqrt(r * r - chord * chord);
        area = r * r * (Math.PI - Math.acos(chord / r)) + chord * half;
        cut.momentLateral -= (2 / 3) * half ** 3 * thickness;
      }
      cut.volume += area * thickness;
      cut.momentZ += area * z * thickness;
    }
  }
  return cut;
}

/** Volume of the whole profile, mL: frustums (V = πh(r0² + r0r1 + r1²)/3). */
export function capacityMl(profile: InnerProfileMm): number {
  let volume = 0;
  for (let i = 1; i < profile.length; i++) {
    const [z0, r0] = profile[i - 1]!;
    const [z1, r1] = profile[i]!;
    volume += (Math.PI * (z1 - z0) * (r0 * r0 + r0 * r1 + r1 * r1)) / 3;
  }
  return volume / 1000;
}

/**
 * @param profile inner profile, mm, z rising
 * @param volumeMl 0 to the capacity; beyond it the full bottle's centre is given
 * @param tiltRad angle from the axis to the felt force, 0 to π
 */
export function placeOfLiquid(profile: InnerProfileMm, volumeMl: number, tiltRad: number): LiquidPlace {
  const solved = Math.min(Math.max(tiltRad, LEAST_TILT_RAD), Math.PI - LEAST_TILT_RAD);
  const sin = Math.sin(solved);
  const cos = Math.cos(solved);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const [z, r] of profile) {
    low = Math.min(low, z * cos - r * sin);
    high = Math.max(high, z * cos + r * sin);
  }
  let cut = cutAt(profile, sin, cos, high);
  const wanted = Math.min(Math.max(volumeMl, 0.05) * 1000, cut.volume);
  let tooLow = -wanted;
  let tooHigh = cut.volume - wanted;
  for (let i = 0; i < MAX_TRIES && tooHigh > 1e-9 * wanted; i++) {
    const level = (low * tooHigh - high * tooLow) / (tooHigh - tooLow);
    const tried = cutAt(profile, sin, cos, level);
    const off = tried.volume - wanted;
    if (Math.abs(off) < 1e-9 * wanted) {
      cut = tried;
      break;
    }
    // The end that stays is given half its weight, else it would stay forever.
    if (off > 0) {
      high = level;
      tooHigh = off;
      tooLow /= 2;
      cut = tried;
    } else {
      low = level;
      tooLow = off;
      tooHigh /= 2;
    }
  }
  if (!(cut.volume > 0)) return { zMm: profile[0]![0], lateralMm: 0 };
  const sideShare = solved === tiltRad ? 1 : Math.abs(Math.tan(tiltRad) / Math.tan(solved));
  return { zMm: cut.momentZ / cut.volume, lateralMm: (sideShare * cut.momentLateral) / cut.volume };
}
