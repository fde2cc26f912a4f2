/** Line drawings of meshes with hidden lines left out: parallel projection, depth buffer, sharp edges and outlines. Pure. */
import type { Mesh } from '../shape/mesh.ts';

type Vec = readonly [number, number, number];

/** Where one looks from. `right` and `up` of the paper in the sleeve's axes, unit vectors at right angles. */
export interface View {
  readonly right: Vec;
  readonly up: Vec;
}

/** A part to draw; `shift` moves it, mm (exploded views). `ghost`: drawn, but hides nothing. */
export interface Drawn {
  readonly name: string;
  readonly mesh: Mesh;
  readonly shift?: Vec;
  readonly ghost?: boolean;
}

/** Lines of one part on the paper, mm, v upwards; and its visible facets for shading, brightest 1. */
export interface Lines {
  readonly name: string;
  readonly lines: [number, number][][];
}

const PIXEL_MM = 0.2;
const SHARP_COS = Math.cos((28 * Math.PI) / 180);
/** A line this far behind the nearest surface still lies on it. */
const BIAS_MM = 0.35;

const dot = (a: Vec, b: Vec) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Corners on the paper: u to the right, v up, w towards the eye. */
function projected({ mesh, shift = [0, 0, 0] }: Drawn, view: View): Float64Array {
  const towards = cross(view.right, view.up);
  const out = new Float64Array(mesh.corners.length);
  for (let i = 0; i < out.length; i += 3) {
    const p: Vec = [
      mesh.corners[i]! + shift[0],
      mesh.corners[i + 1]! + shift[1],
      mesh.corners[i + 2]! + shift[2],
    ];
    out[i] = dot(p, view.right);
    out[i + 1] = dot(p, view.up);
    out[i + 2] = dot(p, towards);
  }
  return out;
}

/** Depth of the nearest surface for every pixel of the paper. */
class Depths {
  private readonly left: number;
  private readonly low: number;
  private readonly wide: number;
  private readonly high: number;
  private readonly depth: Float32Array;

  constructor(all: Float64Array[]) {
    let [left, low, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const points of all)
      for (let i = 0; i < points.length; i += 3) {
        left = Math.min(left, points[i]!);
        right = Math.max(right, points[i]!);
        low = Math.min(low, points[i + 1]!);
        top = Math.max(top, points[i + 1]!);
      }
    this.left = left - 1;
    this.low = low - 1;
    this.wide = Math.ceil((right - left + 2) / PIXEL_MM);
    this.high = Math.ceil((top - low + 2) / PIXEL_MM);
    this.depth = new Float32Array(this.wide * this.high).fill(-Infinity);
  }

  private column = (u: number) => (u - this.left) / PIXEL_MM;
  private row = (v: number) => (v - this.low) / PIXEL_MM;

  fill(points: Float64Array, triangles: Uint32Array): void {
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
      const [ax, ay] = [this.column(points[a]!), this.row(points[a + 1]!)];
      const [bx, by] = [this.column(points[b]!), this.row(points[b + 1]!)];
      const [cx, cy] = [this.column(points[c]!), this.row(points[c + 1]!)];
      const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
      if (area <= 0) continue;
      const [aw, bw, cw] = [points[a + 2]!, points[b + 2]!, points[c + 2]!];
      for (let y = Math.ceil(Math.min(ay, by, cy) - 0.5); y <= Math.max(ay, by, cy) - 0.5; y++)
        for (let x = Math.ceil(Math.min(ax, bx, cx) - 0.5); x <= Math.max(ax, bx, cx) - 0.5; x++) {
          const [px, py] = [x + 0.5, y + 0.5];
          const sa = ((bx - px) * (cy - py) - (cx - px) * (by - py)) / area;
          const sb = ((cx - px) * (ay - py) - (ax - px) * (cy - py)) / area;
          const sc = 1 - sa - sb;
          if (sa < -1e-9 || sb < -1e-9 || sc < -1e-9) continue;
          const at = y * this.wide + x;
          const w = sa * aw + sb * bw + sc * cw;
          if (w > this.depth[at]!) this.depth[at] = w;
        }
    }
  }

  /** A point is seen when one of the pixels round it holds nothing nearer. */
  sees(u: number, v: number, w: number): boolean {
    const [x, y] = [Math.floor(this.column(u)), Math.floor(this.row(v))];
    for (let j = y - 1; j <= y + 1; j++)
      for (let i = x - 1; i <= x + 1; i++) if (this.depth[j * this.wide + i]! <= w + BIAS_MM) return true;
    return false;
  }
}

