/** Triangles of a solid, closed: welded corners, no T-junctions. Pure. */

import modeling from '@jscad/modeling';
import { mapTriple } from '../../src/base/typed.ts';
import type { Solid } from './solids.ts';

/** Corners in mm, x y z after one another; three corner indices a triangle, outward by the right-hand rule. */
export interface Mesh {
  readonly corners: Float64Array;
  readonly triangles: Uint32Array;
}

/** Corners closer than this are one, mm; and a corner this near to an edge lies on it. */
const WELD_MM = 1e-3;

type Corners = number[];

/** Gives every place one index; places within WELD_MM of a known one are that one. */
function welder(corners: Corners): (p: ArrayLike<number>) => number {
  const cells = new Map<string, number[]>();
  const cellOf = (value: number) => Math.floor(value / (4 * WELD_MM));
  return (p) => {
    const [cx, cy, cz] = [cellOf(p[0]!), cellOf(p[1]!), cellOf(p[2]!)];
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (let z = cz - 1; z <= cz + 1; z++)
          for (const index of cells.get(`${x},${y},${z}`) ?? []) {
            const [dx, dy, dz] = mapTriple([0, 1, 2], (k) => corners[3 * index + k]! - p[k]!);
            if (dx * dx + dy * dy + dz * dz < WELD_MM * WELD_MM) return index;
          }
    const index = corners.length / 3;
    corners.push(p[0]!, p[1]!, p[2]!);
    const key = `${cx},${cy},${cz}`;
    const cell = cells.get(key);
    if (cell) cell.push(index);
    else cells.set(key, [index]);
    return index;
  };
}

/** Finds the corners that lie inside an edge, in order along it. */
function edgeFinder(corners: Corners): (a: number, b: number) => number[] {
  const STEP = 4;
  const byCell = new Map<string, number[]>();
  const cellOf = (value: number) => Math.floor(value / STEP);
  for (let i = 0; i < corners.length / 3; i++) {
    const key = `${cellOf(corners[3 * i]!)},${cellOf(corners[3 * i + 1]!)},${cellOf(corners[3 * i + 2]!)}`;
    const cell = byCell.get(key);
    if (cell) cell.push(i);
    else byCell.set(key, [i]);
  }
  const memo = new Map<number, number[]>();
  const search = (a: number, b: number): number[] => {
    const from = [0, 1, 2].map((k) => corners[3 * a + k]!);
    const along = [0, 1, 2].map((k) => corners[3 * b + k]! - from[k]!);
    const length = Math.hypot(along[0]!, along[1]!, along[2]!);
    const ranges = [0, 1, 2].map((k) => {
      const to = from[k]! + along[k]!;
      return [cellOf(Math.min(from[k]!, to) - WELD_MM), cellOf(Math.max(from[k]!, to) + WELD_MM)] as const;
    });
    const found: { index: number; at: number }[] = [];
    for (let x = ranges[0]![0]; x <= ranges[0]![1]; x++)
      for (let y = ranges[1]![0]; y <= ranges[1]![1]; y++)
        for (let z = ranges[2]![0]; z <= ranges[2]![1]; z++)
          for (const index of byCell.get(`${x},${y},${z}`) ?? []) {
            if (index === a || index === b) continue;
            const p = [0, 1, 2].map((k) => corners[3 * index + k]! - from[k]!);
            const at = (p[0]! * along[0]! + p[1]! * along[1]! + p[2]! * along[2]!) / length;
            if (at <= 0 || at >= length) continue;
            const off = [0, 1, 2].map((k) => p[k]! - (along[k]! * at) / length);
            if (Math.hypot(off[0]!, off[1]!, off[2]!) < WELD_MM) found.push({ index, at });
          }
    return found.sort((p, q) => p.at - q.at).map((each) => each.index);
  };
  return (a, b) => {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = low * 2 ** 24 + high;
    let inside = memo.get(key);
    if (!inside) {
      inside = search(low, high);
      memo.set(key, inside);
    }
    return a < b ? inside : [...inside].reverse();
  };
}

/** Cuts a convex polygon, some of whose corners may lie on straight edges, into triangles: roundest ear first. */
function clipEars(corners: Corners, ring: number[], out: number[]): void {
  const left = [...ring];
  const shape = (i: number): number => {
    const [a, b, c] = [left[(i + left.length - 1) % left.length]!, left[i]!, left[(i + 1) % left.length]!];
    const u = [0, 1, 2].map((k) => corners[3 * b + k]! - corners[3 * a + k]!);
    const v = [0, 1, 2].map((k) => corners[3 * c + k]! - corners[3 * b + k]!);
    const w = [0, 1, 2].map((k) => corners[3 * c + k]! - corners[3 * a + k]!);
    const cross = Math.hypot(
      u[1]! * v[2]! - u[2]! * v[1]!,
      u[2]! * v[0]! - u[0]! * v[2]!,
      u[0]! * v[1]! - u[1]! * v[0]!,
    );
    const square = (p: number[]) => p[0]! ** 2 + p[1]! ** 2 + p[2]! ** 2;
    return cross / (square(u) + square(v) + square(w) + 1e-12);
  };
  while (left.length > 3) {
    let best = 0;
    let bestShape = -1;
    for (let i = 0; i < left.length; i++) {
      const value = shape(i);
      if (value > bestShape) {
        best = i;
        bestShape = value;
      }
    }
    out.push(left[(best + left.length - 1) % left.length]!, left[best]!, left[(best + 1) % left.length]!);
    left.splice(best, 1);
  }
  out.push(left[0]!, left[1]!, left[2]!);
}

/**
 * Triangulates a solid so that it is closed: corners are welded, and corners that lie on an edge of a neighbour are
 * made corners of that neighbour too (Boolean operations leave such T-junctions).
 */
export function meshOf(solid: Solid): Mesh {
  const corners: Corners = [];
  const weld = welder(corners);
  const rings: number[][] = [];
  for (const polygon of modeling.geometries.geom3.toPolygons(solid)) {
    const ring = polygon.vertices.map(weld);
    const tidy = ring.filter((index, i) => index !== ring[(i + 1) % ring.length]);
    if (tidy.length >= 3) rings.push(tidy);
  }
  const insideOf = edgeFinder(corners);
  const triangles: number[] = [];
  for (const ring of rings) {
    const full = ring.flatMap((index, i) => [index, ...insideOf(index, ring[(i + 1) % ring.length]!)]);
    // A sliver that has collapsed to a line goes there and back again: nothing is left of it.
    if (new Set(full).size === full.length) clipEars(corners, full, triangles);
  }
  return { corners: Float64Array.from(corners), triangles: Uint32Array.from(triangles) };
}

/** @returns volume of a closed mesh in mm³, and its centre in mm (divergence theorem). */
export function volumeOf({ corners, triangles }: Mesh): { mm3: number; centre: [number, number, number] } {
  let six = 0;
  const sum: [number, number, number] = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
    const [ax, ay, az] = [corners[a]!, corners[a + 1]!, corners[a + 2]!];
    const [bx, by, bz] = [corners[b]!, corners[b + 1]!, corners[b + 2]!];
    const [cx, cy, cz] = [corners[c]!, corners[c + 1]!, corners[c + 2]!];
    const det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    six += det;
    sum[0] += (det * (ax + bx + cx)) / 4;
    sum[1] += (det * (ay + by + cy)) / 4;
    sum[2] += (det * (az + bz + cz)) / 4;
  }
  return { mm3: six / 6, centre: [sum[0] / six, sum[1] / six, sum[2] / six] };
}
