/** Random distributions from a seeded generator. */
import { seededRandom } from './random.ts';

export interface Draws {
  /** Uniform in [low, high). */
  uniform(low: number, high: number): number;
  /** Normal; with bounds, drawn again until within them. */
  normal(mean: number, sd: number, low?: number, high?: number): number;
  /** Beta on 0 to 1 with this mean and variance. */
  beta(mean: number, variance: number): number;
}

export function seededDraws(seed: number): Draws {
  const next = seededRandom(seed);
  const standardNormal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

  const normal = (
    mean: number,
    sd: number,
    low = Number.NEGATIVE_INFINITY,
    high = Number.POSITIVE_INFINITY,
  ): number => {
    for (let attempt = 0; attempt < 10_000; attempt += 1) {
      const drawn = mean + sd * standardNormal();
      if (drawn >= low && drawn <= high) return drawn;
    }
    throw new Error(`no draw of N(${mean}, ${sd}) within ${low} to ${high}`);
  };

  /** Marsaglia and Tsang 2000, ACM Trans Math Softw 26:363 (from memory). */
  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * (1 - next()) ** (1 / shape);
    const d = shape - 1 / 3;
    for (;;) {
      const x = standardNormal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      if (v > 0 && Math.log(1 - next()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  };

  return {
    uniform: (low, high) => low + (high - low) * next(),
    normal,
    beta: (mean, variance) => {
      const size = (mean * (1 - mean)) / variance - 1;
      const a = gamma(mean * size);
      const b = gamma((1 - mean) * size);
      return a / (a + b);
    },
  };
}
