/**
 * Bending and buckling of straight beams. Units: N, mm, MPa (N/mm²).
 * Formulas as tabulated in Young & Budynas, "Roark's Formulas for Stress and Strain", tables of straight beams and of
 * elastic stability, and in any handbook of mechanics of materials; written from memory.
 */

/** Second moment of area of a round wire, mm⁴: π·d⁴/64. */
export const roundInertiaMm4 = (diameterMm: number): number => (Math.PI * diameterMm ** 4) / 64;
/** Of a rectangle bent over its height: b·h³/12. */
export const rectangleInertiaMm4 = (widthMm: number, heightMm: number): number =>
  (widthMm * heightMm ** 3) / 12;
export const roundAreaMm2 = (diameterMm: number): number => (Math.PI * diameterMm ** 2) / 4;

/** Deflection of a cantilever under a force at its end, mm: δ = F·L³ / (3·E·I). */
export const cantileverDeflectionMm = (
  forceN: number,
  lengthMm: number,
  modulusMPa: number,
  inertiaMm4: number,
): number => (forceN * lengthMm ** 3) / (3 * modulusMPa * inertiaMm4);

/** Deflection of a beam fixed at one end and guided (moved sideways without turning) at the other, mm: δ = F·L³ / (12·E·I). */
export const guidedDeflectionMm = (
  forceN: number,
  lengthMm: number,
  modulusMPa: number,
  inertiaMm4: number,
): number => (forceN * lengthMm ** 3) / (12 * modulusMPa * inertiaMm4);

/** Sideways stiffness of a fixed–guided beam, N/mm. */
export const guidedStiffnessNPerMm = (lengthMm: number, modulusMPa: number, inertiaMm4: number): number =>
  1 / guidedDeflectionMm(1, lengthMm, modulusMPa, inertiaMm4);

/** Stiffness along the beam, N/mm: E·A/L. */
export const axialStiffnessNPerMm = (lengthMm: number, modulusMPa: number, areaMm2: number): number =>
  (modulusMPa * areaMm2) / lengthMm;

/** Euler's load of a column with both ends fixed, N: 4·π²·E·I / L². */
export const fixedColumnLoadN = (lengthMm: number, modulusMPa: number, inertiaMm4: number): number =>
  (4 * Math.PI ** 2 * modulusMPa * inertiaMm4) / lengthMm ** 2;

/**
 * What a force along a fixed–guided beam adds to its sideways stiffness, N/mm (tension > 0): 6·P / (5·L), first order
 * (the geometric stiffness of the beam element; e.g. Przemieniecki, "Theory of Matrix Structural Analysis"; from memory).
 */
export const geometricStiffnessNPerMm = (tensionN: number, lengthMm: number): number =>
  (6 * tensionN) / (5 * lengthMm);

/** Largest bending stress of a round pin held at both ends of `spanMm` with a force in the middle of a clear span, MPa. */
export const pinBendingStressMPa = (forceN: number, armMm: number, diameterMm: number): number =>
  (forceN * armMm) / ((Math.PI * diameterMm ** 3) / 32);

/**
 * Rate of a helical spring of round wire, N/mm: G·d⁴ / (8·D³·n), D the middle of the coil, n its active turns
 * (Shigley's Mechanical Engineering Design, "Mechanical springs"; from memory).
 */
export const coilRateNPerMm = (
  wireMm: number,
  coilMm: number,
  turns: number,
  shearModulusMPa: number,
): number => (shearModulusMPa * wireMm ** 4) / (8 * coilMm ** 3 * turns);

/** Greatest shear stress in it, MPa: Bergsträsser's factor (4·C + 2)/(4·C − 3), C = D/d, times 8·F·D/(π·d³) (same source). */
export function coilStressMPa(forceN: number, wireMm: number, coilMm: number): number {
  const index = coilMm / wireMm;
  return (((4 * index + 2) / (4 * index - 3)) * 8 * forceN * coilMm) / (Math.PI * wireMm ** 3);
}

/** Force in a screw tightened with a torque, N: T / (K·d), K = 0.2 for dry threads (same book, "Screws"; from memory). */
export const screwForceN = (torqueNmm: number, diameterMm: number): number => torqueNmm / (0.2 * diameterMm);

/** How much a thin ring of radius R closes under two opposite forces, mm: (π/4 − 2/π)·P·R³/(E·I) = 0.149·P·R³/(E·I) (Timoshenko, Strength of Materials; from memory). */
export const ringClosesMm = (
  forceN: number,
  radiusMm: number,
  modulusMPa: number,
  inertiaMm4: number,
): number => ((Math.PI / 4 - 2 / Math.PI) * forceN * radiusMm ** 3) / (modulusMPa * inertiaMm4);
