/**
 * Finite-element check of the grip: `npx tsx hardware/squeeze.ts` writes the shell's walls as a mesh of four-node shells, has it solved by
 * CalculiX (`ccx`, which must be installed) and prints how far the stop pins and the cells' bridge move under the squeeze of a
 * hand. First it solves a ring, whose answer stands in the handbooks. Nothing but this file needs the solver; the figures are
 * kept in budgets/stops.ts.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ringClosesMm } from './budgets/beams.ts';
import { HARD_MATERIALS, SHAPE as S } from './design.ts';
import { STOP_PIN, STOP_PIN_Z } from './shape/cup-side.ts';
import { MOUNTS } from './shape/shell-side.ts';

type Point = readonly [x: number, y: number, z: number];

/** A mesh of shells and bars, points within a micrometer made one. */
class Walls {
  readonly points: Point[] = [];
  readonly quads: number[][] = [];
  readonly bridge: number[][] = [];
  /** Pairs of points that a steel pin keeps apart: the same way along y. */
  readonly pins: number[][] = [];
  readonly fixed = new Set<string>();
  readonly loads: string[] = [];
  private readonly known = new Map<string, number>();

  at(point: Point): number {
    const key = point.map((v) => Math.round(v * 1000)).join();
    const known = this.known.get(key);
    if (known) return known;
    this.points.push(point);
    this.known.set(key, this.points.length);
    return this.points.length;
  }

  /** A wall over a line in x and y, at the given z; `open` leaves quads out. */
  wall(
    line: readonly (readonly [number, number])[],
    zs: readonly number[],
    into = this.quads,
    open: (x: number, y: number, z: number) => boolean = () => false,
  ): void {
    for (let i = 1; i < line.length; i++)
      for (let k = 1; k < zs.length; k++) {
        const [a, b] = [line[i - 1]!, line[i]!];
        const [z0, z1] = [zs[k - 1]!, zs[k]!];
        if (open((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (z0 + z1) / 2)) continue;
        into.push([this.at([...a, z0]), this.at([...b, z0]), this.at([...b, z1]), this.at([...a, z1])]);
      }
  }

  input(modulusMPa: number, poisson: number, wallMm: number, bridgeMm: number): string {
    const lines = [
      '*NODE, NSET=ALL',
      ...this.points.map((p, i) => `${i + 1}, ${p.map((v) => v.toFixed(5)).join(', ')}`),
    ];
    let id = 0;
    const elements = (name: string, type: string, list: readonly number[][]) => {
      if (list.length === 0) return;
      lines.push(`*ELEMENT, TYPE=${type}, ELSET=${name}`, ...list.map((e) => `${++id}, ${e.join(', ')}`));
    };
    elements('WALL', 'S4', this.quads);
    elements('BRIDGE', 'S4', this.bridge);
    lines.push('*MATERIAL, NAME=PRINT', '*ELASTIC', `${modulusMPa}, ${poisson}`);
    lines.push('*SHELL SECTION, ELSET=WALL, MATERIAL=PRINT', String(wallMm));
    if (this.bridge.length) lines.push('*SHELL SECTION, ELSET=BRIDGE, MATERIAL=PRINT', String(bridgeMm));
    for (const [a, b] of this.pins) lines.push('*EQUATION', '2', `${a}, 2, 1, ${b}, 2, -1`);
    lines.push('*STEP', '*STATIC', '*BOUNDARY', ...this.fixed, '*CLOAD', ...this.loads);
    lines.push('*NODE PRINT, NSET=ALL', 'U', '*END STEP', '');
    return lines.join('\n');
  }

  /** @returns displacement of each point, mm */
  solve(modulusMPa: number, poisson: number, wallMm: number, bridgeMm = 2): Map<number, Point> {
    const folder = mkdtempSync(join(tmpdir(), 'walls-'));
    writeFileSync(join(folder, 'walls.inp'), this.input(modulusMPa, poisson, wallMm, bridgeMm));
    const run = spawnSync('ccx', ['walls'], { cwd: folder, encoding: 'utf8' });
    if (run.error) throw new Error('This check needs CalculiX: install the package calculix-ccx.');
    const moved = new Map<number, Point>();
    for (const line of readFileSync(join(folder, 'walls.dat'), 'utf8').split('\n')) {
      const [id, x, y, z] = line.trim().split(/\s+/).map(Number);
      if (id && z !== undefined && !Number.isNaN(z)) moved.set(id, [x!, y!, z]);
    }
    return moved;
  }
}

const range = (from: number, to: number, steps: number): number[] =>
  Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);

