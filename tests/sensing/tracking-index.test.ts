/**
 * The milk filter brought down to milk and a flow, beside closed forms of the steady α–β tracker. T is the step, σw the noise that drives the flow, σv that of
 * the measurement, λ = σa·T²/σv the tracking index (here σw·T/σv: a change of flow σw = σa·T in a step); α and β/T are the gains on milk and on flow.
 *
 * Kalata, "The tracking index: a generalized parameter for α–β and α–β–γ target trackers", IEEE Trans. Aerosp. Electron. Syst. AES-20 (1984) 174–182,
 * for an acceleration that is constant within a step: r = (4 + λ − √(8λ + λ²))/4, α = 1 − r², β = 2(2 − α) − 4√(1 − α). From memory.
 * Benedict & Bordner, "Synthesis of an optimal set of radar track-while-scan smoothing equations", IRE Trans. Automatic Control AC-7 (1962) 27–32,
 * for a flow that jumps between steps: β = α²/(2 − α). From memory. In both λ² = β²/(1 − α).
 * The filter as it is drives the flow between steps, so it must obey the second; with Kalata's noise laid on it from outside, the first.
 */
import { describe, expect, it } from 'vitest';
import { correctMilk } from '../../src/sensing/filter/milk-correction.ts';
import {
  createMilkFilter,
  LEAK,
  MILK,
  predictMilk,
  STATES,
  startMilkFilter,
} from '../../src/sensing/filter/milk-filter.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';

const STEP_SEC = 0.05;
const FORGETS_SEC = 1e9;

/** Gains of the settled filter, seeing the milk itself with noise `seenSd`. */
function settledGains(jumpSd: number, seenSd: number, addNoise: (c: Float64Array) => void) {
  const filter = createMilkFilter({
    ...MILK_NOISE,
    perSuckStartSdGrams: 0,
    perSuckWalkGrams: 0,
    perSuckScatter: 0,
    inMouthWalkGrams: 0,
    leakSec: FORGETS_SEC,
    // The filter lets the flow wander about zero with this spread; forgetting nothing, it jumps by `jumpSd` a step.
    leakSdGramsPerSec: jumpSd / Math.sqrt(-Math.expm1((-2 * STEP_SEC) / FORGETS_SEC)),
  });
  startMilkFilter(filter, 100);
  const at = (i: number, j: number): number => i * STATES + j;
  const { c } = filter;
  // Start near the end, so that a slow filter settles in time.
  c.fill(0);
  c[at(MILK, MILK)] = seenSd ** 2;
  c[at(LEAK, LEAK)] = Math.max(jumpSd, 1e-3) ** 2;
  const row = new Float64Array(STATES);
  row[MILK] = 1;
  let gains = { alpha: 0, beta: 0 };
  for (let k = 0; k < 40_000; k++) {
    predictMilk(filter, {
      stepSec: STEP_SEC,
      inMouth: true,
      suckUnits: 0,
      coupleSdGrams: null,
      outWalkGrams: null,
    });
    addNoise(c);
    const seen = c[at(MILK, MILK)]! + seenSd ** 2;
    gains = { alpha: c[at(MILK, MILK)]! / seen, beta: (-STEP_SEC * c[at(MILK, LEAK)]!) / seen };
    correctMilk(filter, row, 0, seenSd ** 2);
  }
  return gains;
}

const INDICES = [0.01, 0.1, 0.5, 1, 3];

describe('the milk filter as a constant-rate tracker', () => {
  it.each(INDICES)('has the gains of Kalata’s closed form at a tracking index of %d', (index) => {
    const seenSd = 0.3;
    const q = ((index * seenSd) / STEP_SEC ** 2) ** 2;
    const { alpha, beta } = settledGains(0, seenSd, (c) => {
      c[MILK * STATES + MILK]! += (q * STEP_SEC ** 4) / 4;
      c[MILK * STATES + LEAK]! -= (q * STEP_SEC ** 3) / 2;
      c[LEAK * STATES + MILK]! -= (q * STEP_SEC ** 3) / 2;
      c[LEAK * STATES + LEAK]! += q * STEP_SEC ** 2;
    });
    const r = (4 + index - Math.sqrt(8 * index + index * index)) / 4;
    const expected = 1 - r * r;
    expect(alpha).toBeCloseTo(expected, 8);
    expect(beta).toBeCloseTo(2 * (2 - expected) - 4 * Math.sqrt(1 - expected), 8);
  });

  it.each(INDICES)(
    'by its own noise has those of Benedict and Bordner at a tracking index of %d',
    (index) => {
      const seenSd = 0.3;
      const { alpha, beta } = settledGains((index * seenSd) / STEP_SEC, seenSd, () => {});
      expect(beta / (alpha ** 2 / (2 - alpha))).toBeCloseTo(1, 5);
      expect(beta ** 2 / (1 - alpha) / index ** 2).toBeCloseTo(1, 5);
    },
  );
});
