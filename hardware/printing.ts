/** How each part lies while it is printed from filament, and what then hangs in the air. Laser-sintered parts need no support. Pure. */
import { mapTriple } from '../src/base/typed.ts';
import { LIGHT } from './design.ts';
import type { Mesh } from './shape/mesh.ts';

type Vec = readonly [number, number, number];

/** Flatter than this a wall printed over air needs support: 45° is common practice, no source. */
const STEEPEST_DEG = 45;

/** Area of facets that look down flatter than 45° and do not lie on the bed, and the area on the bed, mm². */
export function overhangOf({ mesh }: { readonly mesh: Mesh }, up: Vec): { area: number; bed: number } {
  const { corners, triangles } = mesh;
  const height = (i: number) =>
    corners[3 * i]! * up[0] + corners[3 * i + 1]! * up[1] + corners[3 * i + 2]! * up[2];
  let low = Infinity;
  for (const i of triangles) low = Math.min(low, height(i));
  const cosine = Math.cos((STEEPEST_DEG * Math.PI) / 180);
  let [area, bed] = [0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = mapTriple([0, 1, 2], (k) => triangles[t + k]!);
    const edge = (from: number, to: number, k: number) => corners[3 * to + k]! - corners[3 * from + k]!;
    const [u, v] = [[0, 1, 2].map((k) => edge(a, b, k)), [0, 1, 2].map((k) => edge(a, c, k))] as [
      number[],
      number[],
    ];
    const n = [
      u[1]! * v[2]! - u[2]! * v[1]!,
      u[2]! * v[0]! - u[0]! * v[2]!,
      u[0]! * v[1]! - u[1]! * v[0]!,
    ] as const;
    const twice = Math.hypot(...n);
    if (twice === 0) continue;
    const down = -(n[0] * up[0] + n[1] * up[1] + n[2] * up[2]) / twice;
    if (down < cosine + 1e-6) continue;
    if (Math.max(height(a), height(b), height(c)) < low + 0.05) bed += twice / 2;
    else area += twice / 2;
  }
  return { area, bed };
}

export interface Printing {
  readonly part: string;
  /** Which way is up on the bed, in the sleeve's axes. */
  readonly up: Vec;
  readonly support: boolean;
  readonly lies: string;
}

/** From filament. What needs support says where; none of it needs any from laser-sintered powder. */
export const PRINTING: readonly Printing[] = [
  {
    part: 'inner cup',
    up: [0, 0, -1],
    support: true,
    lies: 'on its front ring; support under the rear floor and the feet',
  },
  { part: 'liner', up: [0, 0, 1], support: true, lies: 'on its floor; support under the lip and the tab' },
  { part: 'small cup', up: [0, 0, -1], support: true, lies: 'on its lip; support under the floor' },
  {
    part: 'shell',
    up: [0, 0, 1],
    support: true,
    lies: 'on its rear end; support under bridge, shelf, bosses and front wall',
  },
  {
    part: 'grip cover',
    up: [0, 0, 1],
    support: true,
    lies: 'on its rear end, with a brim; support across the door’s opening only',
  },
  {
    part: 'battery door',
    up: [0, 0, 1],
    support: true,
    lies: 'on its rear end, with a brim; a little support under the tongue',
  },
  { part: 'end cap', up: [0, 0, -1], support: false, lies: 'on its flat inner face' },
  { part: 'light disc', up: LIGHT.towards, support: false, lies: 'flat' },
];

/** @returns how each part lies on the bed, as a Markdown table */
export function printingTable(): string {
  const rows = PRINTING.map(({ part, support, lies }) => `| ${part} | ${support ? 'yes' : 'no'} | ${lies} |`);
  return ['| part | support, from filament | lies |', '| --- | --- | --- |', ...rows].join('\n');
}
