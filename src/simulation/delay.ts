/** Delay of a filtered reading. */

/**
 * Delays a series of numbers. The weights over the latest samples are a B-spline about the delay: cubic if it is a step or more (the response of a
 * converter's filter that settles within four periods is bell-shaped); linear below. Both have exactly the wanted delay at low frequencies.
 */
export class Delay {
  readonly #weights: readonly number[];
  /** Latest first. */
  readonly #past: number[][] = [];

  /** @param delaySec 0: none */
  constructor(delaySec: number, stepSec: number) {
    this.#weights = weightsByLag(delaySec / stepSec);
  }

  /** @returns the delayed row; the given one itself when there is no delay. Values before the first row are taken as equal to it. */
  step<T extends readonly number[]>(row: T): T {
    const weights = this.#weights;
    if (weights.length === 1) return row;
    const oldest = this.#past.length === weights.length ? this.#past.pop()! : new Array(row.length);
    for (let i = 0; i < row.length; i++) oldest[i] = row[i]!;
    this.#past.unshift(oldest);
    const shown = row.map(() => 0);
    for (let lag = 0; lag < weights.length; lag++) {
      const then = this.#past[Math.min(lag, this.#past.length - 1)]!;
      for (let i = 0; i < row.length; i++) shown[i]! += weights[lag]! * then[i]!;
    }
    return shown as readonly number[] as T;
  }
}

function weightsByLag(lagSteps: number): number[] {
  if (lagSteps === 0) return [1];
  const whole = Math.floor(lagSteps);
  const f = lagSteps - whole;
  const weights = new Array<number>(whole + 3).fill(0);
  if (whole < 1) return [1 - f, f];
  const g = 1 - f;
  weights[whole - 1] = g ** 3 / 6;
  weights[whole] = (3 * f ** 3 - 6 * f ** 2 + 4) / 6;
  weights[whole + 1] = (3 * g ** 3 - 6 * g ** 2 + 4) / 6;
  weights[whole + 2] = f ** 3 / 6;
  return weights;
}
