/** Errors of the readings of a calibration, before any fit: noise, drift of the zeros, creep. */

import {
  drawnCountsPerGram,
  drawnResponse,
  type FixtureTolerance,
  LEVER_MM,
  MARKS,
  POSES,
  type SleeveDesign,
  sdOfHalfWidth,
} from '../walk/sleeve-design.ts';
import type { BalanceObservation } from './balance.ts';
import { type Rows, zeros } from './linear-algebra.ts';

/** Approximate load of each cell in each hold, drawn grams; by cell. */
export function cellBurdens(observations: readonly BalanceObservation[], design: SleeveDesign): Rows {
  const loads = observations.map(({ pose, placed }) => {
    const [fx, , fz] = POSES[pose].f;
    const { xMm, zMm } = placed ? MARKS[placed.mark] : { xMm: 0, zMm: 0 };
    const grams = placed?.massGrams ?? 0;
    const cup = design.cupMassGrams;
    const moment = cup * design.cupCentreZMm * fx + grams * (zMm * fx - xMm * fz);
    return [(cup + grams) * fx, (cup + grams) * fz, moment / LEVER_MM];
  });
  return drawnResponse(design).map((row) =>
    loads.map((load) => row.reduce((sum, entry, i) => sum + entry * load[i]!, 0)),
  );
}

/**
 * Creep, a type B part: it is not known how far a cell has crept in a feed; the response may be wrong by that share of the load.
 * It is the same in all holds, so no residual shows it.
 * @returns covariance of zeros (3), response (9) and turn (3)
 */
export function creepCovariance(response: Rows, { creepShare }: FixtureTolerance): Rows {
  const variance = sdOfHalfWidth(creepShare) ** 2;
  const whole = zeros(15, 15);
  response.forEach((row, cell) => {
    const at = 3 + 3 * cell;
    row.forEach((one, i) => {
      row.forEach((other, j) => {
        whole[at + i]![at + j] = variance * one * other;
      });
    });
  });
  return whole;
}

/**
 * Noise of each hold, drift of the zero between it and the end of the walk (the zero wanted is that of the end), and the differences of
 * creep between holds.
 */
export function readingCovariance(
  observations: readonly BalanceObservation[],
  tolerance: FixtureTolerance,
  burden: readonly number[],
  design: SleeveDesign,
): Rows {
  const times = observations.map(({ hold }) => hold.atSec);
  const endSec = Math.max(...times);
  const walk = tolerance.driftGramsPerSqrtMin ** 2 / 60;
  const noise = tolerance.holdNoiseGrams ** 2 + pooledNoise(observations, design) ** 2;
  // A sleeve turned over changes a cell's load by twice its value: creep differs by up to its whole share of the load.
  const differing = sdOfHalfWidth(tolerance.creepShare);
  const covariance = zeros(times.length, times.length);
  for (let i = 0; i < times.length; i++) {
    for (let j = 0; j < times.length; j++) {
      covariance[i]![j] =
        walk * (endSec - Math.max(times[i]!, times[j]!)) +
        (i === j ? noise + (differing * burden[i]!) ** 2 : 0);
    }
  }
  return covariance;
}

/** Type A: one noise for all holds and cells, g, since the six batches of a single hold give a poor estimate. */
export function pooledNoise(
  observations: readonly Pick<BalanceObservation, 'hold'>[],
  design: SleeveDesign,
): number {
  const countsPerGram = drawnCountsPerGram(design);
  const variances = observations.flatMap(({ hold }) =>
    hold.cellMeanSd.map((sd, i) => (sd / countsPerGram[i]!) ** 2).filter(Number.isFinite),
  );
  return Math.sqrt(variances.reduce((sum, variance) => sum + variance, 0) / Math.max(1, variances.length));
}
