/**
 * Cues in whole simulated feeds, sleeve and all, against what the rules of the sleeve contract give on the true milk: every scenario, plain and with the
 * hardships of a real nursery. And what becomes of a fast feed when the caregiver follows what is shown.
 */
import { encodeMessage } from '../../firmware-bridge/wire/codec.ts';
import { MESSAGES } from '../../firmware-bridge/wire/messages.ts';
import { createEngine, type EngineTick, runEngine } from '../../src/feed/engine.ts';
import type { Cue, ShownCue } from '../../src/pacing/cue.ts';
import { type CueKind, FAMILY_GUIDANCE, type Guidance } from '../../src/pacing/index.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import type { SeenCue } from '../../src/simulation/caregiver.ts';
import { HARDSHIPS, type Hardship } from '../../src/simulation/hardships.ts';
import { SCENARIO_NAMES, type ScenarioName } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import type { FeedTruth } from '../../src/simulation/truth.ts';
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
const STEPS_PER_SEC = 80;

export interface PacedFeed {
  scenario: ScenarioName;
  hardship: Hardship | null;
  cues: Cue[];
  /** Beginnings of what was shown. */
  shown: { kind: ShownCue; atSec: number }[];
  truth: FeedTruth;
}

/** What the light tells her: hints are for the page. */
const SEEN: Partial<Record<ShownCue, SeenCue>> = {
  'tilt-down': 'tilt-down',
  'keep-low': 'tilt-down',
  'breath-pause': 'tilt-down',
  burp: 'burp',
  'switch-side': 'switch-side',
  'offer-stop': 'offer-stop',
  'asleep-early': 'offer-stop',
};

export function runFeed(options: {
  scenario: ScenarioName;
  seed: number;
  hardship?: Hardship | null;
  follows?: boolean;
  guidance?: Guidance;
  longestSec?: number;
}): PacedFeed {
  const { scenario, seed, hardship = null, follows = false, guidance, longestSec = 2700 } = options;
  const overrides = hardship ? HARDSHIPS[hardship] : {};
  const feed = createSimulatedFeed({ scenario, seed, follows, overrides });
  const engine = createEngine({
    calibration: parseCalibration(feed.calibration, 'of the simulated sleeve'),
    portionMl: null,
    refinable: false,
    ...(guidance && { guidance }),
  });
  const cues: Cue[] = [];
  const shown: PacedFeed['shown'] = [];
  let showing: ShownCue | null = null;
  const onTick = (tick: EngineTick): void => {
    cues.push(...tick.cues);
    if (tick.showing !== null && tick.showing !== showing) {
      shown.push({ kind: tick.showing, atSec: tick.moment.atSec });
    }
    showing = tick.showing;
  };
  for (let step = 0; step < longestSec * STEPS_PER_SEC && !feed.done; step += 1) {
    const { sample } = feed.step();
    if (sample) runEngine(engine, encodeMessage(MESSAGES.SAMPLE, sample), onTick);
    if (follows && step % 4 === 3) feed.perceive(showing === null ? null : (SEEN[showing] ?? null));
  }
  return { scenario, hardship, cues, shown, truth: feed.truth };
}

const firstSec = (cues: readonly Cue[], kind: CueKind): number | null =>
  cues.find((cue) => cue.kind === kind)?.atSec ?? null;

const idealSec = ({ buckets }: FeedTruth): number | null => {
  const first = Math.min(...buckets.map(({ crossings }) => crossings[0] ?? Number.POSITIVE_INFINITY));
  return Number.isFinite(first) ? first : null;
};

const intakeAt = (truth: FeedTruth, atSec: number): number =>
  truth.intakeSoFarMl[Math.min(truth.intakeSoFarMl.length - 1, Math.max(0, Math.round(atSec * 4)))]!;

/** Each burp cue: is the true volume at least what is due, less 1.5 mL, and did it come by the end of the first true pause past 1.5 mL more? */
function burpsRight({ cues, truth }: PacedFeed): boolean[] {
  let fromSec = 0;
  return cues
    .filter((cue) => cue.kind === 'burp')
    .map(({ atSec }) => {
      const taken = truth.events.findLast(
        (e) => e.atSec < atSec - 5 && e.atSec > fromSec && e.kind !== 'latch',
      );
      const countedFrom = Math.max(fromSec, taken?.atSec ?? 0);
      fromSec = atSec;
      const fromMl = intakeAt(truth, countedFrom);
      if (intakeAt(truth, atSec) - fromMl < 15 - 1.5) return false;
      const lateFromSec = truth.atSec.find(
        (sec) => sec > countedFrom && intakeAt(truth, sec) - fromMl >= 16.5,
      );
      if (lateFromSec === undefined || atSec <= lateFromSec) return true;
      const sucks = truth.suckTimes;
      const pauseAt = sucks.findIndex(
        (sec, i) => sec > lateFromSec && (sucks[i + 1] ?? Number.POSITIVE_INFINITY) - sec > 2.5,
      );
      const pauseEnd =
        pauseAt < 0 ? Number.POSITIVE_INFINITY : (sucks[pauseAt + 1] ?? Number.POSITIVE_INFINITY);
      return atSec <= pauseEnd + 0.5 || intakeAt(truth, atSec) - fromMl >= 30 - 1.5;
    });
}

