/** The feeds over which the estimate is judged: scenario × hardship × seed of the simulation, and captures with known truth. */

import { laidOver, type Overrides } from '../../../src/simulation/parameters.ts';
import { PLAIN, REAL_EFFECTS } from '../../../src/simulation/real-hand.ts';
import { SCENARIO_NAMES, type ScenarioName } from '../../../src/simulation/scenarios.ts';
import { HARDSHIPS, type Hardship } from '../../support/hardships.ts';
import { type BenchFeed, capturedFeeds, secondSimulatorFeeds, simulatedFeed } from '../bench-feeds.ts';
import type { GroupName } from './targets.ts';

export interface Case {
  group: GroupName;
  /** Row of the detailed table: feeds that differ by their seed alone. */
  name: string;
  /** The same feed measured by a perfect sleeve; null where there is none. */
  feed: () => BenchFeed;
  perfect: (() => BenchFeed) | null;
}

const FULL_SEEDS = [11, 12, 13, 14];
const QUICK_SEEDS = [11, 12];
/** Hard feeds are cut: a hardship shows itself in ten minutes (seven where it must be quick). */
const FULL_HARD_SEC = 600;
const QUICK_HARD_SEC = 420;
const LONGEST_SEC = 1800;

/** Each hardship is tried on these three kinds of feed only. */
const HARD_FEEDS: readonly ScenarioName[] = ['paced', 'let-down', 'tipped-up'];

const HARD_GROUPS: Partial<Record<GroupName, readonly Hardship[]>> = {
  'hard babies': ['weak sucks', 'invisible sucks', 'irregular sucks', 'dry bursts', 'chewing'],
  'wandering mouth': ['wandering mouth'],
  'restless ×4': ['restless'],
  'cloth, 0.03 N': ['resting cloth'],
  'leaning hand, 0.3 N': ['leaning hand'],
  'rolled 40°': ['rolled 40°'],
  'rolled 60°': ['rolled 60°'],
  'rolled 80°': ['rolled 80°'],
  'stuck cell, no flag': ['stuck cell'],
  'line, chip, cells, walking': [
    'walking',
    'set down',
    'drift ×7',
    'creep',
    'creep as recorded',
    'noise ×3',
    'glitches',
    'lossy line',
    'clock wraps',
    'chip resets',
    'dead cell',
  ],
  'a real hand': [
    'a real hand',
    'a real hand, accelerometer below the base',
    'a real hand, gyroscope',
    'a real hand, twice',
    ...REAL_EFFECTS,
    'hard jaw couple',
  ],
};

/** Groups without a target: fewer seeds. */
const ONCE: ReadonlySet<string> = new Set<GroupName>([
  'rolled 60°',
  'rolled 80°',
  'stuck cell, no flag',
  'line, chip, cells, walking',
  'a real hand',
]);

/** Exact calibration, no noise, no drift, no delay: what is left is what the estimator does not know of hand and baby. */
export const PERFECT_SLEEVE: Overrides = {
  calibrationErrorScale: 0,
  sensors: {
    cellNoiseScale: 0,
    zeroDriftGramsPerSqrtMin: 0,
    creepShare: 0,
    glitchChance: 0,
    cellDelayMs: 0,
    warmingGrams: 0,
    accelerometerNoiseMg: 0,
    accelerometerDelayMs: 0,
    accelerometerDriftMg: [0, 0, 0],
    gyroscopeNoiseDps: 0,
    gyroscopeDriftDpsPerSqrtMin: 0,
    gyroscopeDelayMs: 0,
  },
};

export function estimatorCases(quick: boolean): Case[] {
  const seeds = quick ? QUICK_SEEDS : FULL_SEEDS;
  const hardSec = quick ? QUICK_HARD_SEC : FULL_HARD_SEC;
  const cases: Case[] = [];
  for (const feed of capturedFeeds().feeds)
    cases.push({ group: 'captures', name: feed.name, feed: () => feed, perfect: null });
  for (const feed of secondSimulatorFeeds())
    cases.push({ group: 'second simulator', name: feed.name, feed: () => feed, perfect: null });
  for (const scenario of SCENARIO_NAMES)
    for (const seed of seeds)
      cases.push(simulated('well-behaved', scenario, scenario, seed, {}, LONGEST_SEC, !quick));
  for (const [group, hardships] of Object.entries(HARD_GROUPS))
    for (const hardship of hardships)
      for (const scenario of HARD_FEEDS)
        for (const seed of seeds.slice(0, ONCE.has(group) ? (quick ? 1 : 2) : seeds.length))
          cases.push(
            simulated(
              group as GroupName,
              `${hardship}, ${scenario}`,
              scenario,
              seed,
              group === 'a real hand' ? laidOver(PLAIN, HARDSHIPS[hardship]) : HARDSHIPS[hardship],
              hardSec,
              false,
            ),
          );
  return cases;
}

function simulated(
  group: GroupName,
  name: string,
  scenario: ScenarioName,
  seed: number,
  overrides: Overrides,
  longestSec: number,
  withPerfect: boolean,
): Case {
  const feed = () => simulatedFeed(name, scenario, seed, overrides, longestSec);
  const perfect = () => simulatedFeed(name, scenario, seed, PERFECT_SLEEVE, longestSec);
  return { group, name, feed, perfect: withPerfect ? perfect : null };
}
