/**
 * The plan of somebody who knows everything about an invented baby except the day's chance: its own law only, or the day's
 * mean as well. No plan that learns from bottles can be better than these, except by luck.
 */
import { Random } from '../../src/base/random.ts';
import { type Distribution, GRID_ML } from '../../src/planning/intake/distribution.ts';
import type { DayKind } from '../../src/planning/intake/intake-model.ts';
import type { StrangeDay } from './strange-babies.ts';

/** Quantiles of Student's t with 5 degrees of freedom, drawn once: the tails of the invented babies' feeds. */
const TAILS = (() => {
  const random = new Random(5, 'oracle');
  const draws = Array.from({ length: 20_000 }, () => {
    const chi = Array.from({ length: 5 }, () => random.normal() ** 2).reduce((sum, one) => sum + one, 0);
    return random.normal() / Math.sqrt(chi / 5);
  });
  return draws.sort((a, b) => a - b).filter((_, i) => i % 100 === 50);
})();

/** One feed as strange-babies.ts draws it. */
function feedLaw(eachMl: number, scatter: number, refusedShare: number): Distribution {
  const at = new Map([[GRID_ML, refusedShare]]);
  for (const t of TAILS) {
    const ml = eachMl * Math.exp((scatter * t) / Math.sqrt(5 / 3) - scatter ** 2 / 2);
    const point = GRID_ML * Math.round(Math.min(330, Math.max(12, ml)) / GRID_ML);
    at.set(point, (at.get(point) ?? 0) + (1 - refusedShare) / TAILS.length);
  }
  const ml = [...at.keys()].sort((a, b) => a - b);
  return { ml, chance: ml.map((one) => at.get(one)!) };
}

const kind = (chance: number, of: Distribution, { wantedMl }: StrangeDay): DayKind => ({
  chance,
  feeds: wantedMl.map(() => of),
});

/** Seven good and bad days of a normal law, with their weights. */
const RUNS = [-1.8, -1.1, -0.55, 0, 0.55, 1.1, 1.8];
const RUN_WEIGHTS = RUNS.map((z) => Math.exp(-0.5 * z ** 2));
const ALL_RUNS = RUN_WEIGHTS.reduce((sum, one) => sum + one, 0);
/** Growth spurts of 3 days in 21, illness of 2 in 30, strikes of 3 in 60 in which six bottles of ten are refused. */
const SPECIAL = [
  { log: 0, share: (1 - 3 / 21) * (1 - 2 / 30) },
  { log: 0.25, share: 3 / 21 },
  { log: -0.5, share: 2 / 30 },
];
const REFUSED = { usual: 0.02, withStrikes: 0.02 + (3 / 60) * 0.6 };

/** The baby is known; the day is not. */
export function knownBaby(day: StrangeDay): DayKind[] {
  const all = SPECIAL.reduce((sum, { share }) => sum + share, 0);
  return SPECIAL.flatMap(({ log, share }) =>
    RUNS.map((z, i) => {
      const law = feedLaw(day.levelMl * Math.exp(0.12 * z + log), day.scatter, REFUSED.withStrikes);
      return kind((share / all) * (RUN_WEIGHTS[i]! / ALL_RUNS), law, day);
    }),
  );
}

/** The day's mean is known too, but not each feed. */
export const knownDay = (day: StrangeDay): DayKind[] => [
  kind(1, feedLaw(day.eachMl, day.scatter, REFUSED.usual), day),
];
