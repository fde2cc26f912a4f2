import { describe, expect, it } from 'vitest';
import * as beams from '../../hardware/budgets/beams.ts';

// Worked by hand from the formulas of Young & Budynas, "Roark's Formulas for Stress and Strain" (from memory), and for
// the first against the book-independent integral of the bending line below.
describe('beams', () => {
  it('bends a cantilever by F·L³/(3·E·I)', () => {
    // 100 mm of 10 × 2 mm steel strip, 1 N: I = 10·8/12 = 6.667 mm⁴, δ = 10⁶/(3·200 000·6.667) = 0.25 mm.
    const inertia = beams.rectangleInertiaMm4(10, 2);
    expect(inertia).toBeCloseTo(6.6667, 4);
    expect(beams.cantileverDeflectionMm(1, 100, 200_000, inertia)).toBeCloseTo(0.25, 9);
  });

  it('agrees with integrating the bending line M/(E·I) twice', () => {
    const [force, length, modulus, inertia, steps] = [2, 40, 70_000, 3, 20_000];
    let [slope, deflection, dx] = [0, 0, length / steps];
    let [guidedSlope, guided] = [0, 0];
    for (let i = 0; i < steps; i++) {
      const x = (i + 0.5) * dx;
      slope += ((force * (length - x)) / (modulus * inertia)) * dx;
      deflection += slope * dx;
      // Guided end: the moment changes sign in the middle, so that the end does not turn.
      guidedSlope += ((force * (length / 2 - x)) / (modulus * inertia)) * dx;
      guided += guidedSlope * dx;
    }
    expect(beams.cantileverDeflectionMm(force, length, modulus, inertia)).toBeCloseTo(deflection, 4);
    expect(guidedSlope).toBeCloseTo(0, 9);
    expect(beams.guidedDeflectionMm(force, length, modulus, inertia)).toBeCloseTo(guided, 4);
  });

  it('is four times as stiff when the end is guided', () => {
    const args = [1, 50, 200_000, beams.roundInertiaMm4(0.5)] as const;
    expect(beams.cantileverDeflectionMm(...args) / beams.guidedDeflectionMm(...args)).toBeCloseTo(4, 12);
    expect(beams.guidedStiffnessNPerMm(50, 200_000, beams.roundInertiaMm4(0.5))).toBeCloseTo(
      1 / beams.guidedDeflectionMm(...args),
      12,
    );
  });

  it('knows a wire', () => {
    // Ø 0.5 mm: I = π·0.0625/64 = 3.068·10⁻³ mm⁴, A = 0.19635 mm²; 30 mm long: E·A/L = 1309 N/mm, Euler 26.9 N.
    expect(beams.roundInertiaMm4(0.5)).toBeCloseTo(3.068e-3, 6);
    expect(beams.roundAreaMm2(0.5)).toBeCloseTo(0.19635, 5);
    expect(beams.axialStiffnessNPerMm(30, 200_000, 0.19635)).toBeCloseTo(1309, 0);
    expect(beams.fixedColumnLoadN(30, 200_000, 3.068e-3)).toBeCloseTo(26.9, 1);
  });

  it('is a pendulum with 6/5 for a wire under load', () => {
    expect(beams.geometricStiffnessNPerMm(3, 30)).toBeCloseTo(0.12, 12);
  });

  it('bends a pin: M/(π·d³/32)', () => {
    // 100 N on a 6 mm arm, Ø 3 mm: 600 N·mm / 2.651 mm³ = 226 MPa.
    expect(beams.pinBendingStressMPa(100, 6, 3)).toBeCloseTo(226.4, 1);
  });
});