const arc = (
  [cx, cy]: readonly [number, number],
  radius: number,
  fromDeg: number,
  toDeg: number,
  steps: number,
): [number, number][] =>
  range(fromDeg, toDeg, steps).map((deg) => {
    const angle = (deg * Math.PI) / 180;
    return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
  });

/** A quarter of a ring with a force on its top, as the handbooks have it. */
function ring(): { solvedMm: number; handbookMm: number } {
  const [radius, wall, width, modulus, force] = [20, 1.1, 10, 1650, 10];
  const walls = new Walls();
  walls.wall(arc([0, 0], radius, 0, 90, 40), range(0, width, 4));
  walls.points.forEach(([x, y, z], i) => {
    const n = i + 1;
    // Symmetry: on the x axis no way along y and no turn; on the y axis none along x. z held at one edge.
    if (Math.abs(y) < 1e-6) for (const d of [2, 4, 6]) walls.fixed.add(`${n}, ${d}`);
    if (Math.abs(x) < 1e-6) for (const d of [1, 5, 6]) walls.fixed.add(`${n}, ${d}`);
    if (z < 1e-6) walls.fixed.add(`${n}, 3`);
    const share = z < 1e-6 || z > width - 1e-6 ? 1 / 8 : 1 / 4;
    if (Math.abs(x) < 1e-6) walls.loads.push(`${n}, 2, ${(-force / 2) * share}`);
  });
  // The handbook's ring is a narrow bar: what is bent does not swell sideways.
  const moved = walls.solve(modulus, 0, wall);
  const top = walls.at([0, radius, width / 2]);
  const inertia = (width * wall ** 3) / 12;
  return { solvedMm: -2 * moved.get(top)![1], handbookMm: ringClosesMm(force, radius, modulus, inertia) };
}

