/** `npm run bench half-day -- --file=FILE`: the estimate with the sensors and the hand that were measured, beside the defaults. */
import { readFileSync } from 'node:fs';
import { overridesFrom, readResults } from '../../hardware/first-measurement/results.ts';
import type { Overrides } from '../../src/simulation/parameters.ts';
import { simulatedFeed } from './bench-feeds.ts';
import { measure } from './measured.ts';
import { type Cell, fixed, printTable, rootMeanSquare } from './table.ts';

const SEEDS = [11, 12];
const LONGEST_SEC = 420;
const EXAMPLE = new URL('../../hardware/first-measurement/example.json', import.meta.url);

export function benchHalfDay(flags: ReadonlySet<string>): void {
  const given = [...flags].find((flag) => flag.startsWith('file='))?.slice('file='.length);
  const results = readResults(readFileSync(given ?? EXAMPLE, 'utf8'), given ?? 'example.json');
  const sets: [string, Overrides][] = [
    ['defaults', {}],
    [given ?? 'the example, invented figures', overridesFrom(results)],
  ];
  const rows = (['paced', 'tipped-up'] as const).flatMap((scenario) =>
    sets.map(([name, overrides]): Cell[] => {
      const runs = SEEDS.map((seed) =>
        measure(simulatedFeed(scenario, scenario, seed, overrides, LONGEST_SEC)),
      );
      const rms = (pick: (run: (typeof runs)[number]) => number) => fixed(rootMeanSquare(runs.map(pick)));
      return [
        scenario,
        name,
        rms(({ scores }) => scores.ebbline.flowRmsMlPerMin!),
        rms(({ scores }) => scores.ebbline.milkRmsMl!),
      ];
    }),
  );
  printTable('First half day', ['feed', 'sensors and hand', 'live flow, mL/min rms', 'milk, mL rms'], rows);
}
