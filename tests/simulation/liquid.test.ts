import { mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { Liquid } from '../../src/simulation/liquid.ts';
import { milkCentreOf } from '../../src/simulation/milk-centre.ts';
import type { Triple } from '../../src/simulation/vectors.ts';

const G0 = 9.80665; // CGPM 1901
const RADIUS_MM = 28;
const cylinder = milkCentreOf([
  [0, RADIUS_MM],
  [160, RADIUS_MM],
]);
const STEP_SEC = 0.0125;

/** First lateral mode of an upright cylinder: ω² = (1.841 g/R)·tanh(1.841 h/R) (Abramson, NASA SP-106, from memory). */
const publishedHz = (depthMm: number): number =>
  Math.sqrt(((1.841 * G0) / (RADIUS_MM / 1000)) * Math.tanh((1.841 * depthMm) / RADIUS_MM)) / (2 * Math.PI);

/** Rests, is pushed sideways by a hundredth of g and let go; x of the surface's normal, each step since. */
function ringing(milkMl: number, damping: number, seconds: number, liquid = upright(damping)): number[] {
  const rest: Triple = [0, 0, 1];
  for (let i = 0; i < 800; i++) liquid.step(milkMl, [0.01, 0, 1]);
  return Array.from({ length: seconds / STEP_SEC }, () => {
    liquid.step(milkMl, rest);
    return liquid.normalG[0];
  });
}

const upright = (ringDamping: number): Liquid => new Liquid({ lagSec: 0.1, ringDamping }, cylinder, STEP_SEC);

/** Times at which it passes nought upwards, s. */
function upcrossings(column: number[]): number[] {
  const at: number[] = [];
  for (let i = 1; i < column.length; i++) {
    const [before, after] = [column[i - 1]!, column[i]!];
    if (before < 0 && after >= 0) at.push((i - after / (after - before)) * STEP_SEC);
  }
  return at;
}

describe('a ringing surface of milk', () => {
  it.each([8, 15, 28, 56, 100])(
    'rings in an upright cylinder %d mm deep at the published frequency',
    (depthMm) => {
      const milkMl = (Math.PI * RADIUS_MM ** 2 * depthMm) / 1000;
      const at = upcrossings(ringing(milkMl, 0.01, 5));
      const hz = (at.length - 1) / (at.at(-1)! - at[0]!);
      expect(Math.abs(hz / publishedHz(depthMm) - 1)).toBeLessThan(0.02);
    },
  );

  it.each([0.04, 0.07, 0.1])('dies away with a damping ratio of %d', (damping) => {
    const column = ringing(100, damping, 3);
    const peaks = column.filter((x, i) => i > 0 && x > 0 && x >= column[i - 1]! && x > (column[i + 1] ?? x));
    // Logarithmic decrement of one period (handbook): 2πζ/√(1 − ζ²); sampled peaks stray by some hundredths.
    const decrement = Math.log(peaks[0]! / peaks[3]!) / 3;
    expect(Math.abs(decrement / ((2 * Math.PI * damping) / Math.sqrt(1 - damping ** 2)) - 1)).toBeLessThan(
      0.1,
    );
  });

  it('comes to rest along the felt force, its centre where still milk has it', () => {
    const liquid = new Liquid(
      { lagSec: 0.1, ringDamping: 0.07 },
      milkCentreOf(DEFAULT_BOTTLE.innerProfileMm),
      STEP_SEC,
    );
    const lagging = new Liquid(
      { lagSec: 0.1, ringDamping: 0 },
      milkCentreOf(DEFAULT_BOTTLE.innerProfileMm),
      STEP_SEC,
    );
    for (let i = 0; i < 80 * 60; i++) for (const milk of [liquid, lagging]) milk.step(80, [0.95, 0.2, -0.15]);
    for (let axis = 0; axis < 3; axis++) {
      expect(liquid.centreMm[axis]).toBeCloseTo(lagging.centreMm[axis]!, 3);
      expect(liquid.accelerationMps2[axis]).toBeCloseTo(0, 6);
    }
  });

  it.each<[string, Triple]>([
    ['upright', [0, 0, 1]],
    ['level', [1, 0, 0]],
    ['poured', [0.6, 0, -0.8]],
    ['rolled', [0.8, 0.5, -0.2]],
  ])('pushes back by its mass times the second derivative of its centre: %s', (_, rest) => {
    const liquid = new Liquid(
      { lagSec: 0.1, ringDamping: 0.05 },
      milkCentreOf(DEFAULT_BOTTLE.innerProfileMm),
      1e-3,
    );
    for (let i = 0; i < 20_000; i++) liquid.step(90, rest);
    const pushed: Triple = [rest[0] + 0.02, rest[1] + 0.01, rest[2] - 0.02];
    const centres: Triple[] = [];
    const told: Triple[] = [];
    for (let i = 0; i < 1000; i++) {
      liquid.step(90, pushed);
      centres.push([...liquid.centreMm]);
      told.push([...liquid.accelerationMps2]);
    }
    // The table of centres has kinks at each degree, so both are compared after the same smoothing: twice over 30 ms.
    const WIDE = 30;
    let square = 0;
    let off = 0;
    for (let i = WIDE; i + WIDE < centres.length; i++)
      for (let axis = 0; axis < 3; axis++) {
        const bend = centres[i - WIDE]![axis]! + centres[i + WIDE]![axis]! - 2 * centres[i]![axis]!;
        const measured = bend / (WIDE * 1e-3) ** 2 / 1000;
        let mild = 0;
        for (let k = -WIDE; k <= WIDE; k++) mild += ((WIDE - Math.abs(k)) / WIDE ** 2) * told[i + k]![axis]!;
        square += measured ** 2;
        off += (mild - measured) ** 2;
      }
    expect(Math.sqrt(off / square)).toBeLessThan(0.15);
  });

  it('rings along a lying, half-full cylinder as in a box of its mean depth', () => {
    const liquid = new Liquid({ lagSec: 0.1, ringDamping: 0.1 }, cylinder, STEP_SEC);
    for (let i = 0; i < 800; i++) liquid.step((Math.PI * RADIUS_MM ** 2 * 80) / 1000, [1, 0, 0]);
    // ω² = (π g/L)·tanh(π h/L) (handbook of water waves: standing wave of half a length); mean depth of half a circle is πR/4.
    const perM = Math.PI / 0.16;
    const depthM = (Math.PI * RADIUS_MM) / 4 / 1000;
    const boxHz = Math.sqrt(perM * G0 * Math.tanh(perM * depthM)) / (2 * Math.PI);
    expect(Math.abs(liquid.ringHz / boxHz - 1)).toBeLessThan(0.03);
  });

  it('rings in the bottle between 0.9 and 4.2 Hz in every ordinary hold', () => {
    const bottle = milkCentreOf(DEFAULT_BOTTLE.innerProfileMm);
    for (const milkMl of [15, 40, 80, 120])
      for (const tiltDeg of [0, 60, 85, 95, 110, 145]) {
        const tilt = (tiltDeg * Math.PI) / 180;
        const liquid = new Liquid({ lagSec: 0.1, ringDamping: 0.07 }, bottle, STEP_SEC);
        for (let i = 0; i < 400; i++) liquid.step(milkMl, [Math.sin(tilt), 0, Math.cos(tilt)]);
        expect(liquid.ringHz).toBeGreaterThan(0.9);
        expect(liquid.ringHz).toBeLessThan(4.2);
      }
  });

  it('does not push on the whole: over a swing its acceleration has no mean', () => {
    const liquid = upright(0.02);
    for (let i = 0; i < 800; i++) liquid.step(100, [0.02, 0, 1]);
    const along: number[] = [];
    for (let i = 0; i < 80 * 60; i++) {
      liquid.step(100, [0, 0, 1]);
      along.push(liquid.accelerationMps2[0]);
    }
    expect(Math.max(...along)).toBeGreaterThan(0.02);
    expect(Math.abs(mean(along))).toBeLessThan(0.001);
  });
});
