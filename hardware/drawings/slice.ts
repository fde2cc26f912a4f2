/** Cuts meshes with the plane y = const: closed outlines in the z–x plane. Pure. */
import type { Mesh } from '../shape/mesh.ts';

/** A closed outline, [z, x] in mm. */
export type Loop = [number, number][];

/** Keeps the plane off the corners, which lie on it by design. */
const OFF_PLANE_MM = 0.0137;

/** @returns outlines of the cut through a closed mesh at y (about), outer ones and holes alike */
export function sliceAtY({ corners, triangles }: Mesh, y = 0): Loop[] {
  const level = y + OFF_PLANE_MM;
  const next = new Map<string, { from: [number, number]; to: [number, number] }[]>();
  const key = (p: [number, number]) => `${p[0].toFixed(3)},${p[1].toFixed(3)}`;
  for (let t = 0; t < triangles.length; t += 3) {
    const crossing: { p: [number, number]; up: boolean }[] = [];
    for (let k = 0; k < 3; k++) {
      const [i, j] = [3 * triangles[t + k]!, 3 * triangles[t + ((k + 1) % 3)]!];
      const [a, b] = [corners[i + 1]! - level, corners[j + 1]! - level];
      if (a > 0 === b > 0) continue;
      const s = a / (a - b);
      const z = corners[i + 2]! + s * (corners[j + 2]! - corners[i + 2]!);
      const x = corners[i]! + s * (corners[j]! - corners[i]!);
      crossing.push({ p: [z, x], up: b > 0 });
    }
    if (crossing.length !== 2) continue;
    const from = crossing.find((each) => each.up)!.p;
    const to = crossing.find((each) => !each.up)!.p;
    if (key(from) === key(to)) continue;
    const list = next.get(key(from));
    if (list) list.push({ from, to });
    else next.set(key(from), [{ from, to }]);
  }
  const loops: Loop[] = [];
  for (const list of next.values())
    while (list.length > 0) {
      const first = list.pop()!;
      const loop: Loop = [first.from];
      let here = first.to;
      while (key(here) !== key(first.from)) {
        loop.push(here);
        const on = next.get(key(here))?.pop();
        if (!on) break;
        here = on.to;
      }
      if (loop.length > 2) loops.push(loop);
    }
  return loops;
}
