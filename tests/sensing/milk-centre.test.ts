import { describe, expect, it } from 'vitest';
import { radFromDeg } from '../../src/base/units.ts';
import {
  type InnerProfileMm,
  type MilkMoments,
  milkMoments,
  tabulateMilkCentre,
} from '../../src/sensing/loads/milk-centre.ts';

/** A plain cylinder: the shape that handbooks have formulas for. Radius and length in mm. */
const RADIUS = 30;
const LENGTH = 120;
const cylinder: InnerProfileMm = [
  [0, RADIUS],
  [LENGTH, RADIUS],
];
const table = tabulateMilkCentre(cylinder);
const moments: MilkMoments = { zMlM: 0, xMlM: 0 };

function centreMm(volumeMl: number, tiltDeg: number): { z: number; x: number } {
  milkMoments(table, volumeMl, radFromDeg(tiltDeg), moments);
  return { z: (moments.zMlM / volumeMl) * 1000, x: (moments.xMlM / volumeMl) * 1000 };
}

describe('centre of milk in a cylinder', () => {
  it('holds what a cylinder holds: π r² h', () => {
    expect(table.capacityMl).toBeCloseTo((Math.PI * RADIUS ** 2 * LENGTH) / 1000, 1);
  });

  it('lies at half the depth when upright', () => {
    const volume = 100;
    const depth = (volume * 1000) / (Math.PI * RADIUS ** 2);
    expect(centreMm(volume, 0).z).toBeCloseTo(depth / 2, 1);
    expect(centreMm(volume, 0).x).toBeCloseTo(0, 3);
  });

  it('hangs from the teat end when upside down', () => {
    const volume = 100;
    const depth = (volume * 1000) / (Math.PI * RADIUS ** 2);
    expect(centreMm(volume, 180).z).toBeCloseTo(LENGTH - depth / 2, 1);
  });

  // Centroid of a half disk: 4 r / 3π below the chord (any handbook of mechanics, from memory).
  it('lies 4r/3π under the axis when level and half full', () => {
    const half = table.capacityMl / 2;
    const { x, z } = centreMm(half, 90);
    expect(x).toBeCloseTo((-4 * RADIUS) / (3 * Math.PI), 1);
    expect(z).toBeCloseTo(LENGTH / 2, 1);
  });

  // Circular segment of depth h: area r² acos((r−h)/r) − (r−h) √(2rh−h²); centroid from the axis 2 a³ / 3 A, a half the chord
  // (any handbook of mathematics, from memory).
  it.each([6, 15, 24, 40, 52])('follows the circular segment when level and filled to %i mm', (depth) => {
    const r = RADIUS;
    const area = r * r * Math.acos((r - depth) / r) - (r - depth) * Math.sqrt(2 * r * depth - depth * depth);
    const halfChord = Math.sqrt(2 * r * depth - depth * depth);
    const fromAxis = (2 * halfChord ** 3) / (3 * area);
    expect(Math.abs(centreMm((area * LENGTH) / 1000, 90).x + fromAxis)).toBeLessThan(0.15);
  });

  // Cylinder cut by a slant plane that meets neither end: xc = −r² tan θ / 4h, zc = h/2 + r² tan² θ / 8h, h the mean depth
  // (from the integral of a plane over a disk; the "cylindrical segment" of handbooks, from memory).
  it.each([10, 25, 40, 50])('follows the slant cut at %i°', (tiltDeg) => {
    const depth = 60;
    const volume = (Math.PI * RADIUS ** 2 * depth) / 1000;
    const tan = Math.tan(radFromDeg(tiltDeg));
    const { x, z } = centreMm(volume, tiltDeg);
    expect(Math.abs(x + (RADIUS ** 2 * tan) / (4 * depth))).toBeLessThan(0.1);
    expect(Math.abs(z - depth / 2 - (RADIUS ** 2 * tan * tan) / (8 * depth))).toBeLessThan(0.1);
  });

  it('moves without jumps from 0 to 180°, for a little and for much milk', () => {
    for (const volume of [3, 20, 100, 250]) {
      let before = centreMm(volume, 0);
      for (let deg = 0.5; deg <= 180; deg += 0.5) {
        const here = centreMm(volume, deg);
        // A pool runs from end to end within some degrees of level: fast, but not at once.
        expect(volume * Math.hypot(here.x - before.x, here.z - before.z)).toBeLessThan(700);
        before = here;
      }
    }
  });
});

describe('centre of milk in a bottle with a neck', () => {
  const bottle: InnerProfileMm = [
    [10, 24],
    [14, 28.5],
    [105, 27.5],
    [128, 19],
  ];
  const withNeck = tabulateMilkCentre(bottle);

  it('agrees with a brute sum over small cubes', () => {
    const step = 1;
    for (const [tiltDeg, level] of [
      [60, 30],
      [90, -8],
      [100, -20],
      [150, -60],
    ] as const) {
      const sin = Math.sin(radFromDeg(tiltDeg));
      const cos = Math.cos(radFromDeg(tiltDeg));
      let volume = 0;
      let z = 0;
      let x = 0;
      for (let cz = 10.5; cz < 128; cz += step) {
        const piece = bottle.findIndex(([top], i) => i > 0 && cz <= top);
        const [z0, r0] = bottle[piece - 1]!;
        const [z1, r1] = bottle[piece]!;
        const r = r0 + ((cz - z0) / (z1 - z0)) * (r1 - r0);
        for (let cx = -29.5; cx < 30; cx += step) {
          for (let cy = -29.5; cy < 30; cy += step) {
            if (cx * cx + cy * cy > r * r || cx * sin + cz * cos > level) continue;
            volume += step ** 3;
            z += cz * step ** 3;
            x += cx * step ** 3;
          }
        }
      }
      milkMoments(withNeck, volume / 1000, radFromDeg(tiltDeg), moments);
      expect(Math.abs((moments.zMlM / (volume / 1000)) * 1000 - z / volume)).toBeLessThan(0.6);
      expect(Math.abs((moments.xMlM / (volume / 1000)) * 1000 - x / volume)).toBeLessThan(0.3);
    }
  });
});
