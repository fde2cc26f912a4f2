/**
 * The centre of the milk for any volume and tilt, from the bottle's inner profile.
 *
 * The milk is cut into thin slices across the axis. In each slice the surface plane cuts the circle along a chord, so area and
 * first moment are those of a circular segment (closed form, any handbook of mathematics), and only the sum over slices is
 * numeric. Tables over (tilt, volume) are made once per bottle; the hot path interpolates first moments, which are smooth and go to zero
 * with the volume, where the centre itself jumps.
 */
import { radFromDeg } from '../../base/units.ts';

/** Inner profile: [z, radius] in mm from base to neck, z rising. */
export type InnerProfileMm = readonly (readonly [number, number])[];

export interface MilkCentreTable {
  /** Milk that fills the profile to the brim, mL. */
  readonly capacityMl: number;
  /** Tilts of the rows, rad, rising. */
  readonly tiltRad: Float64Array;
  /** Row of the table at or below each half degree: makes the search a look-up. */
  readonly rowOfHalfDeg: Uint8Array;
  readonly stepMl: number;
  readonly columns: number;
  /** First moments V·zc and V·xc, mL·m, row-major (tilt, volume). */
  readonly momentZ: Float64Array;
  readonly momentX: Float64Array;
}

const SLICES = 64;
const LEVELS = 160;
const STEP_ML = 1;

/** 1° apart within 20° of level, where a small pool runs from end to end; 3° apart elsewhere. */
function tiltGrid(): Float64Array {
  const degrees: number[] = [];
  for (let deg = 0; deg < 69; deg += 3) degrees.push(deg);
  for (let deg = 69; deg < 111; deg += 1) degrees.push(deg);
  for (let deg = 111; deg <= 180; deg += 3) degrees.push(deg);
  return Float64Array.from(degrees, radFromDeg);
}

interface Slices {
  z: Float64Array;
  radius: Float64Array;
  thickness: Float64Array;
}

/** Slices of equal thickness within each straight piece of the profile, at their middles; mm. */
function slicesOf(profile: InnerProfileMm): Slices {
  const bottom = profile[0]![0];
  const top = profile[profile.length - 1]![0];
  const z: number[] = [];
  const radius: number[] = [];
  const thickness: number[] = [];
  for (let piece = 1; piece < profile.length; piece++) {
    const [z0, r0] = profile[piece - 1]!;
    const [z1, r1] = profile[piece]!;
    const count = Math.max(3, Math.ceil((SLICES * (z1 - z0)) / (top - bottom)));
    for (let i = 0; i < count; i++) {
      const along = (i + 0.5) / count;
      z.push(z0 + along * (z1 - z0));
      radius.push(r0 + along * (r1 - r0));
      thickness.push((z1 - z0) / count);
    }
  }
  return {
    z: Float64Array.from(z),
    radius: Float64Array.from(radius),
    thickness: Float64Array.from(thickness),
  };
}

/** Volume and first moments of the milk below the plane x·sin(tilt) + z·cos(tilt) = level; mm³ and mm⁴ into `out`. */
function fillTo(slices: Slices, sin: number, cos: number, level: number, out: Float64Array): void {
  let volume = 0;
  let momentZ = 0;
  let momentX = 0;
  for (let i = 0; i < slices.z.length; i++) {
    const z = slices.z[i]!;
    const r = slices.radius[i]!;
    const room = level - z * cos;
    let area: number;
    let areaX = 0;
    if (room >= sin * r) area = Math.PI * r * r;
    else if (room <= -sin * r) continue;
    else {
      const chord = room / sin;
      const half = Math.sqrt(r * r - chord * chord);
      area = r * r * (Math.PI - Math.acos(chord / r)) + chord * half;
      areaX = (-2 / 3) * half * half * half;
    }
    volume += area * slices.thickness[i]!;
    momentZ += area * z * slices.thickness[i]!;
    momentX += areaX * slices.thickness[i]!;
  }
  out[0] = volume;
  out[1] = momentZ;
  out[2] = momentX;
}

