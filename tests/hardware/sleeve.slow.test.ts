import { readFileSync } from 'node:fs';
import type { Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { cupLoad, massBudget } from '../../hardware/budgets/mass.ts';
import { GENERATED } from '../../hardware/build.ts';
import { MODULES } from '../../hardware/circuit/modules.ts';
import {
  BOTTLE,
  FIT,
  GRIP,
  LIGHT,
  MAX_ADDED_MASS_GRAMS,
  MOTION_BOARD,
  PLACES,
  SEAT,
  SHAPE,
  SIDE_GAP_MM,
  SMALL_BOTTLE,
  SMALL_CUP,
  STOP_GAP_MM,
} from '../../hardware/design.ts';
import { overhangOf, PRINTING } from '../../hardware/printing.ts';
import {
  madeParts,
  type Part,
  partNamed,
  sleeveParts,
  sleeveWithSmallCup,
} from '../../hardware/shape/assembly.ts';
import { CELL_TOP, FOOT_X } from '../../hardware/shape/cup-side.ts';
import { type Mesh, meshOf, volumeOf } from '../../hardware/shape/mesh.ts';
import { DOOR, MOUNTS, SCREW_HOLES, seatRidges, seatScrews } from '../../hardware/shape/shell-side.ts';
import { box, cut, rod, turned, union } from '../../hardware/shape/solids.ts';
import { stlOf } from '../../hardware/shape/stl.ts';
import { solidMaker } from './closed-solid.ts';
import { faceOf, hitDistance, hitOf, triangleCount, triangleOf, type Vec } from './rays.ts';

let solid: (mesh: Mesh) => Manifold;
const solids = new Map<Part, Manifold>();
const solidOf = (part: Part): Manifold => {
  const known = solids.get(part) ?? solid(part.mesh);
  solids.set(part, known);
  return known;
};

beforeAll(async () => {
  solid = await solidMaker();
});

describe('meshes', () => {
  it('closes what Boolean operations leave open: a drilled and stepped block has its textbook volume', () => {
    const block = cut(
      union(box([0, 10], [0, 10], [0, 10]), box([5, 15], [2, 8], [3, 12])),
      box([1, 9], [4, 6], [-1, 20]),
    );
    const mesh = meshOf(block);
    // 1000 + 10·6·9 − overlap 5·6·7, less the slot: 8·2 over z 0–10, and over z 10–12 where x ≥ 5: 4·2·2.
    expect(volumeOf(mesh).mm3).toBeCloseTo(1000 + 540 - 210 - 160 - 16, 3);
    expect(solid(mesh).volume()).toBeCloseTo(1154, 2);
    expect(solid(mesh).genus()).toBe(1);
  });

  it('has the volume of a 64-sided prism for a rod', () => {
    const { mm3, centre } = volumeOf(meshOf(rod(10, [2, 12])));
    expect(mm3).toBeCloseTo(10 * 0.5 * 64 * 100 * Math.sin((2 * Math.PI) / 64), 4);
    expect(centre[2]).toBeCloseTo(7, 9);
  });

  it('sees a hole in a mesh', () => {
    const whole = meshOf(box([0, 1], [0, 1], [0, 1]));
    expect(() => solid({ corners: whole.corners, triangles: whole.triangles.slice(3) })).toThrow();
  });
});

describe('parts of the sleeve', () => {
  it.each(sleeveParts().map((part) => [part.name, part] as const))(
    '%s is closed, of the volume the mesh says',
    (_, part) => {
      const closed = solidOf(part);
      expect(closed.status()).toBe('NoError');
      expect(closed.volume() / volumeOf(part.mesh).mm3).toBeCloseTo(1, 4);
    },
  );

  it.each(madeParts().map((part) => [part.name, part] as const))('%s is one piece', (_, part) => {
    expect(solidOf(part).decompose()).toHaveLength(1);
  });

  it('keeps the least wall everywhere', () => {
    const thin = madeParts()
      .filter((part) => part.made!.material !== 'petFilm')
      .flatMap((part) => {
        const least = part.made!.material === 'tpu' ? FIT.minLinerWallMm : FIT.minWallMm;
        return wallsThinnerThan(part, least - 0.06);
      });
    expect(thin).toEqual([]);
  });

  it('lets no two parts overlap, but for the ribs that grip the bottle and wires in their holes', () => {
    const meant = new Set([
      ...['liner|bottle', 'clamps|axial strut', 'clamps|front strut', 'clamps|rear strut'],
    ]);
    const parts = sleeveParts();
    const overlaps = parts.flatMap((a, i) =>
      parts
        .slice(i + 1)
        .filter((b) => !meant.has(`${a.name}|${b.name}`) && solidOf(a).intersect(solidOf(b)).volume() > 0.01)
        .map((b) => `${a.name}|${b.name}`),
    );
    expect(overlaps).toEqual([]);
  });

  it.each(MODULES.map(({ name }) => name))(
    'has the %s in a place that ends: some millimeters on it meets another part',
    (name) => {
      const board = solidOf(partNamed(name));
      const others = sleeveParts().filter((part) => part.name !== name);
      const meets = (by: Vec) =>
        others.some((part) => solidOf(part).intersect(board.translate(by)).volume() > 0.01);
      const ways = [0, 1, 2].flatMap((axis) =>
        [-8, 8].map((mm) => [0, 1, 2].map((k) => (k === axis ? mm : 0)) as unknown as Vec),
      );
      expect(meets([0, 0, 0])).toBe(false);
      expect(ways.filter(meets).length).toBeGreaterThanOrEqual(2);
    },
  );

  it('sees a wall that is too thin for what is asked', () => {
    expect(wallsThinnerThan(partNamed('grip cover'), 6).length).toBeGreaterThan(0);
  });

  it('keeps cup and shell apart everywhere but at struts, links and stop pins', () => {
    const near = pairs().filter(([, shell]) => !/stop|clamps/.test(shell.name));
    const gaps = near.map(([cup, shell]) => ({
      pair: `${cup.name}|${shell.name}`,
      gap: solidOf(cup).minGap(solidOf(shell), 2),
    }));
    expect(gaps.filter(({ gap }) => gap < FIT.minClearanceMm)).toEqual([]);
    // The nearest pair is less than 1.6 mm apart, which shows that the search finds distances at all.
    expect(Math.min(...gaps.map(({ gap }) => gap))).toBeLessThan(1.6);
  });

  it('has stops in every direction: free up to the gap, stopped just beyond it', () => {
    const cup = solidOf(partNamed('inner cup'));
    const stops = ['front stop pin', 'rear stop pin', 'stop spacers'].map((name) => solidOf(partNamed(name)));
    const meets = (by: Vec) => stops.some((stop) => stop.intersect(cup.translate(by)).volume() > 1e-4);
    for (const axis of [0, 1, 2])
      for (const sign of [-1, 1]) {
        const gap = axis === 1 ? SIDE_GAP_MM : STOP_GAP_MM;
        const by = (mm: number): Vec => [0, 1, 2].map((k) => (k === axis ? sign * mm : 0)) as unknown as Vec;
        expect([axis, sign, meets(by(gap - 0.02))]).toEqual([axis, sign, false]);
        // Faceted hole and pin: a little more than the drawn circles.
        expect([axis, sign, meets(by(gap + 0.08))]).toEqual([axis, sign, true]);
      }
  });

  it('clamps each cell between head and nut: the clamp can neither be pushed nor pulled through', () => {
    const clamps = solidOf(partNamed('clamps'));
    const against = (name: string, by: Vec) =>
      solidOf(partNamed(name)).intersect(clamps.translate(by)).volume();
    for (const name of ['front cell', 'rear cell', 'axial cell'])
      for (const sign of [-1, 1]) {
        const by: Vec = name === 'axial cell' ? [0, 0, 0.3 * sign] : [0.3 * sign, 0, 0];
        expect([name, sign, against(name, by) > 1]).toEqual([name, sign, true]);
        expect(against(name, [0, 0, 0])).toBeLessThan(0.01);
      }
  });

  it('seats each cell on its two ridges and nowhere else, under its springs', () => {
    const shell = solidOf(partNamed('shell'));
    for (const name of ['front', 'rear', 'axial'] as const) {
      const cell = solidOf(partNamed(`${name} cell`));
      const towards: Vec = name === 'axial' ? [0, 0, -1] : [1, 0, 0];
      const pressed = cell.translate([0.05 * towards[0], 0, 0.05 * towards[2]]).intersect(shell);
      const along = name === 'axial' ? 0 : 2;
      const { min, max } = pressed.boundingBox();
      const ridges = [...seatRidges(name)].sort((a, b) => a - b);
      expect(min[along]).toBeCloseTo(ridges[0]! - SEAT.ridgeWidthMm / 2, 3);
      expect(max[along]).toBeCloseTo(ridges[1]! + SEAT.ridgeWidthMm / 2, 3);
      // Two ridges as long as the cell is wide, except for the screws' holes; nothing between them.
      const w = SEAT.ridgeWidthMm / 2 + 0.01;
      const onRidges = ridges.map((at): readonly [number, number] => [at - w, at + w]);
      const spare = onRidges.reduce((left, range) => {
        const all: [number, number] = [-99, 199];
        return left.subtract(solid(meshOf(along === 0 ? box(range, all, all) : box(all, all, range))));
      }, pressed);
      expect(spare.volume()).toBeLessThan(1e-6);
      expect(pressed.volume()).toBeGreaterThan(0.8 * 2 * SEAT.ridgeWidthMm * 12 * 0.05);
      // The screws with their springs are between the ridges, so that they press the cell onto both.
      for (const at of seatScrews(name)) {
        expect(at).toBeGreaterThan(ridges[0]!);
        expect(at).toBeLessThan(ridges[1]!);
      }
    }
    // Heads keep off the cup, also while it falls to its stops.
    const springs = solidOf(partNamed('seat springs'));
    expect(springs.minGap(solidOf(partNamed('inner cup')), 5)).toBeGreaterThan(STOP_GAP_MM + 0.3);
    expect(CELL_TOP.transverseX).toBeLessThan(FOOT_X);
  });

  it('has holes that their screws go through, and that are not wider than they need to be', () => {
    for (const { part, screw, from, to } of SCREW_HOLES()) {
      const body = solidOf(partNamed(part));
      const along = (diameter: number) => {
        const axis = [0, 1, 2].findIndex((k) => from[k] !== to[k]);
        const length = to[axis]! - from[axis]!;
        const bar = shank(diameter, length);
        const turned = axis === 0 ? bar.rotate([0, 90, 0]) : axis === 1 ? bar.rotate([-90, 0, 0]) : bar;
        return body.intersect(turned.translate([...from])).volume();
      };
      const what = `${part}, Ø ${screw} at ${from.map((v) => v.toFixed(1)).join(' ')}`;
      expect([what, along(screw) < 0.001]).toEqual([what, true]);
      expect([what, along(screw + 0.8) > 0.1]).toEqual([what, true]);
    }
    expect(SCREW_HOLES().length).toBeGreaterThan(12);
  });

  it('lets the cup in from the front, before film, pins and links are in', () => {
    const cup = solidOf(partNamed('inner cup'));
    const there = [
      'shell',
      'motion board',
      'front cell',
      'rear cell',
      'axial cell',
      'chip board',
      'seat springs',
    ].map((name) => [name, solidOf(partNamed(name))] as const);
    const blocked = Array.from({ length: 61 }, (_, i) => 2 * i).flatMap((byMm) =>
      there
        .filter(([, part]) => part.intersect(cup.translate([0, 0, byMm])).volume() > 0.01)
        .map(([name]) => `${name}, ${byMm} mm out`),
    );
    expect(blocked).toEqual([]);
    // The film closes the openings for the feet: from the front nothing reaches the cells except around the cup.
    const film = partNamed('front film').mesh;
    for (const [x, y] of [
      [-37, 0],
      [-40, -10],
      [-44, -16],
      [-36, 4],
    ] as const)
      expect(hitDistance(film, [x, y, SHAPE.shellFrontZ + 10], [0, 0, -1])).toBeLessThan(12);
  });

  it('lets the cup pass the accelerometer on its shelf, but not a thicker one', () => {
    const cup = solidOf(partNamed('inner cup'));
    const { x, z } = MOUNTS.motionShelf;
    const shelf = solid(meshOf(box(x, [-MOTION_BOARD.shelfHalfWidthMm, MOTION_BOARD.shelfHalfWidthMm], z)));
    const board = solidOf(partNamed('motion board')).add(shelf);
    const meets = (way: readonly number[], higherByMm = 0) =>
      way.filter((byMm) => {
        const moved = cup.translate([-higherByMm, 0, byMm]);
        return moved.intersect(board).volume() > 0.01;
      });
    const way = Array.from({ length: 40 }, (_, i) => 3 * i);
    expect(meets(way)).toEqual([]);
    // The rear foot passes closely above it: if it were 2 mm higher, they would touch.
    expect(meets(way, 2).length).toBeGreaterThan(3);
  });

  it('lets the liner out at the front, past everything but its own two tongues', () => {
    for (const byMm of [2, 10, 30, 60, 100]) {
      const lifted = solidOf(partNamed('liner')).translate([0, 0, byMm]);
      expect(lifted.intersect(solidOf(partNamed('shell'))).volume()).toBe(0);
      expect(lifted.intersect(solidOf(partNamed('inner cup'))).volume()).toBeLessThan(30);
    }
  });
});

describe('the small cup', () => {
  it('fits where the liner was: nothing overlaps but the ribs that grip the bottle', () => {
    const parts = sleeveWithSmallCup();
    const cup = solidOf(partNamed('small cup'));
    for (const other of parts.filter(({ name }) => name !== 'small cup')) {
      const shared = cup.intersect(solidOf(other)).volume();
      const limit = other.name === 'small bottle' ? 120 : 0.01;
      expect([other.name, shared <= limit]).toEqual([other.name, true]);
    }
    expect(cup.intersect(solidOf(partNamed('small bottle'))).volume()).toBeGreaterThan(5);
    // It can be pulled out by its tab, as the liner can.
    for (const byMm of [2, 10, 30, 60, 100])
      expect(
        cup
          .translate([0, 0, byMm])
          .intersect(solidOf(partNamed('shell')))
          .volume(),
      ).toBe(0);
  });

  it('stands on the inner cup and is held by it all round, front and rear', () => {
    const cup = solidOf(partNamed('inner cup'));
    const small = solidOf(partNamed('small cup'));
    expect(small.translate([0, 0, -0.05]).intersect(cup).volume()).toBeGreaterThan(1);
    for (const by of [
      [0.4, 0, 0],
      [-0.4, 0, 0],
      [0, 0.4, 0],
      [0, -0.4, 0],
    ] as Vec[]) {
      const meets = small.translate([...by]).intersect(cup);
      const { min, max } = meets.boundingBox();
      expect(min[2]).toBeLessThan(5);
      expect(max[2]).toBeGreaterThan(80);
    }
  });

  it('lets a small bottle be read, and brings its nipple out in front of the sleeve', () => {
    const opaque = ['shell', 'inner cup', 'small cup'].map((name) => partNamed(name).mesh);
    const r = SMALL_BOTTLE.diameterMm / 2;
    const seen: number[] = [];
    for (let z = SMALL_CUP.liftMm + 10; z <= SHAPE.windowToZ - 2; z += 5)
      if (opaque.every((mesh) => hitDistance(mesh, [r, 0, z], [1, 0, 0]) > 200)) seen.push(z);
    expect(Math.max(...seen) - Math.min(...seen)).toBeGreaterThanOrEqual(30);
    expect(SMALL_CUP.liftMm + SMALL_BOTTLE.neckZMm).toBeGreaterThan(SHAPE.lipZ);
    expect(SMALL_CUP.liftMm + SMALL_BOTTLE.bodyHeightMm).toBeGreaterThanOrEqual(SHAPE.cupFrontZ - 1);
  });
});

describe('printing', () => {
  it.each(PRINTING.filter(({ support }) => !support))(
    '$part: without support, lying as it is said to lie',
    ({ part, up }) => {
      const { area, bed } = overhangOf(partNamed(part), up);
      expect(area).toBeLessThan(12);
      expect(bed).toBeGreaterThan(30);
    },
  );

  it('sees what hangs: the shell on its rear end does, and says that it needs support', () => {
    expect(PRINTING.map(({ part }) => part).sort()).toEqual(
      madeParts()
        .filter(({ made }) => made!.material !== 'petFilm')
        .map(({ name }) => name)
        .sort(),
    );
    for (const { part, up, support } of PRINTING)
      if (support) expect(overhangOf(partNamed(part), up).area).toBeGreaterThan(12);
    // The underside of a table needs support in printing; a box on the print bed does not.
    const tableLike = meshOf(union(box([0, 2], [0, 10], [0, 10]), box([0, 20], [0, 10], [10, 12])));
    expect(overhangOf({ mesh: tableLike } as Part, [0, 0, 1]).area).toBeCloseTo(180, 3);
    expect(overhangOf({ mesh: meshOf(box([0, 9], [0, 9], [0, 9])) } as Part, [0, 0, 1]).area).toBe(0);
  });
});

describe('in the hand and at the baby', () => {
  it.each(['pa12', 'asa'] as const)('adds at most 150 g to the bottle, printed in %s', (material) => {
    const { totalGrams, madeGrams } = massBudget(material);
    expect(totalGrams).toBeLessThanOrEqual(MAX_ADDED_MASS_GRAMS);
    expect(madeGrams).toBeGreaterThan(50);
    // With the small cup in place of the liner the limit holds too.
    const more = cupLoad('small cup').massGrams - cupLoad('liner').massGrams;
    expect(totalGrams + more).toBeLessThanOrEqual(MAX_ADDED_MASS_GRAMS);
    expect(cupLoad().massGrams).toBeLessThan(40);
  });

  it('has a grip for a power grip (NIOSH 2004-164: 1¼ to 2 inches), a hand long', () => {
    expect(GRIP.diameterMm).toBeGreaterThanOrEqual(GRIP.leastDiameterMm);
    expect(GRIP.diameterMm).toBeLessThanOrEqual(GRIP.greatestDiameterMm);
    // Measured on the mesh: the cover's farthest corner from the keel's axis.
    const { mesh } = partNamed('grip cover');
    const y = coordinates(mesh, 1);
    const radii = coordinates(mesh, 0).map((x, i) => Math.hypot(x - SHAPE.keelX, y[i]!));
    expect(2 * Math.max(...radii)).toBeCloseTo(GRIP.diameterMm, 1);
    expect(GRIP.lengthMm).toBeGreaterThan(100);
  });

  it('leaves the label and the graduations in sight through the window', () => {
    const opaque = ['shell', 'inner cup', 'liner', 'end cap'].map((name) => partNamed(name).mesh);
    const hidden: string[] = [];
    for (let z = SHAPE.windowFromZ + 2; z <= SHAPE.windowToZ - 2; z += 10)
      for (let deg = -66; deg <= 66; deg += 22) {
        const angle = (deg * Math.PI) / 180;
        const out: Vec = [Math.cos(angle), Math.sin(angle), 0];
        const r = BOTTLE.diameterMm / 2;
        const skin: Vec = [r * out[0], r * out[1], z];
        if (opaque.some((mesh) => hitDistance(mesh, skin, out) < 200)) hidden.push(`${deg}° ${z}`);
      }
    expect(hidden).toEqual([]);
    // A label of 40 × 25 mm and a column of graduations 15 mm wide stand side by side (sizes: common practice, no source).
    expect(((2 * SHAPE.windowHalfDeg) / 360) * Math.PI * BOTTLE.diameterMm).toBeGreaterThan(40 + 15);
    expect(SHAPE.windowToZ - SHAPE.windowFromZ).toBeGreaterThan(60);
  });

  it('turns the light away from the baby: no straight way from it to the face', () => {
    const solidParts = ['end cap', 'shell'].map((name) => partNamed(name).mesh);
    const at = LIGHT.atMm.map((v, i) => v + 4 * LIGHT.towards[i]!) as unknown as Vec;
    const seen: string[] = [];
    // A face of 240 × 200 mm round the nipple's tip and up to 60 mm nearer than the tip.
    for (let x = -120; x <= 120; x += 40)
      for (let y = -100; y <= 100; y += 50)
        for (const z of [BOTTLE.teatTipZMm - 60, BOTTLE.teatTipZMm]) {
          const way: Vec = [x - at[0], y - at[1], z - at[2]];
          const length = Math.hypot(...way);
          const unit: Vec = [way[0] / length, way[1] / length, way[2] / length];
          // The legs of the light fill a hole of Ø 3 mm in the plate behind it.
          const toPlate = (SHAPE.capRearZ - at[2]) / unit[2];
          const legs = Math.hypot(at[0] + toPlate * unit[0] - LIGHT.atMm[0], at[1] + toPlate * unit[1]) < 2;
          if (!legs && !solidParts.some((mesh) => hitDistance(mesh, at, unit) < length))
            seen.push(`${x} ${y} ${z}`);
        }
    expect(seen).toEqual([]);
    // The caregiver, behind and above, sees it.
    for (const unit of [LIGHT.towards, [0.5, 0, -Math.sqrt(0.75)], [0.6, 0.2, -Math.sqrt(0.6)]] as Vec[])
      expect(Math.min(...solidParts.map((mesh) => hitDistance(mesh, at, unit)))).toBe(Infinity);
  });

  it('locks the battery in: the door is held by a tongue and a screw that goes through door and ledge', () => {
    const [door, cover] = ['battery door', 'grip cover'].map(partNamed) as [Part, Part];
    const fromBelow: Vec = [SHAPE.keelX - 40, 0, DOOR.screwZ];
    // Nothing is in the middle of the screw hole; beside it there are door and cover.
    expect(hitDistance(door.mesh, fromBelow, [1, 0, 0])).toBe(Infinity);
    expect(hitDistance(cover.mesh, fromBelow, [1, 0, 0])).toBe(Infinity);
    const beside: Vec = [SHAPE.keelX - 40, 3, DOOR.screwZ];
    expect(hitDistance(door.mesh, beside, [1, 0, 0])).toBeLessThan(
      hitDistance(cover.mesh, beside, [1, 0, 0]),
    );
    expect(hitDistance(cover.mesh, beside, [1, 0, 0])).toBeLessThan(40);
    // Pulled straight out by 2 mm the tongue catches behind the cover.
    expect(solidOf(door).translate([-2, 0, 0]).intersect(solidOf(cover)).volume()).toBeGreaterThan(1);
  });

  it('puts the cells where the contract has them', () => {
    const span = (name: string, axis: number) => {
      const values = coordinates(partNamed(name).mesh, axis);
      return [Math.min(...values), Math.max(...values)] as const;
    };
    // Struts along their cells' axes, at the working points.
    expect((span('front strut', 2)[0] + span('front strut', 2)[1]) / 2).toBeCloseTo(PLACES.frontZMm, 3);
    expect((span('rear strut', 2)[0] + span('rear strut', 2)[1]) / 2).toBeCloseTo(PLACES.rearZMm, 3);
    expect(span('front strut', 0)[1] - span('front strut', 0)[0]).toBeGreaterThan(10);
    expect(span('axial strut', 2)[1] - span('axial strut', 2)[0]).toBeGreaterThan(10);
    expect(span('axial strut', 2)[1]).toBeLessThan(0);
    // Links run along y only.
    for (const name of ['front link', 'upper rear link', 'lower rear link']) {
      expect(span(name, 1)[1] - span(name, 1)[0]).toBeGreaterThan(25);
      expect(span(name, 0)[1] - span(name, 0)[0]).toBeLessThan(1);
      expect(span(name, 2)[1] - span(name, 2)[0]).toBeLessThan(1);
    }
  });
});

describe('the accelerometer', () => {
  const board = () => partNamed('motion board');
  const span = (part: Part, axis: number) => {
    const values = coordinates(part.mesh, axis);
    return [Math.min(...values), Math.max(...values)] as const;
  };

  it('has its chip in the middle of its board, at the height of milk and bottle', () => {
    const [x, y, z] = PLACES.accelerometerMm;
    const middle = [1, 2].map((axis) => (span(board(), axis)[0] + span(board(), axis)[1]) / 2);
    expect(middle[0]).toBeCloseTo(y, 6);
    expect(middle[1]).toBeCloseTo(z + MOTION_BOARD.aheadMm, 6);
    expect(x).toBeGreaterThan(span(board(), 0)[0]);
    expect(x).toBeLessThan(span(board(), 0)[1]);
    expect(Math.abs(z - BOTTLE.milkCentreZMm)).toBeLessThan(10);
  });

  it('lies on its shelf, which touches nothing that bends: a probe just under the board is in the shell', () => {
    const [fromX] = span(board(), 0);
    const [fromZ, toZ] = span(board(), 2);
    const probe = solid(meshOf(box([fromX - 0.2, fromX - 0.01], [-8, 8], [fromZ + 1, toZ - 0.5])));
    const shell = solidOf(partNamed('shell'));
    expect(shell.intersect(probe).volume() / probe.volume()).toBeGreaterThan(0.99);
    // The front cell bends towards the shelf by a tenth of a millimeter; its fixed end is screwed to the bridge.
    const free = solid(meshOf(box([-60, -40], [-20, 20], [PLACES.frontZMm - 28.5, PLACES.frontZMm + 8])));
    expect(
      shell.intersect(free).minGap(solidOf(partNamed('front cell')).intersect(free), 2),
    ).toBeGreaterThanOrEqual(FIT.minClearanceMm - 0.3);
    // The board keeps its distance from the cup, which moves.
    expect(solidOf(board()).minGap(solidOf(partNamed('inner cup')), 5)).toBeGreaterThanOrEqual(
      FIT.minClearanceMm,
    );
    expect(
      solidOf(board())
        .translate([0, 0, 0.5])
        .minGap(solidOf(partNamed('inner cup')), 5),
    ).toBeLessThan(FIT.minClearanceMm);
  });

  it('leaves the cells’ screws to a driver: their heads stand clear of the board', () => {
    // M2.5: head Ø 4.5 mm (ISO 7045; from memory).
    for (const z of seatScrews('front')) {
      expect(span(board(), 2)[0] - (z + 4.5 / 2)).toBeGreaterThan(0);
    }
    expect(span(board(), 1)[1] - span(board(), 1)[0]).toBeCloseTo(MOTION_BOARD.acrossMm, 6);
  });

  it('is inside the hand’s grip, not outside it', () => {
    for (const [x, y] of [
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
    ] as const) {
      const radius = Math.hypot(span(board(), 0)[x] - SHAPE.keelX, span(board(), 1)[y]);
      expect(radius).toBeLessThan(SHAPE.keelInner);
    }
  });

  it('has its place in the build guide', () => {
    const guide = readFileSync(new URL('../../hardware/BUILD.md', import.meta.url), 'utf8');
    const place = PLACES.accelerometerMm.map((mm) => String(Number(mm.toFixed(1)))).join(', ');
    expect(guide.replaceAll('−', '-')).toContain(`\`positionMm\`: [${place}]`);
  });
});

describe('what is written', () => {
  it.each(GENERATED.map(({ path, text }) => [path, text] as const))(
    '%s is up to date: run "npm run hardware"',
    (path, text) => {
      const kept = readFileSync(new URL(`../../hardware/${path}`, import.meta.url), 'utf8');
      expect(text() === kept).toBe(true);
    },
  );

  it('writes STL that reads back as the same solid, 1.5 MB in all', () => {
    const files = madeParts().map((part) => [part, stlOf(part.mesh)] as const);
    for (const [part, bytes] of files) {
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
      // Binary STL: 80 bytes, u32 count, 50 bytes a triangle: normal, three corners (f32), u16.
      const count = view.getUint32(80, true);
      expect(bytes.byteLength).toBe(84 + 50 * count);
      let six = 0;
      const corners: number[] = [];
      for (let t = 0; t < count; t++) {
        const f = (k: number) => view.getFloat32(84 + 50 * t + 4 * k, true);
        const [a, b, c] = [3, 6, 9].map((k): Vec => [f(k), f(k + 1), f(k + 2)]) as [Vec, Vec, Vec];
        corners.push(...a, ...b, ...c);
        six +=
          a[0] * (b[1] * c[2] - b[2] * c[1]) +
          a[1] * (b[2] * c[0] - b[0] * c[2]) +
          a[2] * (b[0] * c[1] - b[1] * c[0]);
      }
      expect(six / 6 / volumeOf(part.mesh).mm3).toBeCloseTo(1, 4);
      expect(solid(welded(corners)).status()).toBe('NoError');
    }
    expect(files.reduce((sum, [, bytes]) => sum + bytes.byteLength, 0)).toBeLessThan(1.5e6);
  });
});

/** A screw's shank: 64 sides, so that it is round to a hundredth of a millimeter. */
const shank = (diameter: number, length: number) =>
  solid(
    meshOf(
      turned([
        [0, 0],
        [diameter / 2, 0],
        [diameter / 2, length],
        [0, length],
      ]),
    ),
  );

/** A mesh in which corners with the same numbers are one corner. */
function welded(corners: readonly number[]): Mesh {
  const places = new Map<string, number>();
  const triangles = Uint32Array.from({ length: corners.length / 3 }, (_, i) => {
    const key = corners.slice(3 * i, 3 * i + 3).join(' ');
    if (!places.has(key)) places.set(key, places.size);
    return places.get(key)!;
  });
  return {
    corners: Float64Array.from([...places.keys()].flatMap((key) => key.split(' ').map(Number))),
    triangles,
  };
}

function pairs(): [Part, Part][] {
  const on = (side: Part['side']) => sleeveParts().filter((part) => part.side === side);
  return on('cup').flatMap((cup) => on('shell').map((shell): [Part, Part] => [cup, shell]));
}

const coordinates = (mesh: Mesh, axis: number): number[] =>
  Array.from({ length: mesh.corners.length / 3 }, (_, i) => mesh.corners[3 * i + axis]!);

/** Walls measured from the middle of every larger facet straight through to the other side. */
function wallsThinnerThan(part: Part, leastMm: number): string[] {
  const found: string[] = [];
  for (let t = 0; t < triangleCount(part.mesh); t++) {
    const corners = triangleOf(part.mesh, t);
    const { normal, area } = faceOf(corners);
    if (area < 8) continue;
    const middle = [0, 1, 2].map(
      (k) => (corners[0][k]! + corners[1][k]! + corners[2][k]!) / 3,
    ) as unknown as Vec;
    const { distance, triangle } = hitOf(part.mesh, middle, [-normal[0], -normal[1], -normal[2]]);
    if (distance >= leastMm) continue;
    // Two faces that look in opposite directions, within 45°, are a wall; faces at an edge are not.
    const other = faceOf(triangleOf(part.mesh, triangle)).normal;
    const opposite = -(normal[0] * other[0] + normal[1] * other[1] + normal[2] * other[2]) > Math.SQRT1_2;
    if (opposite)
      found.push(`${part.name} at ${middle.map((v) => v.toFixed(1)).join(' ')}: ${distance.toFixed(2)} mm`);
  }
  return found;
}