/** Edges worth drawing: sharp ones, and those where the surface turns away from the eye. */
function edgesOf(mesh: Mesh, points: Float64Array): [number, number][] {
  const normals: Vec[] = [];
  const faces = new Map<number, [number, number, number, number]>();
  const { triangles } = mesh;
  for (let t = 0; t < triangles.length; t += 3) {
    const corner = (k: number): Vec => {
      const i = 3 * triangles[t + k]!;
      return [points[i]!, points[i + 1]!, points[i + 2]!];
    };
    const [a, b, c] = [corner(0), corner(1), corner(2)];
    const n = cross([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    const size = Math.hypot(...n) || 1;
    normals.push([n[0] / size, n[1] / size, n[2] / size]);
    for (let k = 0; k < 3; k++) {
      const [p, q] = [triangles[t + k]!, triangles[t + ((k + 1) % 3)]!];
      const key = Math.min(p, q) * 2 ** 24 + Math.max(p, q);
      const known = faces.get(key);
      if (known) known[3] = t / 3;
      else faces.set(key, [p, q, t / 3, -1]);
    }
  }
  const edges: [number, number][] = [];
  for (const [p, q, f, g] of faces.values()) {
    if (g < 0) continue;
    const [m, n] = [normals[f]!, normals[g]!];
    const outline = m[2] > 1e-3 !== n[2] > 1e-3;
    if (outline || (dot(m, n) < SHARP_COS && (m[2] > 1e-3 || n[2] > 1e-3))) edges.push([p, q]);
  }
  return edges;
}

/** Joins runs that meet end to end and go on in about the same direction or not: fewer, longer lines. */
function chained(runs: [number, number][][]): [number, number][][] {
  const key = ([u, v]: [number, number]) => `${u.toFixed(2)},${v.toFixed(2)}`;
  const starts = new Map<string, Set<number>>();
  const put = (at: string, index: number) => {
    const set = starts.get(at);
    if (set) set.add(index);
    else starts.set(at, new Set([index]));
  };
  runs.forEach((run, i) => {
    put(key(run[0]!), i);
    put(key(run[run.length - 1]!), i);
  });
  const used = new Array<boolean>(runs.length).fill(false);
  const out: [number, number][][] = [];
  for (let i = 0; i < runs.length; i++) {
    if (used[i]) continue;
    used[i] = true;
    let line = [...runs[i]!];
    for (const _ of [0, 1]) {
      for (;;) {
        const end = line[line.length - 1]!;
        const next = [...(starts.get(key(end)) ?? [])].find((j) => !used[j]);
        if (next === undefined) break;
        used[next] = true;
        const run = runs[next]!;
        const forwards = key(run[0]!) === key(end);
        line.push(...(forwards ? run : [...run].reverse()).slice(1));
      }
      line = line.reverse();
    }
    out.push(line);
  }
  return out;
}

/** Leaves out corners that lie within `tolerance` mm of the line between their neighbours. */
function straightened(line: [number, number][], tolerance = 0.02): [number, number][] {
  if (line.length < 3) return line;
  const [a, b] = [line[0]!, line[line.length - 1]!];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  let [worst, at] = [0, 0];
  for (let i = 1; i < line.length - 1; i++) {
    const p = line[i]!;
    const off =
      length < 1e-9
        ? Math.hypot(p[0] - a[0], p[1] - a[1])
        : Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length;
    if (off > worst) [worst, at] = [off, i];
  }
  if (worst <= tolerance) return [a, b];
  return [
    ...straightened(line.slice(0, at + 1), tolerance).slice(0, -1),
    ...straightened(line.slice(at), tolerance),
  ];
}

/** @returns what is seen of each part, as lines on the paper in mm, v upwards */
export function visibleLines(parts: readonly Drawn[], view: View): Lines[] {
  const points = parts.map((part) => projected(part, view));
  const depths = new Depths(points);
  parts.forEach((part, i) => {
    if (!part.ghost) depths.fill(points[i]!, part.mesh.triangles);
  });
  return parts.map(({ name, mesh }, i) => {
    const at = points[i]!;
    const runs: [number, number][][] = [];
    for (const [p, q] of edgesOf(mesh, at)) {
      const [from, to] = [at.subarray(3 * p, 3 * p + 3), at.subarray(3 * q, 3 * q + 3)];
      const steps = Math.max(1, Math.ceil(Math.hypot(to[0]! - from[0]!, to[1]! - from[1]!) / PIXEL_MM));
      const place = (s: number): [number, number, number] => [
        from[0]! + (to[0]! - from[0]!) * s,
        from[1]! + (to[1]! - from[1]!) * s,
        from[2]! + (to[2]! - from[2]!) * s,
      ];
      let start: number | null = null;
      for (let k = 0; k <= steps; k++) {
        const seen = k < steps && depths.sees(...place((k + 0.5) / steps));
        if (seen && start === null) start = k;
        if (!seen && start !== null) {
          const [a, b] = [place(start / steps), place(k / steps)];
          if (Math.hypot(a[0] - b[0], a[1] - b[1]) > 0.05)
            runs.push([
              [a[0], a[1]],
              [b[0], b[1]],
            ]);
          start = null;
        }
      }
    }
    return { name, lines: chained(runs).map((line) => straightened(line)) };
  });
}
