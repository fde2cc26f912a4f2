import { describe, expect, it } from 'vitest';
import { coverTiltDeg, createTeatCover, headMm, volumeUnderMl } from '../../src/sensing/loads/teat-cover.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';

/** A plain cylinder, radius 25 mm, 120 mm long, with the hole 40 mm beyond its end. */
const R = 25;
const LENGTH = 120;
const cylinder = createTeatCover(
  [
    [0, R],
    [LENGTH, R],
  ],
  160,
);
const FULL_ML = (Math.PI * R * R * LENGTH) / 1000;

describe('milk under a level plane in a cylinder, against handbook formulas', () => {
  it('lying: L·(R²·acos((R − d)/R) − (R − d)·√(2Rd − d²)) for depth d (horizontal cylindrical segment)', () => {
    for (const d of [3, 10, 25, 40, 49]) {
      const ml = (LENGTH * (R * R * Math.acos((R - d) / R) - (R - d) * Math.sqrt(2 * R * d - d * d))) / 1000;
      expect(volumeUnderMl(cylinder, 90, d - R)).toBeCloseTo(ml, 6);
    }
  });

  it('standing: π·R²·h', () => {
    for (const h of [15, 60, 105]) {
      expect(volumeUnderMl(cylinder, 0, h)).toBeCloseTo((Math.PI * R * R * h) / 1000, 0);
    }
  });

  it('tilted, the plane through a diameter of the base: the hoof 2/3·R²·h with h = R·tan(slope) (Archimedes; handbooks)', () => {
    // At tilt t the level plane through the base's middle rises along the wall by R·tan(t) per radius; it must stay within the length.
    for (const tiltDeg of [20, 45, 60, 75]) {
      const h = R * Math.tan((tiltDeg * Math.PI) / 180);
      expect(h).toBeLessThan(LENGTH);
      const hoofMl = ((2 / 3) * R * R * h) / 1000;
      expect(Math.abs(volumeUnderMl(cylinder, tiltDeg, 0) - hoofMl)).toBeLessThan(0.01 * hoofMl + 0.05);
    }
  });

  it('tilted, the plane over the whole base: π·R²·(height along the axis)', () => {
    // A plane that meets neither end: the mean height of a truncated cylinder is that on its axis.
    const tiltDeg = 45;
    const onAxisMm = 60;
    const levelMm = onAxisMm * Math.cos((tiltDeg * Math.PI) / 180);
    expect(volumeUnderMl(cylinder, tiltDeg, levelMm)).toBeCloseTo((Math.PI * R * R * onAxisMm) / 1000, 3);
  });
});

describe('the hole', () => {
  it('lying, is covered by more than half of a cylinder and not by less', () => {
    expect(headMm(cylinder, FULL_ML * 0.51, 90)!).toBeGreaterThan(0);
    expect(headMm(cylinder, FULL_ML * 0.49, 90)!).toBeLessThan(0);
    expect(coverTiltDeg(cylinder, FULL_ML / 2)!).toBeCloseTo(90, 1);
  });

  it('teat down, is covered by the depth of the milk and what the teat adds', () => {
    // Milk 20 mm deep on the end at 120; the hole lies 40 mm lower.
    expect(headMm(cylinder, (Math.PI * R * R * 20) / 1000, 180)!).toBeCloseTo(60, 0);
  });

  it('at the lowest tilt that covers it lies in the surface; steeper covers it, lower does not', () => {
    for (const milkMl of [5, 20, 60, 110, 180]) {
      const deg = coverTiltDeg(cylinder, milkMl)!;
      expect(Math.abs(headMm(cylinder, milkMl, deg)!)).toBeLessThan(0.5);
      expect(headMm(cylinder, milkMl, deg + 3)!).toBeGreaterThan(0);
      expect(headMm(cylinder, milkMl, deg - 3)!).toBeLessThan(0);
    }
  });

  it('less milk needs a steeper hold; none, no hold', () => {
    let before = 0;
    for (let milkMl = 200; milkMl > 1; milkMl -= 10) {
      const deg = coverTiltDeg(cylinder, milkMl)!;
      expect(deg).toBeGreaterThan(before);
      before = deg;
    }
    for (const milkMl of [0, 0.3, Number.NaN]) {
      expect(coverTiltDeg(cylinder, milkMl)).toBeNull();
      expect(headMm(cylinder, milkMl, 100)).toBeNull();
    }
  });

  it('agrees with the simulation, which finds the surface by scattered drops', () => {
    const feed = createSimulatedFeed({ scenario: 'paced', seed: 3 });
    const { innerProfileMm, teatTipZMm } = feed.exactCalibration.bottle;
    const cover = createTeatCover(innerProfileMm, teatTipZMm);
    const differences: number[] = [];
    for (let i = 0; i < 80 * 120; i += 1) {
      const { truth } = feed.step();
      if (i % 400 === 0 && truth.onMouth) {
        differences.push(headMm(cover, truth.milkMl, truth.tiltDeg)! - truth.headMm);
      }
    }
    expect(differences.length).toBeGreaterThan(10);
    const sorted = differences.map(Math.abs).sort((a, b) => a - b);
    // The simulated surface follows the hand late, so single moments may differ.
    expect(sorted[Math.floor(sorted.length / 2)]!).toBeLessThan(2);
  });
});