/**
 * Tabulates the milk's first moments for a bottle.
 * @param profile inner profile, mm; at least two points, z rising, radii ≥ 0
 */
export function tabulateMilkCentre(profile: InnerProfileMm): MilkCentreTable {
  const slices = slicesOf(profile);
  const tiltRad = tiltGrid();
  const found = new Float64Array(3);
  fillTo(slices, 0, 1, Number.POSITIVE_INFINITY, found);
  const capacityMl = found[0]! / 1000;
  const columns = Math.max(2, Math.ceil(capacityMl / STEP_ML) + 1);
  const momentZ = new Float64Array(tiltRad.length * columns);
  const momentX = new Float64Array(tiltRad.length * columns);

  for (let row = 0; row < tiltRad.length; row++) {
    const sin = Math.max(1e-9, Math.sin(tiltRad[row]!));
    const cos = Math.cos(tiltRad[row]!);
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    for (const [z, r] of profile) {
      lowest = Math.min(lowest, z * cos - r * sin);
      highest = Math.max(highest, z * cos + r * sin);
    }
    let volumeBefore = 0;
    let zBefore = 0;
    let xBefore = 0;
    let column = 1;
    for (let i = 1; i <= LEVELS && column < columns; i++) {
      // Quadratic at both ends: there the volume grows with a power of the depth.
      const s = i / LEVELS;
      const level = lowest + (highest - lowest) * s * s * (3 - 2 * s);
      fillTo(slices, sin, cos, level, found);
      const volume = found[0]! / 1000;
      const z = found[1]! / 1e6;
      const x = found[2]! / 1e6;
      while (column < columns && (volume >= column * STEP_ML || i === LEVELS)) {
        const span = volume - volumeBefore;
        const part = span > 0 ? Math.min(1, (column * STEP_ML - volumeBefore) / span) : 1;
        momentZ[row * columns + column] = zBefore + part * (z - zBefore);
        momentX[row * columns + column] = xBefore + part * (x - xBefore);
        column += 1;
      }
      volumeBefore = volume;
      zBefore = z;
      xBefore = x;
    }
  }
  const rowOfHalfDeg = new Uint8Array(361);
  for (let half = 0, row = 0; half <= 360; half++) {
    while (row < tiltRad.length - 2 && tiltRad[row + 1]! <= radFromDeg(half / 2)) row += 1;
    rowOfHalfDeg[half] = row;
  }
  return { capacityMl, tiltRad, rowOfHalfDeg, stepMl: STEP_ML, columns, momentZ, momentX };
}

/** First moments of the milk about the origin, per mL of density 1, mL·m; reused by the caller. */
export interface MilkMoments {
  zMlM: number;
  xMlM: number;
}

/** First moments V·zc, V·xc (mL·m) of `volumeMl` at `tiltRad` with no roll, into `out`. Beyond the brim the last column is used. */
export function milkMoments(
  table: MilkCentreTable,
  volumeMl: number,
  tiltRad: number,
  out: MilkMoments,
): void {
  const { columns, tiltRad: tilts } = table;
  const half = Math.min(360, Math.max(0, Math.floor((tiltRad * 360) / Math.PI)));
  const row = table.rowOfHalfDeg[half]!;
  const across = Math.min(1, Math.max(0, (tiltRad - tilts[row]!) / (tilts[row + 1]! - tilts[row]!)));
  const place = Math.max(0, volumeMl) / table.stepMl;
  const column = Math.min(columns - 2, Math.floor(place));
  const along = place - column;
  const a = row * columns + column;
  const b = a + columns;
  const w00 = (1 - across) * (1 - along);
  const w01 = (1 - across) * along;
  const w10 = across * (1 - along);
  const w11 = across * along;
  const z = table.momentZ;
  const x = table.momentX;
  out.zMlM = w00 * z[a]! + w01 * z[a + 1]! + w10 * z[b]! + w11 * z[b + 1]!;
  out.xMlM = w00 * x[a]! + w01 * x[a + 1]! + w10 * x[b]! + w11 * x[b + 1]!;
}
