import type { Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import {
  BOTTLE,
  BOTTLE_RANGE,
  type Bottle,
  checkBottle,
  checkSmallBottle,
  SMALL_BOTTLE,
  SMALL_BOTTLE_RANGE,
} from '../../hardware/bottle.ts';
import type { Part } from '../../hardware/shape/assembly.ts';
import type { Mesh } from '../../hardware/shape/mesh.ts';
import { solidMaker } from './closed-solid.ts';

let solid: (mesh: Mesh) => Manifold;

beforeAll(async () => {
  solid = await solidMaker();
});

/** Shape's modules loaded anew over another small bottle. */
async function smallCupFor(bottle: Bottle) {
  vi.resetModules();
  vi.doMock('../../hardware/bottle.ts', async (original) => ({
    ...(await original<typeof import('../../hardware/bottle.ts')>()),
    SMALL_BOTTLE: bottle,
  }));
  const { partNamed, sleeveWithSmallCup } = await import('../../hardware/shape/assembly.ts');
  vi.doUnmock('../../hardware/bottle.ts');
  return { cup: partNamed('small cup'), parts: sleeveWithSmallCup() };
}

/** The sleeve's parts for another bottle: the shape's modules loaded anew over it. */
async function partsFor(bottle: Bottle): Promise<{ parts: readonly Part[]; leastGapMm: number }> {
  vi.resetModules();
  vi.doMock('../../hardware/bottle.ts', async (original) => ({
    ...(await original<typeof import('../../hardware/bottle.ts')>()),
    BOTTLE: bottle,
  }));
  const { sleeveParts } = await import('../../hardware/shape/assembly.ts');
  const { FIT } = await import('../../hardware/design.ts');
  vi.doUnmock('../../hardware/bottle.ts');
  return { parts: sleeveParts(), leastGapMm: FIT.minClearanceMm };
}

describe('the sleeve for other bottles', () => {
  const [narrow, wide] = BOTTLE_RANGE.diameterMm;

  it.each([
    [
      'narrowest and shortest',
      { ...BOTTLE, diameterMm: narrow, bodyHeightMm: BOTTLE_RANGE.leastBodyHeightMm },
    ],
    [
      'widest, and tall',
      { ...BOTTLE, diameterMm: wide, bodyHeightMm: 125, neckZMm: 140, collarTopZMm: 156, teatTipZMm: 190 },
    ],
  ])('%s: closed, nothing overlaps, cup and shell stay apart', async (_, bottle) => {
    const { parts, leastGapMm } = await partsFor(bottle);
    const tall = parts.find((part) => part.name === 'bottle')!.mesh;
    expect(Math.max(...tall.corners)).toBeCloseTo(bottle.teatTipZMm, 6);
    // Throws where a mesh is open.
    const solids = parts.map((part) => solid(part.mesh));
    const touching: string[] = [];
    parts.forEach((a, i) => {
      parts.slice(i + 1).forEach((b, j) => {
        const meant = [a, b].some((part) => part.side === 'between' || part.name === 'bottle');
        if (meant) return;
        const [one, other] = [solids[i]!, solids[i + 1 + j]!];
        if (one.intersect(other).volume() > 0.01) touching.push(`${a.name} in ${b.name}`);
        const across = a.side !== b.side && ![a, b].some(({ name }) => /stop|clamps/.test(name));
        if (across && one.minGap(other, 2) < leastGapMm) touching.push(`${a.name} near ${b.name}`);
      });
    });
    expect(touching).toEqual([]);
  });

  const [slim, stout] = SMALL_BOTTLE_RANGE.diameterMm;
  it.each([
    [
      'slimmest and shortest',
      { ...SMALL_BOTTLE, diameterMm: slim, bodyHeightMm: SMALL_BOTTLE_RANGE.leastBodyHeightMm },
    ],
    [
      'stoutest',
      {
        ...SMALL_BOTTLE,
        diameterMm: stout,
        bodyHeightMm: 80,
        neckZMm: 92,
        collarTopZMm: 108,
        teatTipZMm: 140,
      },
    ],
  ])('the small cup, %s: one closed piece that fits the sleeve', async (_, bottle) => {
    const { cup, parts } = await smallCupFor(bottle);
    const closed = solid(cup.mesh);
    expect(closed.decompose()).toHaveLength(1);
    for (const other of parts.filter(({ name }) => name !== 'small cup' && name !== 'small bottle'))
      expect([other.name, closed.intersect(solid(other.mesh)).volume() < 0.01]).toEqual([other.name, true]);
  });

  it('says which bottle it cannot be made for', () => {
    expect(() => checkBottle(BOTTLE)).not.toThrow();
    expect(() => checkBottle({ ...BOTTLE, diameterMm: 50 })).toThrow('50 mm wide');
    expect(() => checkBottle({ ...BOTTLE, diameterMm: Number.NaN })).toThrow('wide');
    expect(() => checkBottle({ ...BOTTLE, bodyHeightMm: 90 })).toThrow('90 mm high');
    expect(() => checkSmallBottle(SMALL_BOTTLE)).not.toThrow();
    expect(() => checkSmallBottle({ ...SMALL_BOTTLE, diameterMm: 61 })).toThrow('61 mm wide');
    expect(() => checkSmallBottle({ ...SMALL_BOTTLE, bodyHeightMm: 40 })).toThrow('40 mm high');
  });
});
