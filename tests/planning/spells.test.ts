/** The hidden spells: what is carried over a night, held against a walk through all that can happen. */
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { GRID, GRID_STEP, POINTS } from '../../src/planning/intake/rate-grid.ts';
import { asRate, beforeSpells, learn, overNight, type Spells } from '../../src/planning/intake/spells.ts';

const MIDDLE = (POINTS - 1) / 2;
const atCurve = (): Float64Array => Float64Array.from(GRID, (_, p) => Number(p === MIDDLE));
const still = (usual: Float64Array): Float64Array => usual;
const sumOf = (weights: Float64Array): number => weights.reduce((sum, one) => sum + one, 0);
const nights = (count: number, from: Spells): Spells =>
  Array.from({ length: count }).reduce<Spells>((spells) => overNight(spells, still), from);

describe('spells of unusual days', () => {
  it('lose nothing: weights add up to 1 after any night and any day', () => {
    const random = new Random(3, 'spells');
    let spells = beforeSpells(atCurve());
    for (let day = 0; day < 30; day++) {
      expect(
        learn(
          spells,
          Float64Array.from(GRID, () => random.uniform()),
        ),
      ).toBeGreaterThan(0);
      spells = overNight(spells, still);
      expect(spells.reduce((sum, one) => sum + sumOf(one), 0)).toBeCloseTo(1, 9);
      expect(sumOf(asRate(spells))).toBeCloseTo(1, 9);
    }
  });

  it('begin on one night in forty, and last five days in the mean', () => {
    const first = overNight(beforeSpells(atCurve()), still);
    const begun = first.slice(1).reduce((sum, one) => sum + sumOf(one), 0);
    expect(1 / begun).toBeGreaterThan(38);
    expect(1 / begun).toBeLessThan(48);
    const inSpell: Spells = first.map((one, s) =>
      s === 1 ? one.map((w) => w / sumOf(one)) : one.map(() => 0),
    );
    // Geometric: the chance that the same spell goes on is 0.8 each night, 0.8⁷ after a week.
    expect(sumOf(nights(7, inSpell)[1]!)).toBeCloseTo(0.8 ** 7, 2);
  });

  it('leave the usual rate where it was, or stay as it', () => {
    const [low] = [1].map((s) =>
      beforeSpells(atCurve()).map((_, at) => (at === s ? atCurve() : new Float64Array(POINTS))),
    );
    const after = overNight(low!, still);
    const usual = after[0]!;
    expect(usual[MIDDLE]!).toBeCloseTo(0.2 * 0.85 * 0.5, 12);
    // The first spell lies 0.24 below.
    expect(usual[MIDDLE - Math.round(0.24 / GRID_STEP)]!).toBeCloseTo(0.2 * 0.15, 12);
  });

  it('are found by what they bring: three days of half the milk are a spell, and the usual rate is kept', () => {
    const half = Float64Array.from(GRID, (z) => Math.exp(-0.5 * ((z + 0.6) / 0.15) ** 2));
    let spells = beforeSpells(Float64Array.from(GRID, (z) => Math.exp(-0.5 * (z / 0.05) ** 2) / 3.133));
    for (let day = 0; day < 3; day++) {
      spells = overNight(spells, still);
      learn(spells, half);
    }
    const inSpell = spells.slice(1).reduce((sum, one) => sum + sumOf(one), 0);
    expect(inSpell).toBeGreaterThan(0.9);
    const usualKept = spells.reduce((sum, one) => sum + sumOf(one.filter((_, p) => GRID[p]! > -0.2)), 0);
    expect(usualKept).toBeGreaterThan(0.8);
  });
});