/** @param count feeds in all, taken in turn from scenarios and hardships */
export function benchFeeds(count: number): void {
  const feeds: PacedFeed[] = [];
  for (let i = 0; i < count; i += 1) {
    const scenario = SCENARIO_NAMES[i % SCENARIO_NAMES.length]!;
    const hardship = HARD[Math.floor(i / SCENARIO_NAMES.length) % HARD.length]!;
    feeds.push(runFeed({ scenario, seed: 1000 + i, hardship }));
    if ((i + 1) % 20 === 0) console.error(`  ${i + 1} of ${count} feeds`);
  }
  const errors: number[] = [];
  let missed = 0;
  let without = 0;
  let never = 0;
  let afterLatch = 0;
  for (const { cues, truth } of feeds) {
    const ideal = idealSec(truth);
    const first = firstSec(cues, 'tilt-down');
    if (ideal === null) {
      never += 1;
      if (first !== null) without += 1;
    } else if (first === null) missed += 1;
    else errors.push(first - ideal);
    for (const cue of cues) {
      const soon = truth.events.some(
        (e) => e.kind === 'latch' && cue.atSec >= e.atSec && cue.atSec < e.atSec + 5,
      );
      const cause = truth.buckets.some((b) => b.crossings.some((sec) => Math.abs(sec - cue.atSec) < 60));
      if (cue.kind === 'tilt-down' && soon && !cause) afterLatch += 1;
    }
  }
  const late = errors.map(Math.abs);
  const burps = feeds.flatMap(burpsRight);
  const drowsy = feeds.filter(({ scenario }) => scenario === 'drowsy');
  const asked = drowsy.filter(({ cues }) => firstSec(cues, 'offer-stop') !== null);
  const steady = feeds.filter(({ scenario }) => scenario !== 'drowsy' && scenario !== 'let-down');
  const whileSteady = steady.filter(({ cues, truth }) => {
    const at = firstSec(cues, 'offer-stop');
    return at !== null && intakeAt(truth, at) < 0.85 * truth.intakeMl && at < 0.85 * truth.durationSec;
  });
  const rows: Cell[][] = [
    ['first tilt-down, median error, s', fixed(median(late), 1), '3'],
    ['first tilt-down, 95 % of errors under, s', fixed(quantile(late, 0.95), 1), ''],
    ['first tilt-down, worst error, s', fixed(quantile(late, 1), 1), '8'],
    ['true crossing, no tilt-down', `${missed} of ${errors.length + missed}`, '0'],
    ['no true crossing, yet a tilt-down', `${without} of ${never}`, '0'],
    ['tilt-down within 5 s of a latch without cause', afterLatch, '0'],
    [
      'burp cues within one pause of the due volume ± 1.5 mL',
      `${percent(burps.filter(Boolean).length / burps.length)} of ${burps.length}`,
      '100 %',
    ],
    ['"enough?" where baby falls asleep', `${asked.length} of ${drowsy.length}`, '9 of 10'],
    ['"enough?" while sucking is steady', `${whileSteady.length} of ${steady.length}`, '0'],
  ];
  printTable(
    `Cues in ${count} simulated feeds against the rules on the true milk`,
    ['what', 'measured', 'goal'],
    rows,
  );
}

function longestOutSec({ truth }: PacedFeed): number {
  let longest = 0;
  for (const [i, event] of truth.events.entries()) {
    const next = truth.events[i + 1];
    if (event.kind !== 'latch' && event.kind !== 'end' && next?.kind === 'latch') {
      longest = Math.max(longest, next.atSec - event.atSec);
    }
  }
  return longest;
}

/** The fast scenarios, with and without a caregiver who follows. */
export function benchFollowing(seeds: number): void {
  const rows: Cell[][] = [];
  for (const scenario of ['tipped-up', 'hurried-start', 'paced'] as const) {
    for (const follows of [false, true]) {
      const feeds = Array.from({ length: seeds }, (_, i) =>
        runFeed({ scenario, seed: 500 + i, follows, guidance: FAMILY_GUIDANCE }),
      );
      const span = (of: (feed: PacedFeed) => number): string => {
        const values = feeds.map(of);
        return `${fixed(median(values), 0)} (${fixed(Math.min(...values), 0)}-${fixed(Math.max(...values), 0)})`;
      };
      rows.push([
        scenario,
        follows ? 'follows' : 'does not',
        span(({ truth }) => truth.durationSec / 60),
        span(({ truth }) => truth.intakeMl),
        span(({ cues }) => cues.length),
        span(({ shown }) => shown.length),
        span(({ shown }) => shown.filter(({ kind }) => kind === 'tilt-down' || kind === 'keep-low').length),
        span(longestOutSec),
      ]);
    }
  }
  printTable(
    'What becomes of a feed, median (range)',
    ['scenario', 'caregiver', 'min', 'mL', 'cues recorded', 'shown', 'of these ease off', 'longest out, s'],
    rows,
    [
      `${seeds} seeds each, family guidance. Goal for the fast scenario when followed: 12-25 min, at most 8 cues, no pause over 60 s.`,
    ],
  );
}
