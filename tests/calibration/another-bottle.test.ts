/** The next bottle of a sleeve: the load matrix of the first walk, zeros and bottle anew, days later. */
import { beforeAll, describe, expect, it } from 'vitest';
import { withAnotherBottle } from '../../src/calibration/walk/another-bottle.ts';
import { type Outcome, outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { stepsOf } from '../../src/calibration/walk/walk-so-far.ts';
import { nextStep, progressOf, type WalkState } from '../../src/calibration/walk/walk-state.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { bottleLike } from '../../src/simulation/bottle-like.ts';
import type { CalibrationBench } from '../../src/simulation/calibration-bench.ts';
import { begun, benchFor, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

const DAYS = 3;
const FACTS = { finishedAt: '2026-01-08T09:00:00Z', softwareVersion: '0.0.0', uniform01: seededRandom(1) };
const GREEN = { name: 'green', way: 'two-minutes', outlineMm: null, fillToleranceGrams: 3 } as const;

let first: WalkState;
let bench: CalibrationBench;
let open: WalkState;
let green: { walk: WalkState; outcome: Outcome };

beforeAll(() => {
  first = walked(benchFor(41), begun(41)).walk;
  // The same sleeve with another bottle; its zeros have walked on.
  bench = benchFor(41, { bottle: bottleLike(DEFAULT_BOTTLE, 77) });
  bench.pass(DAYS * 86_400);
  open = { ...withAnotherBottle(first, GREEN), fillsGrams: { '60': 60, '120': 120 }, teatTipZMm: 170 };
  const { walk } = walked(bench, open);
  green = { walk, outcome: outcomeOf(walk, FACTS) };
});

describe('another bottle', () => {
  it('asks for three poses of the empty sleeve and the bottle, and nothing else', () => {
    const { done, of } = progressOf(open);
    const left = stepsOf(open).filter(({ id }) => !open.holds[id]);
    expect(left.map(({ id }) => id)).toEqual([
      'return-upright',
      'return-level',
      'return-down',
      'bottle-empty-0',
      'bottle-empty-90',
      'bottle-60-45',
      'bottle-60-120',
      'bottle-120-45',
      'bottle-120-120',
    ]);
    expect(of - done).toBe(left.length);
    expect(nextStep(open)!.id).toBe('return-upright');
  });

  it('finds the zeros of today, and the bottle', () => {
    const { calibration, bottle } = green.outcome;
    const grams = calibration.zeroCounts.map(
      (counts, i) => (counts - bench.zeroCounts[i]!) * [4e-6, 3.1e-6, 3.1e-6][i]! * 102,
    );
    // Days of walk are some 8 g.
    for (const off of grams) expect(Math.abs(off)).toBeLessThan(1);
    expect(Math.abs(bottle.emptyMassGrams - bench.bottle.emptyMassGrams)).toBeLessThan(0.6);
    expect(calibration.bottle).toMatchObject({ name: 'green', profileFrom: 'generic profile' });
  });

  it('keeps the matrix as good as it was', () => {
    const once = outcomeOf(first, FACTS);
    const { loadUncertaintyGrams: now } = green.outcome;
    expect(now.fz).toBeLessThan(1.3 * once.loadUncertaintyGrams.fz);
  });

  it('can follow on another bottle', () => {
    const blue = withAnotherBottle(green.walk, { ...GREEN, name: 'blue' });
    expect(nextStep(blue)!.id).toBe('return-upright');
    expect(blue.fillsGrams).toEqual({});
  });

  it('is refused while the sleeve itself is not calibrated', () => {
    const half = walked(benchFor(41), begun(41), (step) => step.id === 'mass-3-down').walk;
    expect(() => withAnotherBottle(half, GREEN)).toThrow(/not finished/);
  });
});
