import { describe, expect, it } from 'vitest';
import { capacityMl, placeOfLiquid } from '../../src/calibration/fit/milk-in-hold.ts';
import { milkMoments, tabulateMilkCentre } from '../../src/sensing/loads/milk-centre.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';

const RADIUS = 25;
const CYLINDER: [number, number][] = [
  [0, RADIUS],
  [120, RADIUS],
];
const areaMl = (Math.PI * RADIUS * RADIUS) / 1000;

describe('a cylinder, by handbook formulas', () => {
  it('upright: centre at half the height', () => {
    const { zMm, lateralMm } = placeOfLiquid(CYLINDER, 60 * areaMl, 0);
    expect(zMm).toBeCloseTo(30, 1);
    expect(lateralMm).toBeCloseTo(0, 9);
  });

  // Obliquely cut cylinder: centre at r²·tan/(4h) to the side, at h/2 + r²·tan²/(8h) along the axis (e.g. Bronshtein & Semendyayev; from memory).
  it.each([2, 8, 15, 30])('leaning by %i°, base covered: the obliquely cut cylinder', (degrees) => {
    const height = 60;
    const tan = Math.tan((degrees * Math.PI) / 180);
    const { zMm, lateralMm } = placeOfLiquid(CYLINDER, height * areaMl, (degrees * Math.PI) / 180);
    expect(lateralMm).toBeCloseTo((-RADIUS * RADIUS * tan) / (4 * height), 1);
    expect(zMm).toBeCloseTo(height / 2 + (RADIUS * RADIUS * tan * tan) / (8 * height), 1);
  });

  it('level and half full: the half disk, 4r/(3π) below the axis', () => {
    const { zMm, lateralMm } = placeOfLiquid(CYLINDER, 60 * areaMl, Math.PI / 2);
    expect(lateralMm).toBeCloseTo((-4 * RADIUS) / (3 * Math.PI), 3);
    expect(zMm).toBeCloseTo(60, 6);
  });

  it('upside down mirrors upright', () => {
    expect(placeOfLiquid(CYLINDER, 40 * areaMl, Math.PI).zMm).toBeCloseTo(100, 1);
  });
});

it('holds what frustums hold', () => {
  // Cone: πr²h/3.
  expect(
    capacityMl([
      [0, 0],
      [90, 30],
    ]),
  ).toBeCloseTo((Math.PI * 900 * 90) / 3000, 9);
});

it('agrees with the tables that the estimator uses', () => {
  const profile = DEFAULT_BOTTLE.innerProfileMm;
  const table = tabulateMilkCentre(profile);
  const moments = { zMlM: 0, xMlM: 0 };
  for (const volume of [40, 120, 250]) {
    for (const degrees of [10, 30, 60, 90, 120, 150]) {
      const tilt = (degrees * Math.PI) / 180;
      milkMoments(table, volume, tilt, moments);
      const place = placeOfLiquid(profile, volume, tilt);
      expect(Math.abs(place.zMm - (moments.zMlM / volume) * 1000)).toBeLessThan(0.03);
      expect(Math.abs(place.lateralMm - (moments.xMlM / volume) * 1000)).toBeLessThan(0.03);
    }
  }
});

it('takes a filling beyond the brim as full', () => {
  const full = placeOfLiquid(CYLINDER, 1000, Math.PI / 3);
  expect(full.zMm).toBeCloseTo(60, 6);
  expect(full.lateralMm).toBeCloseTo(0, 6);
});
