import { describe, expect, it } from 'vitest';
import { Delay } from '../../src/simulation/delay.ts';

const STEP_SEC = 0.0125;

describe('a late reading', () => {
  it.each([5, 12.5, 25, 33, 100])('shows a steady rise %d ms late, and a rest as it is', (delayMs) => {
    const delay = new Delay(delayMs / 1000, STEP_SEC);
    for (let i = 0; i < 40; i++)
      expect(delay.step([7, -2])).toEqual([expect.closeTo(7, 12), expect.closeTo(-2, 12)]);
    let shown = [0, 0];
    for (let i = 1; i <= 40; i++) shown = delay.step([7 + i * STEP_SEC, -2]);
    expect(7 + 40 * STEP_SEC - shown[0]!).toBeCloseTo(delayMs / 1000, 10);
  });

  it('of 25 ms has settled after four periods, rising all the way', () => {
    const delay = new Delay(0.025, STEP_SEC);
    delay.step([0]);
    const steps = Array.from({ length: 6 }, () => delay.step([1])[0]!);
    expect(steps[3]).toBeCloseTo(1, 12);
    expect(steps[5]).toBeCloseTo(1, 12);
    for (let i = 1; i < 4; i++) expect(steps[i]!).toBeGreaterThan(steps[i - 1]!);
  });

  it('of zero gives the reading itself', () => {
    const row = [1, 2, 3];
    expect(new Delay(0, STEP_SEC).step(row)).toBe(row);
  });
});
