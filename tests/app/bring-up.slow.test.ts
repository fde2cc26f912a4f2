/** The steps of the checklist that measure for minutes, on a simulated sleeve whose flaws are known: each is found, and a good sleeve passes. */
import { describe, expect, it } from 'vitest';
import { BRING_UP } from '../../hardware/bring-up/steps.ts';
import { broughtUp, failedOf, type Mistakes, numbersOf, oneStep, outOf } from '../support/bring-up.ts';

const ALL = BRING_UP.map(({ id }) => id);
describe('a good sleeve', () => {
  it('passes all of it, and each number is the one that it was made with', async () => {
    const { outcomes } = await broughtUp(ALL);
    expect(failedOf(outcomes)).toEqual([]);
    const of = (id: string) => numbersOf(outcomes.find((outcome) => outcome.id === id)!);
    // Cells 25 ms late, accelerometer 5 ms.
    expect(of('delay')[0]).toBeGreaterThan(18);
    expect(of('delay')[0]).toBeLessThan(22);
    for (const id of ['stops-axial', 'stops-front', 'stops-rear']) {
      // The first 25 ms of a press of two seconds still show the press before: 1.25 %.
      expect(Math.abs(of(id)[0]! - 100)).toBeLessThan(1.5);
      expect(Math.abs(of(id)[1]! - 100)).toBeLessThan(4);
    }
    expect(Math.abs(of('creep-upright')[1]! - 450)).toBeLessThan(5);
  });

  it('passes without a calibration, by the data sheets', async () => {
    expect((await oneStep('long-rest', { calibrated: false })).passed).toBe(true);
    expect((await oneStep('delay', { calibrated: false })).passed).toBe(true);
  });

  it.each([1, 2, 3])(
    'passes a warm bottle that moves the zeros by an ordinary gram (seed %i)',
    async (seed) => {
      expect((await oneStep('warmth', { seed, sensors: { warmingGrams: 1 } })).passed).toBe(true);
    },
  );
});

describe('a flaw is found and named', () => {
  it('noise ten times as large, by seconds', async () => {
    const outcome = await oneStep('long-rest', { sensors: { cellNoiseScale: 10 } });
    expect(outcome.passed).toBe(false);
    expect(outOf(outcome).filter((what) => what.startsWith('noise by seconds'))).toHaveLength(3);
    // Coloured noise of 0.9 g, forgotten in 0.1 s, averaged over 1 s: 0.9·√(0.2·0.9) = 0.38 g; white 0.5/√80 = 0.06 g.
    for (const grams of numbersOf(outcome).slice(0, 3))
      expect(Math.abs(grams! / 0.386 - 1)).toBeLessThan(0.15);
  });

  it('drift twenty times as large, by minutes and over all', async () => {
    const outcome = await oneStep('long-rest', { sensors: { zeroDriftGramsPerSqrtMin: 20 * 0.12 } });
    expect(outcome.passed).toBe(false);
    expect(outOf(outcome).filter((what) => what.startsWith('noise by minutes'))).toHaveLength(3);
    expect(outOf(outcome).some((what) => what.startsWith('drift'))).toBe(true);
  });

  it.each(['creep-upright', 'creep-level'])('creep of one per cent (%s)', async (id) => {
    const outcome = await oneStep(id, { sensors: { creepShare: 0.01 } });
    expect(outcome.passed).toBe(false);
    const creeps = numbersOf(outcome).slice(0, -1);
    expect(outOf(outcome)).toHaveLength(creeps.length);
    // After ten minutes, six time constants of 100 s, the creep is complete; its first seconds are lost while the scale settles.
    for (const percent of creeps) expect(Math.abs(percent! - 0.95)).toBeLessThan(0.3);
  });

  it('zeros that move by 2 g in 10 K', async () => {
    const outcome = await oneStep('warmth', { sensors: { warmingGrams: (2 * 17) / 10 } });
    expect(outcome.passed).toBe(false);
    // With a time constant of six minutes, 81 % of the drift comes within ten minutes.
    for (const grams of numbersOf(outcome)) expect(Math.abs(Math.abs(grams!) - 1.62)).toBeLessThan(0.6);
  });
});

describe('what cannot be measured', () => {
  it.each<[string, Mistakes, RegExp]>([
    ['warmth', { waterDegC: 25 }, /at least 10 °C \(18 °F\) warmer/],
    ['warmth', { waterDegC: Number.NaN }, /at least 10 °C/],
    ['creep-upright', { massOnAtSec: 1000 }, /No mass was put on/],
    ['creep-upright', { massOnAtSec: 2 }, /before ten seconds/],
    ['creep-level', { massOnAtSec: 120 }, /too late/],
  ])('is said: %s, %o', async (id, mistakes, text) => {
    const outcome = await oneStep(id, {}, mistakes);
    expect(outcome.passed).toBe(false);
    expect('trouble' in outcome && outcome.trouble).toMatch(text);
  });
});
