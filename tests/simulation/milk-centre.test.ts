import { describe, expect, it } from 'vitest';
import { DEFAULT_BOTTLE, type ProfilePoint } from '../../src/simulation/bottle.ts';
import { MilkCentre, noMilkPlace } from '../../src/simulation/milk-centre.ts';

const RADIUS_MM = 28;
const LENGTH_MM = 100;
const CYLINDER: readonly ProfilePoint[] = [
  [10, RADIUS_MM],
  [10 + LENGTH_MM, RADIUS_MM],
];
const cylinder = new MilkCentre(CYLINDER);
const place = noMilkPlace();
const rad = (deg: number): number => (deg * Math.PI) / 180;

/** Circular segment of height h (handbook): area R²·acos((R−h)/R) − (R−h)·√(2Rh−h²). */
function segmentAreaMm2(heightMm: number): number {
  const rest = RADIUS_MM - heightMm;
  const root = Math.sqrt(2 * RADIUS_MM * heightMm - heightMm ** 2);
  return RADIUS_MM ** 2 * Math.acos(rest / RADIUS_MM) - rest * root;
}

/** Centroid of the same segment from the circle's centre (handbook): chord³ / (12 · area). */
function segmentCentroidMm(heightMm: number): number {
  const chord = 2 * Math.sqrt(2 * RADIUS_MM * heightMm - heightMm ** 2);
  return chord ** 3 / (12 * segmentAreaMm2(heightMm));
}

describe("the milk's centre", () => {
  it.each([6, 14, 28, 40, 52])(
    'lies in a level cylinder filled to %d mm as the circular segment says',
    (h) => {
      const volumeMl = (segmentAreaMm2(h) * LENGTH_MM) / 1000;
      cylinder.locate(volumeMl, rad(90), place);
      expect(place.lateralMm).toBeCloseTo(-segmentCentroidMm(h), 1);
      // 2 mL·mm: a moment of 0.02 g at 100 mm.
      expect(Math.abs(place.zMm - (10 + LENGTH_MM / 2)) * volumeMl).toBeLessThan(2);
      expect(Math.abs(place.surfaceMm - (h - RADIUS_MM))).toBeLessThan(0.1);
    },
  );

  it.each([20, 90, 200])('lies half-way up in an upright cylinder with %d mL', (volumeMl) => {
    const depthMm = (volumeMl * 1000) / (Math.PI * RADIUS_MM ** 2);
    cylinder.locate(volumeMl, 0, place);
    expect(Math.abs(place.lateralMm)).toBeLessThan(0.05);
    expect(Math.abs(place.zMm - (10 + depthMm / 2))).toBeLessThan(0.05);
    expect(Math.abs(place.surfaceMm - (10 + depthMm))).toBeLessThan(0.1);
  });

  it.each([15, 30, 45])('shifts at %d° as in an obliquely cut cylinder', (tiltDeg) => {
    // Right cylinder cut by an oblique plane that meets only its wall (handbook): with mean depth d and slope t,
    // lateral −R²t/(4d), axial d/2 + R²t²/(8d).
    const depthMm = 50;
    const slope = Math.tan(rad(tiltDeg));
    cylinder.locate((Math.PI * RADIUS_MM ** 2 * depthMm) / 1000, rad(tiltDeg), place);
    expect(Math.abs(place.lateralMm + (RADIUS_MM ** 2 * slope) / (4 * depthMm))).toBeLessThan(0.05);
    const axialMm = 10 + depthMm / 2 + (RADIUS_MM ** 2 * slope ** 2) / (8 * depthMm);
    expect(Math.abs(place.zMm - axialMm)).toBeLessThan(0.05);
  });

  it('is the same teat up and teat down, mirrored', () => {
    const upright = { ...cylinder.locate(60, rad(50), place) };
    cylinder.locate(60, rad(130), place);
    expect(Math.abs(place.zMm - (2 * 60 - upright.zMm))).toBeLessThan(0.05);
    expect(Math.abs(place.lateralMm - upright.lateralMm)).toBeLessThan(0.05);
  });

  it('changes smoothly: no step of its own between neighbouring volumes and tilts', () => {
    const bottle = new MilkCentre(DEFAULT_BOTTLE.innerProfileMm);
    const momentAt = (ml: number, deg: number): number => bottle.locate(ml, rad(deg), noMilkPlace()).zMm * ml;
    // An added drop can sit no farther up than the neck and no lower than the base.
    for (let ml = 5; ml < 200; ml += 0.37) {
      const perMl = (momentAt(ml + 0.1, 95) - momentAt(ml, 95)) / 0.1;
      expect(perMl).toBeGreaterThan(9);
      expect(perMl).toBeLessThan(129);
    }
  });

  it('knows what the bottle holds: the sum of its cone frusta', () => {
    // Frustum volume π·h·(a² + a·b + b²)/3 (handbook).
    const profile = DEFAULT_BOTTLE.innerProfileMm;
    let volumeMl = 0;
    for (let i = 1; i < profile.length; i++) {
      const [z0, a] = profile[i - 1]!;
      const [z1, b] = profile[i]!;
      volumeMl += (Math.PI * (z1 - z0) * (a * a + a * b + b * b)) / 3000;
    }
    expect(Math.abs(new MilkCentre(profile).capacityMl - volumeMl)).toBeLessThan(0.05);
  });
});
