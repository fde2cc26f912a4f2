/** Discrete distributions of millilitres: construction, mixture, sum, quantiles. */

/** Points rising, mL; chances of the same length adding up to 1. */
export interface Distribution {
  ml: readonly number[];
  chance: readonly number[];
}

/** Step of the grid for milk per feed, mL: what people can read off a bottle. */
export const GRID_ML = 5;
/** Chances smaller than this are left out at the far end. */
const NEGLIGIBLE = 1e-6;

/** A gamma distribution on the grid, with its mean preserved. @param scatter standard deviation ÷ mean, above 0 */
export function gammaOnGrid(meanMl: number, scatter: number, stepMl = GRID_ML): Distribution {
  const shape = 1 / scatter ** 2;
  const scale = meanMl / shape;
  const ml: number[] = [];
  const logs: number[] = [];
  const peakMl = Math.max(stepMl, (shape - 1) * scale);
  const logOf = (x: number): number => (shape - 1) * Math.log(x) - x / scale;
  for (let x = stepMl; ; x += stepMl) {
    const log = logOf(x) - logOf(peakMl);
    if (x > peakMl && log < Math.log(NEGLIGIBLE)) break;
    ml.push(x);
    logs.push(log);
  }
  const raw = logs.map(Math.exp);
  return normalised(ml, raw);
}

function normalised(ml: number[], raw: number[]): Distribution {
  const sum = raw.reduce((total, one) => total + one, 0);
  return { ml, chance: raw.map((one) => one / sum) };
}

export function mixed(parts: readonly { chance: number; of: Distribution }[]): Distribution {
  const at = new Map<number, number>();
  for (const { chance, of } of parts) {
    of.ml.forEach((ml, i) => {
      at.set(ml, (at.get(ml) ?? 0) + chance * of.chance[i]!);
    });
  }
  const ml = [...at.keys()].sort((a, b) => a - b);
  return normalised(
    ml,
    ml.map((one) => at.get(one)!),
  );
}

/** The sum of independent amounts, whose points lie on the grid. */
export function summed(parts: readonly Distribution[]): Distribution {
  let at = Float64Array.of(1);
  for (const { ml, chance } of parts) {
    const steps = ml.map((one) => Math.round(one / GRID_ML));
    const next = new Float64Array(at.length + Math.max(...steps));
    for (let sum = 0; sum < at.length; sum++) {
      const before = at[sum]!;
      if (before < NEGLIGIBLE * NEGLIGIBLE) continue;
      for (let i = 0; i < steps.length; i++) next[sum + steps[i]!]! += before * chance[i]!;
    }
    at = next;
  }
  const points = [...at.keys()].filter((sum) => at[sum]! > 0);
  return normalised(
    points.map((sum) => sum * GRID_ML),
    points.map((sum) => at[sum]!),
  );
}

export const meanMl = ({ ml, chance }: Distribution): number =>
  ml.reduce((sum, one, i) => sum + one * chance[i]!, 0);

/** @returns the least amount that is not exceeded with the chance `share`. */
export function quantileMl({ ml, chance }: Distribution, share: number): number {
  let sum = 0;
  for (let i = 0; i < ml.length; i++) {
    sum += chance[i]!;
    if (sum >= share - 1e-12) return ml[i]!;
  }
  return ml.at(-1)!;
}
