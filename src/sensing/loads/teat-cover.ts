/**
 * Whether milk covers the hole of the teat, and how low the bottle may be held for that (sleeve contract, section 4): the hole lies at (0, 0, z_t), and
 * is covered while the milk's surface, a level plane, lies above it. Milk in the teat counts only where the inner profile extends into it.
 * Roll does not matter: the profile is round.
 */
import { radFromDeg } from '../../base/units.ts';
import type { InnerProfileMm } from './milk-centre.ts';

export interface TeatCover {
  readonly teatTipZMm: number;
  /** Slices across the axis: middle, radius, thickness, mm. */
  readonly zMm: Float64Array;
  readonly radiusMm: Float64Array;
  readonly thicknessMm: Float64Array;
  /** Milk that just covers the hole at each whole degree of tilt, 0 to 180, mL. */
  readonly neededMl: Float64Array;
  /** The same for milk that stands AIR_DEPTH_MM over the hole. */
  readonly deepMl: Float64Array;
}

const SLICE_MM = 2;
/** With less milk over the hole than this a suck draws air too. Own assumption, no source. */
const AIR_DEPTH_MM = 10;
/** With less milk than this the bottle counts as empty. */
const LEAST_MILK_ML = 0.5;
const HALVINGS = 26;

/** @param profile inner profile, mm, z rising, radii ≥ 0; @param teatTipZMm where the hole is, mm from the base */
export function createTeatCover(profile: InnerProfileMm, teatTipZMm: number): TeatCover {
  const z: number[] = [];
  const radius: number[] = [];
  const thickness: number[] = [];
  for (let piece = 1; piece < profile.length; piece += 1) {
    const [z0, r0] = profile[piece - 1]!;
    const [z1, r1] = profile[piece]!;
    const count = Math.ceil((z1 - z0) / SLICE_MM);
    for (let slice = 0; slice < count; slice += 1) {
      const along = (slice + 0.5) / count;
      z.push(z0 + along * (z1 - z0));
      radius.push(r0 + along * (r1 - r0));
      thickness.push((z1 - z0) / count);
    }
  }
  const zMm = Float64Array.from(z);
  const radiusMm = Float64Array.from(radius);
  const thicknessMm = Float64Array.from(thickness);
  const cover = {
    teatTipZMm,
    zMm,
    radiusMm,
    thicknessMm,
    neededMl: new Float64Array(181),
    deepMl: new Float64Array(181),
  };
  for (let deg = 0; deg <= 180; deg += 1) {
    const holeMm = teatTipZMm * Math.cos(radFromDeg(deg));
    cover.neededMl[deg] = volumeUnderMl(cover, deg, holeMm);
    cover.deepMl[deg] = volumeUnderMl(cover, deg, holeMm + AIR_DEPTH_MM);
  }
  return cover;
}

/**
 * @param levelMm height of a level plane over the middle of the base, mm
 * @returns milk under that plane in a bottle held at this tilt, mL
 */
export function volumeUnderMl(
  { zMm, radiusMm, thicknessMm }: Omit<TeatCover, 'neededMl' | 'deepMl'>,
  tiltDeg: number,
  levelMm: number,
): number {
  const sin = Math.sin(radFromDeg(tiltDeg));
  const cos = Math.cos(radFromDeg(tiltDeg));
  let cubicMm = 0;
  for (let slice = 0; slice < zMm.length; slice += 1) {
    const radius = radiusMm[slice]!;
    // Nearly upright the plane crosses a slice within its thickness, so the slice fills gradually and not at once.
    const slope = Math.max(sin, (thicknessMm[slice]! * Math.abs(cos)) / (2 * Math.max(radius, 1e-9)));
    const chord = (levelMm - zMm[slice]! * cos) / slope;
    if (chord <= -radius) continue;
    const area =
      chord >= radius
        ? Math.PI * radius * radius
        : radius * radius * Math.acos(-chord / radius) + chord * Math.sqrt(radius * radius - chord * chord);
    cubicMm += area * thicknessMm[slice]!;
  }
  return cubicMm / 1000;
}

/** @returns the lowest tilt at which this much milk covers the hole, degrees; null when no tilt does, or hardly any milk is left */
export function coverTiltDeg({ neededMl }: TeatCover, milkMl: number): number | null {
  if (!(milkMl >= LEAST_MILK_ML)) return null;
  for (let deg = 0; deg <= 180; deg += 1) {
    const needed = neededMl[deg]!;
    if (milkMl < needed) continue;
    if (deg === 0) return 0;
    const before = neededMl[deg - 1]!;
    return deg - (milkMl - needed) / Math.max(1e-9, before - needed);
  }
  return null;
}

/** @returns share of milk (the rest is air) in what a suck draws: 0 with an uncovered hole, 1 where it is well covered */
export function coverShare({ neededMl, deepMl }: TeatCover, milkMl: number, tiltDeg: number): number {
  const deg = Math.min(179.999, Math.max(0, tiltDeg));
  const at = Math.floor(deg);
  const part = deg - at;
  const needed = neededMl[at]! + part * (neededMl[at + 1]! - neededMl[at]!);
  const deep = deepMl[at]! + part * (deepMl[at + 1]! - deepMl[at]!);
  return Math.min(1, Math.max(0, (milkMl - needed) / Math.max(0.5, deep - needed)));
}

/** @returns height of the milk's surface over the hole, mm; below 0 when it is dry; null without milk */
export function headMm(cover: TeatCover, milkMl: number, tiltDeg: number): number | null {
  if (!(milkMl >= LEAST_MILK_ML)) return null;
  const { teatTipZMm, zMm, radiusMm } = cover;
  const sin = Math.sin(radFromDeg(tiltDeg));
  const cos = Math.cos(radFromDeg(tiltDeg));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let slice = 0; slice < zMm.length; slice += 1) {
    low = Math.min(low, zMm[slice]! * cos - radiusMm[slice]! * sin);
    high = Math.max(high, zMm[slice]! * cos + radiusMm[slice]! * sin);
  }
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (low + high) / 2;
    if (volumeUnderMl(cover, tiltDeg, middle) < milkMl) low = middle;
    else high = middle;
  }
  return (low + high) / 2 - teatTipZMm * cos;
}
