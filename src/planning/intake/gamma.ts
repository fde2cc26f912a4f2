/** The gamma distribution with mean 1: density and cumulative distribution. Pure. */

/** Logarithm of Γ(x), x > 0. Lanczos with g = 7 (coefficients from memory; tested against factorials and Γ(½) = √π). */
export function logGamma(x: number): number {
  let sum = LANCZOS[0]!;
  for (let i = 1; i < LANCZOS.length; i++) sum += LANCZOS[i]! / (x - 1 + i);
  const t = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** P(a, x): share of a gamma variable of shape a and scale 1 that lies below x; by series, or by continued fraction for large x. */
export function gammaShareBelow(a: number, x: number): number {
  if (x <= 0) return 0;
  const head = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 1000 && term > 1e-15 * sum; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return Math.min(1, head * sum);
  }
  // Lentz's method for the continued fraction of 1 − P.
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 1000; n++) {
    const an = -n * (n - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-14) break;
  }
  return Math.max(0, 1 - head * h);
}

/** Gamma with mean 1 and a given scatter (standard deviation ÷ mean), tabulated by the logarithm of amount ÷ mean. */
export interface UnitGamma {
  scatter: number;
  /** Density with respect to the logarithm of the amount. */
  density(logRatio: number): number;
  /** Share below. */
  below(logRatio: number): number;
}

const STEP = 0.02;
const HALF = 5;

export function unitGamma(scatter: number): UnitGamma {
  const shape = 1 / scatter ** 2;
  const head = shape * Math.log(shape) - logGamma(shape);
  const count = Math.round((2 * HALF) / STEP) + 1;
  const shares = Float64Array.from({ length: count }, (_, i) =>
    gammaShareBelow(shape, shape * Math.exp(i * STEP - HALF)),
  );
  return {
    scatter,
    density: (u) => Math.exp(head + shape * (u - Math.exp(u))),
    below(u) {
      const at = (u + HALF) / STEP;
      if (at <= 0) return 0;
      const i = Math.floor(at);
      if (i >= count - 1) return 1;
      return shares[i]! + (at - i) * (shares[i + 1]! - shares[i]!);
    },
  };
}
