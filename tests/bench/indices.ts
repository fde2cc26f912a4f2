/** Indices of nutritive sucking against the truth of simulated feeds: error, coverage of the intervals, and what was refused. */
import { replay } from '../../src/feed/replay.ts';
import { INDEX_KEYS, INDICES, type IndexKey } from '../../src/research/indices/definitions.ts';
import { type FeedIndices, type IndexValue, indicesOf, isGiven } from '../../src/research/indices/indices.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { limitErrorsSec } from '../support/burst-limits.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { trueIndices } from '../support/true-indices.ts';
import { type Cell, fixed, median, percent, printTable, rootMeanSquare } from './table.ts';

const SCENARIOS: readonly ScenarioName[] = ['paced', 'tipped-up', 'let-down', 'drowsy', 'spill', 'refill'];
const PORTION_ML = 90;
const LONGEST_SEC = 1200;

interface ScoredFeed {
  name: string;
  scenario: ScenarioName;
  /** Error of each start and end of a burst, s; share by which sucks are counted too many. */
  limitErrorsSec: number[];
  suckShare: number;
  told: FeedIndices;
  truth: Partial<Record<IndexKey, number>>;
}

function scoredFeed(scenario: ScenarioName, seed: number): ScoredFeed {
  const { bytes, calibration, truth } = simulateCapture({ scenario, seed, longestSec: LONGEST_SEC });
  const { result, refined } = replay([bytes], {
    calibration: parseCalibration(calibration, 'bench'),
    portionMl: PORTION_ML,
  });
  const doubtful = result.live.sucksUncertain.filter(Boolean).length / result.live.sucksUncertain.length;
  const told = indicesOf({ refined, portionMl: PORTION_ML, sucksUncertain: doubtful > 0.1 });
  return {
    name: `${scenario} ${seed}`,
    scenario,
    told,
    truth: trueIndices(truth, PORTION_ML),
    limitErrorsSec: limitErrorsSec(refined.suckAtSec, truth.suckTimes),
    suckShare: refined.suckAtSec.length / truth.suckTimes.length - 1,
  };
}

export function benchIndices(flags: ReadonlySet<string>): void {
  const seeds = Array.from({ length: flags.has('quick') ? 2 : 50 }, (_, i) => 7001 + i);
  const feeds = SCENARIOS.flatMap((scenario) => seeds.map((seed) => scoredFeed(scenario, seed)));
  printTable(
    `Indices, ${feeds.length} simulated feeds`,
    [
      'index',
      'given',
      'covered',
      'exact',
      'half of interval',
      'rms error',
      'mean truth',
      'given though off by > 10 %',
      'refused',
    ],
    INDEX_KEYS.map((key) => rowOf(key, feeds)),
    [
      'An interval of 95 % should cover the truth in 93 to 97 % of the feeds in which the index is given.',
      'An index that is exact in more feeds than that is covered in more, however narrow its interval is.',
      'Half of the interval: median, of those that are given. Where an index may be off by more than 10 % it should be refused.',
    ],
  );
  printTable(
    'Given though off by more than a tenth',
    ['feed', 'index', 'told', 'interval', 'truth'],
    INDEX_KEYS.flatMap((key) =>
      givenOf(key, feeds)
        .filter(isOff)
        .map(({ name, index: { value, low, high }, truth }): Cell[] => [
          name,
          key,
          fixed(value, 3),
          `${fixed(low, 3)} to ${fixed(high, 3)}`,
          fixed(truth, 3),
        ]),
    ),
  );
  printTable(
    'Sucks and bursts, by kind of feed',
    ['feeds', 'sucks within 3 %', 'mean, sucks too many', 'limits of bursts within 0.5 s', 'limits, rms s'],
    SCENARIOS.map((scenario) => burstRow(feeds.filter((one) => one.scenario === scenario))),
  );
}

function burstRow(feeds: readonly ScoredFeed[]): Cell[] {
  const near = feeds.filter(({ suckShare }) => Math.abs(suckShare) <= 0.03);
  const errors = feeds.flatMap((one) => one.limitErrorsSec);
  return [
    feeds[0]!.scenario,
    percent(near.length / feeds.length),
    percent(feeds.reduce((sum, { suckShare }) => sum + suckShare, 0) / feeds.length),
    percent(errors.filter((sec) => Math.abs(sec) <= 0.5).length / errors.length),
    fixed(rootMeanSquare(errors)),
  ];
}

interface GivenIndex {
  name: string;
  index: IndexValue;
  truth: number;
}

const givenOf = (key: IndexKey, feeds: readonly ScoredFeed[]): GivenIndex[] =>
  feeds.flatMap(({ name, told, truth }) => {
    const index = told[key];
    return isGiven(index) && truth[key] !== undefined ? [{ name, index, truth: truth[key] }] : [];
  });

const isOff = ({ index, truth }: GivenIndex): boolean =>
  Math.abs(index.value - truth) > 0.1 * Math.abs(truth);

function rowOf(key: IndexKey, feeds: readonly ScoredFeed[]): Cell[] {
  const known = feeds.filter(({ truth }) => truth[key] !== undefined);
  const given = givenOf(key, feeds);
  const covered = given.filter(({ index, truth }) => truth >= index.low - 1e-9 && truth <= index.high + 1e-9);
  const exact = given.filter(({ index, truth }) => Math.abs(index.value - truth) < 1e-9);
  return [
    `${key} (${INDICES[key].unit})`,
    `${given.length}/${known.length}`,
    given.length === 0 ? 'none' : percent(covered.length / given.length),
    given.length === 0 ? 'none' : percent(exact.length / given.length),
    fixed(median(given.map(({ index: { low, high } }) => (high - low) / 2)), 3),
    fixed(rootMeanSquare(given.map(({ index, truth }) => index.value - truth)), 3),
    fixed(given.reduce((sum, { truth }) => sum + truth, 0) / given.length, 2),
    `${given.filter(isOff).length}`,
    `${known.length - given.length}`,
  ];
}
