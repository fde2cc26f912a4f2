import { describe, expect, it } from 'vitest';
import { budgetOf, monteCarlo, type UncertainInput } from '../../src/calibration/fit/uncertainty.ts';
import { repeatedReadings, resultCorrelation } from '../support/gum-readings.ts';
import { seededRandom } from '../support/random.ts';

/**
 * Worked examples of JCGM 100:2008 (GUM), annex H. Inputs and results are from memory; that the printed results follow from them
 * confirms both.
 */
const input = (
  name: string,
  estimate: number,
  standard: number,
  degreesOfFreedom?: number,
): UncertainInput => ({
  name,
  unit: '',
  estimate,
  standard,
  type: 'B',
  distribution: 'normal',
  ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }),
});

describe('GUM H.1: end-gauge calibration', () => {
  const length = ([
    standard,
    difference,
    alphaDifference,
    temperature,
    alpha,
    temperatureDifference,
  ]: readonly number[]): number =>
    standard! + difference! - standard! * (alphaDifference! * temperature! + alpha! * temperatureDifference!);
  const inputs = [
    input('l_S, nm', 50_000_623, 25, 18),
    input('d, nm', 215, 9.7, 25.6),
    input('δα, /°C', 0, 0.58e-6, 50),
    input('θ, °C', -0.1, 0.41),
    input('α_S, /°C', 11.5e-6, 1.2e-6),
    input('δθ, °C', 0, 0.029, 2),
  ];

  it('gives the printed length, components and combined uncertainty', () => {
    const budget = budgetOf(length, inputs);
    expect(Math.round(budget.estimate)).toBe(50_000_838);
    expect(budget.lines.map(({ contribution }) => Number(contribution.toFixed(1)))).toEqual([
      25, 9.7, 2.9, 0, 0, 16.7,
    ]);
    expect(Math.round(budget.combined)).toBe(32);
    // Printed: 16 (cut off from 16.7).
    expect(Math.floor(budget.effectiveDegreesOfFreedom)).toBe(16);
  });

  it('gives the printed 34 nm by Monte Carlo, where the products of second order come in', () => {
    const drawn = monteCarlo(length, inputs, seededRandom(1), { draws: 60_000 });
    expect(Math.round(drawn.standard)).toBe(34);
    expect(drawn.mean).toBeCloseTo(50_000_838, -1);
  });
});

describe('GUM H.2: simultaneous resistance and reactance', () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
  const milliamperes = [19.663, 19.639, 19.64, 19.685, 19.678];
  const phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
  const { means, standard, correlation } = repeatedReadings([volts, milliamperes, phase]);
  const inputs = means.map((mean, i) => input('VIφ'[i]!, mean, standard[i]!));
  const resistance = ([v, i, f]: readonly number[]): number => (v! / (i! / 1000)) * Math.cos(f!);
  const reactance = ([v, i, f]: readonly number[]): number => (v! / (i! / 1000)) * Math.sin(f!);
  const impedance = ([v, i]: readonly number[]): number => v! / (i! / 1000);

  it('gives the printed means, their uncertainties and correlations', () => {
    expect(means.map((mean, i) => mean.toFixed([4, 4, 5][i]))).toEqual(['4.9990', '19.6610', '1.04446']);
    expect(standard.map((sd, i) => sd.toFixed([4, 4, 5][i]))).toEqual(['0.0032', '0.0095', '0.00075']);
    expect([correlation[0]![1]!, correlation[0]![2]!, correlation[1]![2]!].map((r) => r.toFixed(2))).toEqual([
      '-0.36',
      '0.86',
      '-0.65',
    ]);
  });

  it('gives the printed R, X and Z', () => {
    const budgets = [resistance, reactance, impedance].map((model) =>
      budgetOf(model, inputs, { correlation }),
    );
    expect(budgets.map(({ estimate }) => estimate.toFixed(3))).toEqual(['127.732', '219.847', '254.260']);
    const [r, x, z] = budgets.map(({ combined }) => combined) as [number, number, number];
    expect([r, z].map((u) => u.toFixed(3))).toEqual(['0.071', '0.236']);
    // Printed 0.295; the printed readings give 0.2956, so one unit in the last digit is allowed.
    expect(Math.abs(x - 0.295)).toBeLessThan(0.001);
  });

  it('agrees with the second approach of H.2.4: X of each of the five sets, then their scatter', () => {
    const sets = volts.map((v, k) => reactance([v, milliamperes[k]!, phase[k]!]));
    const scatter = repeatedReadings([sets]);
    const budget = budgetOf(reactance, inputs, { correlation });
    expect(scatter.means[0]).toBeCloseTo(budget.estimate, 3);
    expect(scatter.standard[0]).toBeCloseTo(budget.combined, 3);
  });

  it('gives the printed correlations of R, X and Z', () => {
    const r = resultCorrelation([resistance, reactance, impedance], inputs, correlation);
    expect([r[0]![1]!, r[0]![2]!, r[1]![2]!].map((entry) => entry.toFixed(3))).toEqual([
      '-0.588',
      '-0.485',
      '0.993',
    ]);
  });
});

describe('Monte Carlo', () => {
  it('finds the trapezoid of two uniform inputs (JCGM 101, 9.2: additive model)', () => {
    const uniform = (standard: number): UncertainInput => ({
      ...input('x', 0, standard),
      distribution: 'uniform',
    });
    const drawn = monteCarlo(([a, b]) => a! + b!, [uniform(1), uniform(1)], seededRandom(3), {
      draws: 40_000,
      coverage: 0.95,
    });
    expect(drawn.standard).toBeCloseTo(Math.SQRT2, 1);
    // Triangle of half-width 2√3: the 95 % interval ends at 2√3·(1 − √0.05).
    expect(drawn.high).toBeCloseTo(2 * Math.sqrt(3) * (1 - Math.sqrt(0.05)), 1);
    expect(drawn.low).toBeCloseTo(-drawn.high, 1);
  });
});
