/** Rays against meshes, for the shape's tests. Shares no code with what makes the meshes. */
import type { Mesh } from '../../hardware/shape/mesh.ts';

export type Vec = readonly [number, number, number];

const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

const corner = (mesh: Mesh, i: number): Vec => [
  mesh.corners[3 * i]!,
  mesh.corners[3 * i + 1]!,
  mesh.corners[3 * i + 2]!,
];

export const triangleOf = (mesh: Mesh, t: number): [Vec, Vec, Vec] => [
  corner(mesh, mesh.triangles[3 * t]!),
  corner(mesh, mesh.triangles[3 * t + 1]!),
  corner(mesh, mesh.triangles[3 * t + 2]!),
];

export const triangleCount = (mesh: Mesh): number => mesh.triangles.length / 3;

/** Outward unit normal and area of a triangle. */
export function faceOf([a, b, c]: readonly [Vec, Vec, Vec]): { normal: Vec; area: number } {
  const n = cross(sub(b, a), sub(c, a));
  const size = Math.hypot(...n);
  return { normal: [n[0] / size, n[1] / size, n[2] / size], area: size / 2 };
}

/** Per triangle: first corner and the two edges from it, nine numbers. */
const flat = new WeakMap<Mesh, Float64Array>();

function flatOf(mesh: Mesh): Float64Array {
  const known = flat.get(mesh);
  if (known) return known;
  const made = new Float64Array(9 * triangleCount(mesh));
  for (let t = 0; t < triangleCount(mesh); t++) {
    const [a, b, c] = triangleOf(mesh, t);
    made.set([...a, ...sub(b, a), ...sub(c, a)], 9 * t);
  }
  flat.set(mesh, made);
  return made;
}

/** Nearest triangle along a ray beyond `from` mm (Möller and Trumbore's test); distance Infinity and triangle −1 where there is none. */
export function hitOf(
  mesh: Mesh,
  [ox, oy, oz]: Vec,
  [dx, dy, dz]: Vec,
  from = 1e-6,
): { distance: number; triangle: number } {
  const all = flatOf(mesh);
  let distance = Infinity;
  let triangle = -1;
  for (let t = 0, k = 0; k < all.length; t++, k += 9) {
    // Plain numbers, no short arrays: this runs some ten million times.
    const ux = all[k + 3]!;
    const uy = all[k + 4]!;
    const uz = all[k + 5]!;
    const vx = all[k + 6]!;
    const vy = all[k + 7]!;
    const vz = all[k + 8]!;
    const px = dy * vz - dz * vy;
    const py = dz * vx - dx * vz;
    const pz = dx * vy - dy * vx;
    const det = ux * px + uy * py + uz * pz;
    if (det > -1e-12 && det < 1e-12) continue;
    const sx = ox - all[k]!;
    const sy = oy - all[k + 1]!;
    const sz = oz - all[k + 2]!;
    const u = (sx * px + sy * py + sz * pz) / det;
    if (u < 0 || u > 1) continue;
    const qx = sy * uz - sz * uy;
    const qy = sz * ux - sx * uz;
    const qz = sx * uy - sy * ux;
    const v = (dx * qx + dy * qy + dz * qz) / det;
    if (v < 0 || u + v > 1) continue;
    const at = (vx * qx + vy * qy + vz * qz) / det;
    if (at > from && at < distance) {
      distance = at;
      triangle = t;
    }
  }
  return { distance, triangle };
}

export const hitDistance = (mesh: Mesh, origin: Vec, direction: Vec): number =>
  hitOf(mesh, origin, direction).distance;
