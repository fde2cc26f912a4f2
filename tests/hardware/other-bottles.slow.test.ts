import Module, { type Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { BOTTLE, BOTTLE_RANGE, type Bottle, checkBottle } from '../../hardware/bottle.ts';
import type { Part } from '../../hardware/shape/assembly.ts';
import type { Mesh } from '../../hardware/shape/mesh.ts';

let solid: (mesh: Mesh) => Manifold;

beforeAll(async () => {
  const manifold = await Module();
  manifold.setup();
  solid = ({ corners, triangles }) =>
    new manifold.Manifold(
      new manifold.Mesh({ numProp: 3, vertProperties: Float32Array.from(corners), triVerts: triangles }),
    );
});

/** The sleeve's parts for another bottle: the shape's modules loaded anew over it. */
async function partsFor(bottle: Bottle): Promise<{ parts: readonly Part[]; leastGapMm: number }> {
  vi.resetModules();
  vi.doMock('../../hardware/bottle.ts', () => ({ BOTTLE: bottle, BOTTLE_RANGE, checkBottle }));
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
        const across = a.side !== b.side && ![a, b].some(({ name }) => /stop pin|clamps/.test(name));
        if (across && one.minGap(other, 2) < leastGapMm) touching.push(`${a.name} near ${b.name}`);
      });
    });
    expect(touching).toEqual([]);
  });

  it('says which bottle it cannot be made for', () => {
    expect(() => checkBottle(BOTTLE)).not.toThrow();
    expect(() => checkBottle({ ...BOTTLE, diameterMm: 50 })).toThrow('50 mm wide');
    expect(() => checkBottle({ ...BOTTLE, diameterMm: Number.NaN })).toThrow('wide');
    expect(() => checkBottle({ ...BOTTLE, bodyHeightMm: 90 })).toThrow('90 mm high');
  });
});
