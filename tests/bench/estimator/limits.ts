/** `npm run bench -- limits [--quick]`: which error costs what. The same feeds again with one cause of error taken away, or all but the baby's. */
import { laidOver, type Overrides } from '../../../src/simulation/parameters.ts';
import type { ScenarioName } from '../../../src/simulation/scenarios.ts';
import { samplesOf } from '../../support/captures.ts';
import { simulatedFeed } from '../bench-feeds.ts';
import { type Cell, fixed, printTable } from '../table.ts';
import { PERFECT_SLEEVE } from './cases.ts';
import { senseFeed } from './run-case.ts';
import { rmsOf, scoreOwn } from './score.ts';

const FEEDS: readonly ScenarioName[] = ['paced', 'drowsy', 'let-down', 'tipped-up'];
const LONGEST_SEC = 900;

const perfectAnd = (more: Overrides): Overrides => laidOver(PERFECT_SLEEVE, more);

const ROWS: readonly [name: string, overrides: Overrides][] = [
  ['all errors', {}],
  ['exact calibration', { calibrationErrorScale: 0 }],
  ['no drift', { sensors: { zeroDriftGramsPerSqrtMin: 0 } }],
  ['no noise of cells', { sensors: { cellNoiseScale: 0 } }],
  ['no noise of the accelerometer', { sensors: { accelerometerNoiseMg: 0 } }],
  ['calm hand', { hand: { motionScale: 0.01 } }],
  ['even sucks', { baby: { volumeScatterPerSuck: 0, volumeScatterPerBurst: 0 } }],
  ['bottle never lowered, so the hole never bare', { caregiver: { lowerByDeg: 0 } }],
  ['liquid’s lag as believed', { liquid: { lagSec: 0.13 } }],
  ['perfect sleeve', PERFECT_SLEEVE],
  ['perfect sleeve, calm hand', perfectAnd({ hand: { motionScale: 0.01 } })],
  ['perfect sleeve, even sucks', perfectAnd({ baby: { volumeScatterPerSuck: 0, volumeScatterPerBurst: 0 } })],
  ['perfect sleeve, never lowered', perfectAnd({ caregiver: { lowerByDeg: 0 } })],
  ['perfect sleeve, lag as believed', perfectAnd({ liquid: { lagSec: 0.13 } })],
];

export function benchLimits(flags: ReadonlySet<string>): void {
  const seeds = flags.has('quick') ? [11] : [11, 12, 13];
  const rows = ROWS.map(([name, overrides]): Cell[] => [
    name,
    ...FEEDS.map((scenario) => {
      const scores = seeds.map((seed) => {
        const { bytes, calibration, truth } = simulatedFeed(name, scenario, seed, overrides, LONGEST_SEC);
        const { moments, refined } = senseFeed(samplesOf(bytes), calibration);
        return scoreOwn(moments, refined, truth);
      });
      const of = (pick: (score: (typeof scores)[number]) => number | null): string =>
        fixed(rmsOf(scores.map(pick)));
      return `${of(({ live }) => live)} ${of(({ refined }) => refined)} ${of(({ milkMl }) => milkMl)}`;
    }),
  ]);
  printTable(
    'What each error costs: live flow, refined flow (mL/min rms), milk (mL rms), in simulation',
    ['taken away', ...FEEDS],
    rows,
    [
      'A feed drawn anew in part: hand and caregiver decide when the baby sucks, so a row may differ by a tenth for no other reason.',
    ],
  );
}
