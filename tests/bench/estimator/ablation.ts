/** `npm run bench -- ablation [--quick]`: what each state and each device of the estimator buys, by leaving it out. */
import { createSensor, type SensedMoment, senseSample } from '../../../src/sensing/index.ts';
import { MOUTH } from '../../../src/sensing/mouth/mouth.ts';
import type { ScenarioName } from '../../../src/simulation/scenarios.ts';
import { samplesOf } from '../../support/captures.ts';
import { HARDSHIPS, type Hardship } from '../../support/hardships.ts';
import { feedSpan, truthAt } from '../../support/judge.ts';
import { type BenchFeed, capturedFeeds, simulatedFeed } from '../bench-feeds.ts';
import { type Cell, fixed, printTable, rootMeanSquare } from '../table.ts';
import { type Choices, withChoices } from './overrides.ts';
import { rmsOf } from './score.ts';

const NONE = 1e-6;
/** Without the estimate of how restless the hand is: noise that grows with its motion is set as for a usual hand. */
const UNHEEDED: Choices = {
  measurement: { motionSec: 1e12 },
  mouth: { perMotionN: MOUTH.perMotionN / 0.15, stillMovePerMotionN: MOUTH.stillMovePerMotionN / 0.15 },
};
/** The same couple noise for every mouth, instead of what is found in the feed. */
const mouthOf = (grams: number): Choices => ({
  mouthNoise: { startCoupleGrams: grams, startWorthSec: 1e9, oneSecondShare: 0 },
});

const ROWS: readonly { name: string; choices: Choices; plainDifference?: boolean }[] = [
  { name: 'as it is', choices: {} },
  { name: 'mouth taken as a point (couple 0.15 g)', choices: mouthOf(0.15) },
  { name: 'mouth taken as ordinary (couple 2 g)', choices: mouthOf(2) },
  { name: 'couple as identified, not widened', choices: { mouthNoise: { coupleScale: 1 } } },
  { name: 'couple of the first seconds believed', choices: { mouthNoise: { oneSecondShare: 0 } } },
  { name: 'noise of a row as identified', choices: { mouthNoise: { rowPerCouple: 0 } } },
  { name: 'forces not smoothed', choices: { mouthNoise: { forceSec: NONE } } },
  { name: 'no balance bias', choices: { noise: { biasSdGrams: NONE, biasWalkGrams: 0 } } },
  { name: 'no tilt bias', choices: { noise: { tiltBiasSdGrams: NONE } } },
  { name: 'no mass bias', choices: { noise: { massBiasSdGrams: NONE, massBiasWalkGrams: 0 } } },
  { name: 'line at the tip, exactly', choices: { noise: { lineMm: 0, lineSdMm: NONE, lineWalkMm: 0 } } },
  { name: 'line on the axis, exactly', choices: { noise: { besideSdMm: NONE, besideWalkMm: 0 } } },
  { name: 'milk follows at once (no lag)', choices: { measurement: { sloshSec: NONE } } },
  { name: 'no deviation from burst to burst', choices: { noise: { deviationShare: NONE } } },
  { name: 'no leak', choices: { noise: { leakSdGramsPerSec: NONE } } },
  {
    name: 'volume of a suck fixed at its start',
    choices: { noise: { perSuckStartSdGrams: NONE, perSuckWalkGrams: 0 } },
  },
  { name: 'hole taken as covered always', choices: { member: { covered: false } } },
  { name: 'regular filters alone', choices: { filters: [0, 1] } },
  { name: 'without the one for unseen sucks', choices: { filters: [0, 1, 2, 3] } },
  { name: 'first filter alone', choices: { filters: [0] } },
  { name: 'plain difference of intakes, none kept', choices: {}, plainDifference: true },
  { name: 'motion of the hand not heeded', choices: UNHEEDED },
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
