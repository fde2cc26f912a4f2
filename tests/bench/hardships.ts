/** The estimate when the feed is hard to measure: one hardship at a time, beside the same feed without it. */

import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { HARDSHIPS, type Hardship } from '../support/hardships.ts';
import { simulatedFeed } from './bench-feeds.ts';
import { type Measured, measure } from './measured.ts';
import { type Cell, fixed, percent, printTable, rootMeanSquare } from './table.ts';

const SEEDS = [11, 12];
const LONGEST_SEC = 420;
const FEEDS: readonly ScenarioName[] = ['paced', 'tipped-up'];

export function benchHardships(): void {
  for (const scenario of FEEDS) {
    const rows = [null, ...(Object.keys(HARDSHIPS) as Hardship[])].map((hardship): Cell[] => {
      const overrides = hardship === null ? {} : HARDSHIPS[hardship];
      const runs = SEEDS.map((seed) =>
        measure(simulatedFeed(scenario, scenario, seed, overrides, LONGEST_SEC)),
      );
      return rowOf(hardship ?? 'none', runs);
    });
    printTable(
      `${scenario}, first ${LONGEST_SEC / 60} min, seeds ${SEEDS.join(', ')}: live flow in mL/min rms, milk and intake in mL`,
      [
        'hardship',
        'Ebbline',
        'best constant',
        'four states',
        '÷ constant',
        '÷ four states',
        'flow told',
        'milk rms',
        'intake worst',
        'teat right',
        'sucks told/true',
      ],
      rows,
      ['Moments without a told flow or milk are judged as if zero had been told.'],
    );
  }
}

function rowOf(name: string, runs: Measured[]): Cell[] {
  const flow = (way: 'ebbline' | 'constant' | 'fourStates'): number =>
    rootMeanSquare(runs.map(({ scores }) => scores[way].flowRmsMlPerMin!));
  return [
    name,
    fixed(flow('ebbline')),
    fixed(flow('constant')),
    fixed(flow('fourStates')),
    fixed(flow('ebbline') / flow('constant')),
    fixed(flow('ebbline') / flow('fourStates')),
    percent(Math.min(...runs.map(({ knownShare }) => knownShare))),
    fixed(rootMeanSquare(runs.map(({ scores }) => scores.ebbline.milkRmsMl!))),
    fixed(Math.max(...runs.map(({ scores }) => scores.ebbline.intakeWorstMl!))),
    percent(Math.min(...runs.map(({ judged }) => judged.teatRight))),
    runs.map(({ judged, trueSucks }) => `${judged.suckCount}/${trueSucks}`).join(' '),
  ];
}
