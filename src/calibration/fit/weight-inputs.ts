/** Uncertain inputs of the weight of milk for an uncertainty budget, and the feed that budgets are stated for. */
import { LEVER_MM, USUAL_TOLERANCE } from '../walk/sleeve-design.ts';
import { type BalanceFit, loadCovariance } from './balance.ts';
import type { UncertainInput } from './uncertainty.ts';

export const normalB = (
  name: string,
  unit: string,
  estimate: number,
  standard: number,
  source: string,
): UncertainInput => ({
  name,
  unit,
  estimate,
  standard,
  type: 'B',
  distribution: 'normal',
  source,
});

/** In a level hold front and rear cell share the weight: their noise and drift add in quadrature. */
export const TWO_CELLS = Math.SQRT2;

/** For a weight along the felt force: the part of the fit, and that of creep, which no residual shows. */
export function gainInputs({ covariance, creepCovariance, ...fit }: BalanceFit): UncertainInput[] {
  const less = covariance.map((row, i) => row.map((entry, j) => entry - creepCovariance[i]![j]!));
  return [
    normalB(
      'gain along the weight',
      '1',
      1,
      gainSd({ ...fit, creepCovariance, covariance: less }),
      'least-squares fit of the load matrix',
    ),
    {
      name: 'creep of the cells',
      unit: '1',
      estimate: 0,
      standard: gainSd({ ...fit, creepCovariance, covariance: creepCovariance }),
      type: 'B',
      distribution: 'uniform',
      source: `half-width ${100 * USUAL_TOLERANCE.creepShare} % of the load on each cell (data sheets, from memory)`,
    },
  ];
}

/** Relative uncertainty of a weight along the felt force, from the covariance without the zeros. */
function gainSd(balance: BalanceFit): number {
  const one = weightVariance(balance, 400);
  const none = weightVariance(balance, 0);
  return Math.sqrt(Math.max(0, one - none)) / 400;
}

export function weightVariance(balance: BalanceFit, grams: number): number {
  const tilt = (STATED_FOR.tiltDeg * Math.PI) / 180;
  const along = [Math.sin(tilt), Math.cos(tilt), 0];
  const covariance = loadCovariance(balance, [
    grams * along[0]!,
    grams * along[1]!,
    (grams * along[0]! * 80) / LEVER_MM,
  ]);
  return along.reduce(
    (sum, a, i) => sum + along.reduce((inner, b, j) => inner + a * b * covariance[i]![j]!, 0),
    0,
  );
}

/** The feed that the budgets are stated for. */
export const STATED_FOR = {
  milkGrams: 100,
  intakeMl: 90,
  feedMin: 15,
  flowMlPerMin: 8,
  tiltDeg: 100,
  flowSec: 10,
} as const;
