/**
 * The bound: every feed by the reference filter, which is told what the product must find out, once beginning as the product does and once told what a suck gives at
 * first. Within 1.3 times of the first in every row is the aim; what lies between the two is what nobody can know of a baby before it has drunk.
 */
import { replay } from '../../../src/feed/replay.ts';
import type { ScenarioName } from '../../../src/simulation/scenarios.ts';
import { samplesOf } from '../../support/captures.ts';
import { feedSpan, truthAt } from '../../support/judge.ts';
import { type BenchFeed, secondSimulatorFeeds, simulatedFeed } from '../bench-feeds.ts';
import { type Cell, fixed, median, printTable } from '../table.ts';
import { type ReferenceEstimate, referenceEstimate } from './reference.ts';
import { ownWorld, secondWorld } from './worlds.ts';

const AIM = 1.3;
const OWN_FEEDS: readonly ScenarioName[] = ['paced', 'let-down', 'tipped-up', 'hurried-start'];
const OWN_SEC = 480;

interface Scored {
  flow: number;
  milk: number;
  /** First "too fast" less the ideal; null where there is none to come or none came. */
  cueLateSec: number | null;
}

type Columns = Pick<ReferenceEstimate, 'atSec' | 'firstTiltDownSec'> & {
  flowMlPerMin: readonly (number | null)[];
  milkMl: readonly (number | null)[];
};

function scored({ truth }: BenchFeed, idealSec: number | null, told: Columns): Scored {
  const { firstSec, lastSec } = feedSpan(truth);
  let flow = 0;
  let milk = 0;
  let rows = 0;
  told.atSec.forEach((sec, i) => {
    if (sec < firstSec || sec > lastSec) return;
    rows += 1;
    flow += ((told.flowMlPerMin[i] ?? 0) - truthAt(truth, truth.flow10MlPerMin, sec)) ** 2;
    milk += ((told.milkMl[i] ?? 0) - truthAt(truth, truth.milkMl, sec)) ** 2;
  });
  const { firstTiltDownSec: first } = told;
  const cueLateSec = idealSec === null || first === null ? null : first - idealSec;
  return { flow: Math.sqrt(flow / rows), milk: Math.sqrt(milk / rows), cueLateSec };
}

/** When the true intake first crosses either bucket of the sleeve contract, section 5. */
export function idealSecOf({ truth }: BenchFeed): number | null {
  const buckets = [
    { rate: 8, depth: 18, ahead: 0 },
    { rate: 14, depth: 6, ahead: 0 },
  ];
  for (let i = 1; i < truth.atSec.length; i++) {
    const taken = truth.intakeSoFarMl[i]! - truth.intakeSoFarMl[i - 1]!;
    const sec = truth.atSec[i]! - truth.atSec[i - 1]!;
    for (const bucket of buckets) {
      bucket.ahead = Math.max(0, bucket.ahead + taken - (bucket.rate / 60) * sec);
      if (bucket.ahead > bucket.depth) return truth.atSec[i]!;
    }
  }
  return null;
}

function byProduct({ bytes, calibration }: BenchFeed): Columns {
  const { live, cues } = replay([bytes], { calibration, portionMl: null, refinable: false }).result;
  return { ...live, firstTiltDownSec: cues.find(({ kind }) => kind === 'tilt-down')?.atSec ?? null };
}

/** @param quick one seed of each simulated feed */
export function boundTable(quick: boolean): void {
  const cases = secondSimulatorFeeds().map((feed) => ({
    feed,
    world: secondWorld(feed.name),
  }));
  for (const scenario of OWN_FEEDS)
    for (const seed of quick ? [11] : [11, 12, 13]) {
      const feed = simulatedFeed(`${scenario} ${seed}`, scenario, seed, {}, OWN_SEC);
      cases.push({ feed, world: ownWorld(scenario, seed) });
    }
  const late: { own: number[]; reference: number[]; told: number[] } = { own: [], reference: [], told: [] };
  const rows = cases.map(({ feed, world }): Cell[] => {
    const samples = samplesOf(feed.bytes);
    const ideal = idealSecOf(feed);
    const by = (told: boolean): Scored =>
      scored(feed, ideal, referenceEstimate(samples, feed.calibration, feed.truth, world, told));
    const own = scored(feed, ideal, byProduct(feed));
    const reference = by(false);
    const told = by(true);
    for (const [key, one] of Object.entries({ own, reference, told }))
      if (one.cueLateSec !== null) late[key as keyof typeof late].push(Math.abs(one.cueLateSec));
    const three = (of: (one: Scored) => number): Cell[] => [
      fixed(of(own)),
      fixed(of(reference)),
      `${fixed(of(own) / of(reference))}${of(own) / of(reference) > AIM ? ' NO' : ''}`,
      fixed(of(told)),
    ];
    const cue = (one: Scored): string =>
      ideal === null ? '–' : one.cueLateSec === null ? 'none' : fixed(one.cueLateSec, 1);
    return [
      feed.name,
      ...three(({ flow }) => flow),
      ...three(({ milk }) => milk),
      cue(own),
      cue(reference),
      cue(told),
    ];
  });
  printTable(
    `The bound: live flow (mL/min rms), milk (mL rms), first "too fast" against the ideal buckets (s); aim ≤ ${AIM} × the reference`,
    [
      'feed',
      'flow',
      'reference',
      '÷',
      'told the suck',
      'milk',
      'reference',
      '÷',
      'told the suck',
      'cue',
      'reference',
      'told the suck',
    ],
    rows,
    [
      'The reference is told noise, delays, when the teat was in, when each suck came and whether it gave any; it begins with the same volume of a suck as Ebbline.',
      'One feed may lie under its bound by luck: both begin with a guess, and another guess suits another baby.',
      `Median error of the first cue, s: Ebbline ${fixed(median(late.own), 1)}, reference ${fixed(median(late.reference), 1)}, told the suck ${fixed(median(late.told), 1)}.`,
    ],
  );
}