/** The shell, its rear end held by end cap and plate, squeezed on both sides of the grip. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one mesh, from its points to what moved
function squeezed(forceN: number, modulusMPa: number, pinsGlued: boolean): Record<string, Point> {
  const walls = new Walls();
  const keel: [number, number] = [S.keelX, 0];
  const [rk, rt] = [S.keelInner + 0.55, S.shellInner + 0.55];
  const meet = (S.keelX ** 2 + rt ** 2 - rk ** 2) / (2 * -S.keelX);
  const keelDeg = (x: number) => (Math.acos((x - S.keelX) / rk) * 180) / Math.PI;
  const bridgeX = (MOUNTS.bridge.x[0] + MOUNTS.bridge.x[1]) / 2;
  // From the seam up to where the keel meets the tube, with points at the height of bridge and pins.
  const stops = [S.seamX, bridgeX, STOP_PIN.xMm, -meet].map(keelDeg);
  const right = stops.slice(1).flatMap((to, i) => arc(keel, rk, stops[i]!, to, 4).slice(i ? 1 : 0));
  const left = right.map(([x, y]): [number, number] => [x, -y]);
  const meetDeg = (Math.acos(-meet / rt) * 180) / Math.PI;
  const tube = arc([0, 0], rt, meetDeg, -meetDeg, 72);
  const zs = [
    ...range(S.shellRearZ, STOP_PIN_Z.rear, 10),
    ...range(STOP_PIN_Z.rear, MOUNTS.bridge.z[0], 8).slice(1),
    ...range(...MOUNTS.bridge.z, 9).slice(1),
    ...range(MOUNTS.bridge.z[1], STOP_PIN_Z.front, 8).slice(1),
    ...range(STOP_PIN_Z.front, S.shellFrontZ, 5).slice(1),
  ];
  const inWindow = (x: number, y: number, z: number) =>
    z > S.windowFromZ && z < S.windowToZ && Math.abs(Math.atan2(y, x)) < (S.windowHalfDeg * Math.PI) / 180;
  for (const line of [right, tube, left]) walls.wall(line, zs, walls.quads, inWindow);
  const half = Math.sqrt(rk ** 2 - (bridgeX - S.keelX) ** 2);
  const across = range(-half, half, 12).map((y): [number, number] => [bridgeX, y]);
  walls.wall(
    across,
    zs.filter((z) => z >= MOUNTS.bridge.z[0] - 1e-6 && z <= MOUNTS.bridge.z[1] + 1e-6),
    walls.bridge,
  );
  // The strip of the front wall that is left under the way of the feet, from wall to wall.
  const strip = right.filter(([x]) => x <= bridgeX + 1e-6);
  const row = ([x]: readonly [number, number]): [number, number][] =>
    range(-1, 1, 12).map((t) => [x, t * Math.sqrt(rk ** 2 - (x - S.keelX) ** 2)]);
  for (let i = 1; i < strip.length; i++) {
    const [a, b] = [row(strip[i - 1]!), row(strip[i]!)];
    for (let k = 1; k < a.length; k++)
      walls.bridge.push(
        [a[k - 1]!, a[k]!, b[k]!, b[k - 1]!].map(([x, y]) => walls.at([x, y, S.shellFrontZ])),
      );
  }
  const pinHalf = Math.sqrt(rk ** 2 - (STOP_PIN.xMm - S.keelX) ** 2);
  const ends = (z: number) => [-1, 1].map((side) => walls.at([STOP_PIN.xMm, side * pinHalf, z]));
  if (pinsGlued) for (const z of [STOP_PIN_Z.front, STOP_PIN_Z.rear]) walls.pins.push(ends(z));
  const pressed: number[] = [];
  walls.points.forEach(([x, y, z], i) => {
    if (z < S.shellRearZ + 1e-6) for (const d of [1, 2, 3]) walls.fixed.add(`${i + 1}, ${d}`);
    // Fingers on one side, the ball of the thumb on the other: a hand's breadth of 80 mm.
    const band = x > S.seamX + 2 && x < STOP_PIN.xMm + 1 && z > 5 && z < 85;
    if (band && Math.abs(y) > 14) pressed.push(y > 0 ? i + 1 : -(i + 1));
  });
  for (const n of pressed)
    walls.loads.push(`${Math.abs(n)}, 2, ${(-Math.sign(n) * 2 * forceN) / pressed.length}`);
  const moved = walls.solve(modulusMPa, 0.39, 1.1);
  const places: Record<string, Point> = {};
  const middle = MOUNTS.bridge.z[0] + (5 / 9) * (MOUNTS.bridge.z[1] - MOUNTS.bridge.z[0]);
  const nearest = zs.reduce((a, b) => (Math.abs(b - middle) < Math.abs(a - middle) ? b : a));
  for (const [name, p] of [
    ['bridge', [bridgeX, across[6]![1], nearest]],
    ['front pin, right', [STOP_PIN.xMm, pinHalf, STOP_PIN_Z.front]],
    ['front pin, left', [STOP_PIN.xMm, -pinHalf, STOP_PIN_Z.front]],
    ['rear pin, right', [STOP_PIN.xMm, pinHalf, STOP_PIN_Z.rear]],
  ] as const)
    places[name] = moved.get(walls.at(p as Point))!;
  return places;
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  const { solvedMm, handbookMm } = ring();
  console.log(`ring: solved ${solvedMm.toFixed(4)} mm, handbook ${handbookMm.toFixed(4)} mm`);
  for (const [name, { modulusMPa }] of Object.entries(HARD_MATERIALS))
    for (const glued of [false, true]) {
      console.log(`${name}, 40 N, pins ${glued ? 'glued in both bosses' : 'loose'}`);
      for (const [place, [x, y, z]] of Object.entries(squeezed(40, modulusMPa, glued)))
        console.log(`  ${place}: x ${x.toFixed(3)}, y ${y.toFixed(3)}, z ${z.toFixed(3)} mm`);
    }
}
