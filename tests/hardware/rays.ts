/** Rays against meshes, for the shape's tests: a small tool of its own, independent of how the meshes were made. */
import type { Mesh } from '../../hardware/shape/mesh.ts';

export type Vec = readonly [number, number, number];

const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec, b: Vec) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
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

/** Nearest triangle along a ray beyond `from` mm (Möller and Trumbore's test); distance Infinity and triangle −1 where there is none. */
export function hitOf(
  mesh: Mesh,
  origin: Vec,
  direction: Vec,
  from = 1e-6,
): { distance: number; triangle: number } {
  let nearest = { distance: Infinity, triangle: -1 };
  for (let t = 0; t < triangleCount(mesh); t++) {
    const [a, b, c] = triangleOf(mesh, t);
    const [e1, e2] = [sub(b, a), sub(c, a)];
    const p = cross(direction, e2);
    const det = dot(e1, p);
    if (Math.abs(det) < 1e-12) continue;
    const s = sub(origin, a);
    const u = dot(s, p) / det;
    if (u < 0 || u > 1) continue;
    const q = cross(s, e1);
    const v = dot(direction, q) / det;
    if (v < 0 || u + v > 1) continue;
    const at = dot(e2, q) / det;
    if (at > from && at < nearest.distance) nearest = { distance: at, triangle: t };
  }
  return nearest;
}

export const hitDistance = (mesh: Mesh, origin: Vec, direction: Vec): number =>
  hitOf(mesh, origin, direction).distance;
