/** Two-sided 95 % quantiles of Student's t, by integrating its density; tests compare them with printed tables. Pure. */
import { gammaln } from 'simple-statistics';

const PANELS = 200;
const HALVINGS = 50;
/** Of one degree of freedom it is 12.7; fewer do not occur. */
const LARGEST = 13;

const known = new Map<number, number>();

/** @param degrees of freedom, 1 and more, whole or not */
export function studentT95(degrees: number): number {
  let t = known.get(degrees);
  if (t === undefined) {
    t = quantile(degrees);
    known.set(degrees, t);
  }
  return t;
}

function quantile(degrees: number): number {
  let low = 0;
  let high = LARGEST;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, degrees) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Share of the distribution within ± t. Over the angle whose tangent is t / √degrees the density is a power of the cosine,
 * which is smooth (Simpson's rule).
 */
function shareWithin(t: number, degrees: number): number {
  const scale = Math.exp(gammaln((degrees + 1) / 2) - gammaln(degrees / 2)) / Math.sqrt(Math.PI);
  const step = Math.atan(t / Math.sqrt(degrees)) / PANELS;
  let sum = 0;
  for (let i = 0; i <= PANELS; i++) {
    const weight = i === 0 || i === PANELS ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.cos(i * step) ** (degrees - 1);
  }
  return (2 * scale * sum * step) / 3;
}
