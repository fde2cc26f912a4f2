/** Whether the refined flow's stated deviation is true: held against simulated feeds whose flow is known. */
import { expect, it } from 'vitest';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { feedSpan, truthAt } from '../support/judge.ts';
import { sensedFeed } from '../support/sensed-feed.ts';

const FEEDS: [ScenarioName, number][] = [
  ['paced', 311],
  ['let-down', 312],
  ['tipped-up', 313],
  ['drowsy', 314],
];

it('holds the truth within two deviations about as often as it should', () => {
  const ratios = FEEDS.flatMap(([scenario, seed]) => {
    const { refined, truth } = sensedFeed({ scenario, seed, longestSec: 120 });
    expect(refined.flowSdMlPerMin).toHaveLength(refined.atSec.length);
    const { firstSec, lastSec } = feedSpan(truth);
    return refined.atSec.flatMap((at, i) => {
      const flow = refined.flowMlPerMin[i]!;
      const sd = refined.flowSdMlPerMin![i]!;
      // Flow and deviation are both given or both missing.
      expect(flow === null).toBe(sd === null);
      const isJudged = flow !== null && at > firstSec && at < lastSec - 5;
      return isJudged ? [(flow - truthAt(truth, truth.flow10CentredMlPerMin, at)) / sd!] : [];
    });
  });
  const within = (deviations: number) =>
    ratios.filter((ratio) => Math.abs(ratio) <= deviations).length / ratios.length;
  expect(ratios.length).toBeGreaterThan(800);
  // The sleeve contract, section 6, asks for nine of ten rows within two; a regular baby's flow is known better than stated (consistency.test.ts).
  expect(within(2)).toBeGreaterThan(0.9);
  expect(within(1)).toBeGreaterThan(0.6);
  expect(within(0.25)).toBeLessThan(0.7);
});
