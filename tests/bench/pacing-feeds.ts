/**
 * Cues in whole simulated feeds, sleeve and all, against what the rules of the sleeve contract give on the true milk: every scenario, plain and with the
 * hardships of a real nursery. Beside it the same rules on the true milk, and on all of the truth: what is left then is the rules' own.
 */
import type { Cue } from '../../src/pacing/cues/cue.ts';
import { SCENARIO_NAMES } from '../../src/simulation/scenarios.ts';
import type { Hardship } from '../support/hardships.ts';
import { askedWhileSteady, burpsRight, countAfterLatch, firstSec, idealSec } from './cue-verdicts.ts';
import { type PacedFeed, runFeed } from './paced-feed.ts';
import { type Cell, fixed, median, percent, printTable, quantile } from './table.ts';

/** Those that leave the device's clock alone, so that times can be compared. */
const HARD: readonly (Hardship | null)[] = [
  null,
  'weak sucks',
  'irregular sucks',
  'dry bursts',
  'chewing',
  'wandering mouth',
  'resting cloth',
  'walking',
  'noise ×3',
  'lossy line',
];

/** @param count feeds in all, taken in turn from scenarios and hardships */
export function benchFeeds(count: number): void {
  const feeds: PacedFeed[] = [];
  for (let i = 0; i < count; i += 1) {
    const scenario = SCENARIO_NAMES[i % SCENARIO_NAMES.length]!;
    const hardship = HARD[Math.floor(i / SCENARIO_NAMES.length) % HARD.length]!;
    feeds.push(runFeed({ scenario, seed: 1000 + i, hardship, onTruth: true }));
    if ((i + 1) % 20 === 0) console.error(`  ${i + 1} of ${count} feeds`);
  }
  const sleeve = verdict(feeds, (feed) => feed.cues);
  const trueMilk = verdict(feeds, (feed) => feed.cuesOnTrueMilk);
  const truth = verdict(feeds, (feed) => feed.cuesOnTruth);
  const goals: Record<keyof typeof sleeve, string> = {
    'first tilt-down, median error, s': '3',
    'first tilt-down, 95 % of errors under, s': '',
    'first tilt-down, worst error, s': '8',
    'errors over 8 s, by hardship': '',
    'true crossing, no tilt-down': '0',
    'no true crossing, yet a tilt-down': '0',
    'tilt-down within 5 s of a latch without cause': '0',
    'burp cues within one pause of the due volume ± 1.5 mL': '100 %',
    '"enough?" where baby falls asleep': '9 of 10',
    'of the drowsy missed, by hardship': '',
    '"enough?" while sucking is steady': '0',
  };
  printTable(
    `Cues in ${count} simulated feeds against the rules on the true milk`,
    ['what', 'sleeve', 'rules on true milk', 'rules on all of the truth', 'goal'],
    (Object.keys(goals) as (keyof typeof goals)[]).map((what) => [
      what,
      sleeve[what],
      trueMilk[what],
      truth[what],
      goals[what],
    ]),
  );
}

function verdict(feeds: PacedFeed[], cuesOf: (feed: PacedFeed) => Cue[]) {
  const errors: number[] = [];
  const far: (Hardship | null)[] = [];
  let missed = 0;
  let without = 0;
  let never = 0;
  for (const feed of feeds) {
    const ideal = idealSec(feed.truth);
    const first = firstSec(cuesOf(feed), 'tilt-down');
    if (ideal === null) {
      never += 1;
      if (first !== null) without += 1;
    } else if (first === null) missed += 1;
    else {
      errors.push(Math.abs(first - ideal));
      if (Math.abs(first - ideal) > 8) far.push(feed.hardship);
    }
  }
  const burps = feeds.flatMap((feed) => burpsRight(cuesOf(feed), feed));
  const drowsy = feeds.filter(({ scenario }) => scenario === 'drowsy');
  const unasked = drowsy.filter((feed) => firstSec(cuesOf(feed), 'offer-stop') === null);
  const whileSteady = feeds.filter((feed) => askedWhileSteady(cuesOf(feed), feed.truth));
  return {
    'first tilt-down, median error, s': fixed(median(errors), 1),
    'first tilt-down, 95 % of errors under, s': fixed(quantile(errors, 0.95), 1),
    'first tilt-down, worst error, s': fixed(quantile(errors, 1), 1),
    'errors over 8 s, by hardship': tally(far),
    'true crossing, no tilt-down': `${missed} of ${errors.length + missed}`,
    'no true crossing, yet a tilt-down': `${without} of ${never}`,
    'tilt-down within 5 s of a latch without cause': feeds.reduce(
      (sum, feed) => sum + countAfterLatch(cuesOf(feed), feed.truth),
      0,
    ),
    'burp cues within one pause of the due volume ± 1.5 mL': `${percent(burps.filter(Boolean).length / burps.length)} of ${burps.length}`,
    '"enough?" where baby falls asleep': `${drowsy.length - unasked.length} of ${drowsy.length}`,
    'of the drowsy missed, by hardship': tally(unasked.map(({ hardship }) => hardship)),
    '"enough?" while sucking is steady': `${whileSteady.length} of ${feeds.length}`,
  } satisfies Record<string, Cell>;
}

function tally(hardships: (Hardship | null)[]): string {
  const counts = new Map<string, number>();
  for (const one of hardships) counts.set(one ?? 'plain', (counts.get(one ?? 'plain') ?? 0) + 1);
  return [...counts].map(([name, count]) => `${count} ${name}`).join(', ') || 'none';
}
