/** Passports of nipples from simulated kitchen tables, three minutes by the clock: how near the flow is, and whether its interval is honest. */
import { Random } from '../../src/base/random.ts';
import { teatPassport } from '../../src/research/teat/passport.ts';
import { type Kitchen, kitchenBench } from '../support/kitchen-bench.ts';
import { type Cell, percent, printTable } from './table.ts';

const BENCHES = 200;
/** Ranges of true flows, mL/min. */
const FLOWS = [
  [1, 3],
  [3, 5],
  [5, 7],
  [7, 9],
  [9, 15],
  [15, 30],
  [30, 60],
] as const;
const WAYS: readonly (readonly [string, Kitchen])[] = [
  ['each trial weighed by itself, 1 g', { keptOn: false }],
  ['cup left on the scale, 1 g', {}],
  ['cup left on the scale, 0.1 g', { stepGrams: 0.1 }],
  ['cup left on, 1 g, trials vary by 5 %', { trialCv: 0.05 }],
  ['six trials of 30 s, cup left on, 1 g', { trials: 6 }],
  ['under 150 mmHg, cup left on, 1 g', { suctionMmHg: 150 }],
];

interface Judged {
  within: number;
  covered: number;
}

/** @returns the shares over this many benches */
function judgeBenches(kitchen: Kitchen, range: readonly [number, number], benches: number): Judged {
  const random = new Random(77, JSON.stringify([kitchen, range]));
  let within = 0;
  let covered = 0;
  for (let i = 0; i < benches; i++) {
    const { trueMlPerMin, data } = kitchenBench(random, random.between([...range]), kitchen);
    const { flowMlPerMin, lowMlPerMin, highMlPerMin } = teatPassport(data);
    if (Math.abs(flowMlPerMin - trueMlPerMin) <= 0.05 * trueMlPerMin) within++;
    if (lowMlPerMin <= trueMlPerMin && highMlPerMin >= trueMlPerMin) covered++;
  }
  return { within: within / benches, covered: covered / benches };
}

export function benchNipple(): void {
  const rows = WAYS.map(([what, kitchen]): Cell[] => [
    what,
    ...FLOWS.map((range) => {
      const { within, covered } = judgeBenches(kitchen, range, BENCHES);
      return `${percent(within, 0)} / ${percent(covered, 0)}`;
    }),
  ]);
  printTable(
    `Nipples at a kitchen table, three minutes by the clock, ${BENCHES} benches each`,
    [
      'within 5 % of the truth / covered by the interval',
      ...FLOWS.map(([low, high]) => `${low}–${high} mL/min`),
    ],
    rows,
  );
}
