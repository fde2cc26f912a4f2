import { describe, expect, it } from 'vitest';
import { allanDeviation } from '../../hardware/bring-up/allan.ts';
import { evaluateStep, evaluateStops, evaluateWarmth } from '../../hardware/bring-up/check-steps.ts';
import { delayOf } from '../../hardware/bring-up/delay.ts';
import { ASSUMED, BRING_UP } from '../../hardware/bring-up/steps.ts';
import { Random } from '../../src/base/random.ts';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';

describe('Allan deviation', () => {
  it('gives the values printed beside the test numbers of NIST SP 1065 (from memory)', () => {
    // Nine frequencies and their overlapping Allan deviations at 1 and 2: section 12.4, table of the NBS14 data.
    const numbers = [892, 809, 823, 798, 671, 644, 883, 903, 677];
    expect(allanDeviation(numbers, 1)).toBeCloseTo(91.22945, 5);
    expect(allanDeviation(numbers, 2)).toBeCloseTo(85.95287, 5);
  });

  it('has none with too few averages', () => {
    expect(allanDeviation([1, 2, 3], 2)).toBeNaN();
    expect(allanDeviation([], 1)).toBeNaN();
  });
});

describe('what is assumed of a cell', () => {
  it('follows from the simulator’s own figures', () => {
    const { cellWhiteGrams, cellColouredGrams, zeroDriftGramsPerSqrtMin } = PLAIN_PARAMETERS.sensors;
    // Mean over T of noise forgotten in τ: variance σ²·(2τ/T)·(1 − τ/T·(1 − e^(−T/τ))), the usual result for an exponential correlation.
    const coloured = cellColouredGrams * Math.sqrt(0.2 * (1 - 0.1 * (1 - Math.exp(-10))));
    const bySeconds = Math.hypot(coloured, cellWhiteGrams / Math.sqrt(80));
    expect(Math.abs(ASSUMED.at1SecGrams / bySeconds - 1)).toBeLessThan(0.1);
    // Allan deviation of a random walk: K·√(τ/3) (IEEE Std 952, annex C; from memory).
    expect(ASSUMED.at60SecGrams).toBeCloseTo(zeroDriftGramsPerSqrtMin / Math.sqrt(3), 2);
    // From the middle of the first minute to the middle of the last one, each averaged over its minute: √(9 − 1/3) minutes.
    expect(ASSUMED.tenMinutesGrams).toBeCloseTo(zeroDriftGramsPerSqrtMin * Math.sqrt(9 - 1 / 3), 1);
  });
});

describe('delay', () => {
  const rocked = (delaySamples: number, hz: number) => {
    const random = new Random(3, 'delay');
    const at = (i: number) => 1 + 0.2 * Math.sin((2 * Math.PI * hz * i) / 80);
    const force = Array.from({ length: 1200 }, (_, i) => 195 * at(i - delaySamples) + 0.1 * random.normal());
    const acceleration = Array.from({ length: 1200 }, (_, i) => at(i) + 0.0014 * random.normal());
    return delayOf(force, acceleration, 80);
  };

  it.each([
    [0, 1],
    [1.6, 1],
    [1.6, 2.3],
    [7.3, 1.5],
    [-2.5, 2],
  ])('of %f samples at %f Hz is found within 1.5 ms', (samples, hz) => {
    const { delayMs, explained } = rocked(samples, hz);
    expect(Math.abs(delayMs - 12.5 * samples)).toBeLessThan(1.5);
    expect(explained).toBeGreaterThan(0.99);
  });
});

describe('the steps', () => {
  const step = (kind: string) => BRING_UP.find((each) => each.kind === kind)!;
  it('name a source or say that there is none', () => {
    for (const { limits } of BRING_UP)
      for (const { source } of limits) expect(source).toMatch(/no source|from memory|data ?sheet|budget/i);
  });

  it('refuse what they are not judged from', () => {
    expect(() => evaluateStep(step('stops'), [])).toThrow(TypeError);
    expect(() => evaluateStep(step('warmth'), [])).toThrow(TypeError);
    expect(() => evaluateStops(step('delay'), [])).toThrow(TypeError);
    expect(() => evaluateWarmth(step('delay'), [], 17)).toThrow(TypeError);
    expect(evaluateStep(step('long-rest'), [])).toMatchObject({ passed: false });
  });
});
