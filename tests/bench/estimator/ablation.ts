/** `npm run bench -- ablation [--quick]`: what each state and each device of the estimator buys, by leaving it out. */
import { createSensor, type SensedMoment, senseSample } from '../../../src/sensing/index.ts';
import { MOUTH } from '../../../src/sensing/mouth.ts';
import { BANK, MEASUREMENT } from '../../../src/sensing/noise.ts';
import { HARDSHIPS, type Hardship } from '../../../src/simulation/hardships.ts';
import type { ScenarioName } from '../../../src/simulation/scenarios.ts';
import { samplesOf } from '../../support/captures.ts';
import { feedSpan, truthAt } from '../../support/judge.ts';
import { type BenchFeed, capturedFeeds, simulatedFeed } from '../bench-feeds.ts';
import { type Cell, fixed, printTable, rootMeanSquare } from '../table.ts';
import { type Choices, withChoices } from './overrides.ts';
import { rmsOf } from './score.ts';

const NONE = 1e-6;
/** A hand that is never taken for more or less restless than usual: its motion is not followed, and what grows with it is set as for 1. */
const LEAST_MOTION = 0.15;
const UNHEEDED: Choices = {
  measurement: {
    motionSec: 1e12,
    tiltSdRadPerMotion: MEASUREMENT.tiltSdRadPerMotion / LEAST_MOTION,
  },
  mouth: {
    thresholdPerMotionN: MOUTH.thresholdPerMotionN / LEAST_MOTION,
    stillMovePerMotionN: MOUTH.stillMovePerMotionN / LEAST_MOTION,
  },
};

const ROWS: readonly { name: string; choices: Choices; plainDifference?: boolean }[] = [
  { name: 'as it is', choices: {} },
  { name: 'no tilt bias', choices: { noise: { tiltBiasSdGrams: NONE, tiltBiasWalkGrams: 0 } } },
  { name: 'no mass bias', choices: { noise: { massBiasSdGrams: NONE } } },
  { name: 'no line of action', choices: { noise: { lineSdMm: NONE } } },
  { name: 'no push', choices: { noise: { pushSdGrams: 0 } } },
  { name: 'hole taken as covered always', choices: { member: { covered: false } } },
  { name: 'no leak', choices: { noise: { leakSdGramsPerSec: NONE } } },
  {
    name: 'volume of a suck fixed at its start',
    choices: { noise: { perSuckStartSdGrams: NONE, perSuckWalkGrams: 0 } },
  },
  { name: 'first filter alone', choices: { filters: [0] } },
  {
    name: 'last filter alone (no sucks)',
    choices: { filters: [BANK.filters.length - 1], bank: { balanceAwaySec: 1e9 } },
  },
  { name: 'evidence not tempered', choices: { bank: { temper: 1 } } },
  { name: 'plain difference of intakes, no clones', choices: {}, plainDifference: true },
  { name: 'motion of the hand not heeded', choices: UNHEEDED },
  { name: 'no allowance for errors of tilt', choices: { measurement: { tiltWeight: 0 } } },
  { name: 'lag of the milk taken as exact', choices: { measurement: { sloshSdSec: 0 } } },
  { name: 'milk follows at once (no lag)', choices: { measurement: { sloshSec: NONE } } },
  { name: 'milk follows in 0.4 s', choices: { measurement: { sloshSec: 0.4 } } },
];

interface Column {
  name: string;
  feeds: BenchFeed[];
}

function columns(quick: boolean): Column[] {
  const seeds = quick ? [11] : [11, 12];
  const lastsSec = quick ? 300 : 480;
  const simulated = (name: string, scenarios: readonly ScenarioName[], hardship?: Hardship): Column => ({
    name,
    feeds: scenarios.flatMap((scenario) =>
      seeds.map((seed) => simulatedFeed(name, scenario, seed, hardship ? HARDSHIPS[hardship] : {}, lastsSec)),
    ),
  });
  return [
    { name: 'captures', feeds: capturedFeeds().feeds },
    simulated('paced', ['paced', 'drowsy']),
    simulated('let-down', ['let-down']),
    simulated('tipped-up', ['tipped-up']),
    simulated('invisible', ['paced', 'tipped-up'], 'invisible sucks'),
    simulated('irregular', ['paced', 'tipped-up'], 'irregular sucks'),
    simulated('wandering', ['paced', 'tipped-up'], 'wandering mouth'),
    simulated('restless', ['paced', 'tipped-up'], 'restless'),
    simulated('cloth', ['paced', 'tipped-up'], 'resting cloth'),
    simulated('hand', ['paced', 'tipped-up'], 'leaning hand'),
  ];
}

export function benchAblation(flags: ReadonlySet<string>): void {
  const groups = columns(flags.has('quick'));
  const rows = ROWS.map(({ name, choices, plainDifference }): Cell[] => {
    const scores = withChoices(choices, () =>
      groups.map(({ feeds }) => feeds.map((feed) => scoreOf(feed, plainDifference ?? false))),
    );
    return [
      name,
      ...scores.map((feeds) => fixed(rmsOf(feeds.map(({ flow }) => flow)))),
      fixed(rmsOf(scores.flatMap((feeds) => feeds.map(({ milk }) => milk)))),
      fixed(rmsOf(scores.flatMap((feeds) => feeds.map(({ intake }) => intake)))),
    ];
  });
  printTable(
    'What each part buys: live flow rms in mL/min when it is left out; milk and last intake rms in mL over all feeds, in simulation',
    ['left out', ...groups.map(({ name }) => name), 'milk, all', 'intake, all'],
    rows,
    ['One part at a time, nothing tuned anew.'],
  );
}

const WINDOW_STEPS = 200;

function scoreOf({ bytes, calibration, truth }: BenchFeed, plainDifference: boolean) {
  const sensor = createSensor(calibration, { refinable: false });
  const moments: SensedMoment[] = [];
  for (const sample of samplesOf(bytes)) {
    const moment = senseSample(sensor, sample);
    if (moment) moments.push(moment);
  }
  const { firstSec, lastSec } = feedSpan(truth);
  const flow: number[] = [];
  const milk: number[] = [];
  let intake = 0;
  moments.forEach((moment, i) => {
    const { atSec } = moment;
    if (atSec < firstSec || atSec > lastSec) return;
    const before = moments[Math.max(0, i - WINDOW_STEPS)]!.intakeMl;
    const told = plainDifference ? Math.max(0, 6 * (moment.intakeMl - before)) : (moment.flowMlPerMin ?? 0);
    flow.push(told - truthAt(truth, truth.flow10MlPerMin, atSec));
    if (moment.milkMl !== null) milk.push(moment.milkMl - truthAt(truth, truth.milkMl, atSec));
    intake = moment.intakeMl - truthAt(truth, truth.intakeSoFarMl, atSec);
  });
  return { flow: rootMeanSquare(flow), milk: rootMeanSquare(milk), intake };
}
