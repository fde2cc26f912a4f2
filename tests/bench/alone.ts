/** The sleeve's own estimate beside the host's: flow, milk, intake, and when the first "too fast" comes. */
import {
  aloneHost,
  cueByHostSec,
  idealCrossingSec,
  momentsByHost,
  momentsOf,
} from '../support/alone-host.ts';
import { judge } from '../support/judge.ts';
import { type BenchFeed, capturedFeeds, secondSimulatorFeeds, simulatedFeed } from './bench-feeds.ts';
import { type Cell, fixed, median, printTable } from './table.ts';

const PACED = 50;
const FAST = 48;
/** Length to which these feeds are cut: in all of them the first "too fast" is due within 60 s. */
const FAST_SEC = 120;

/** When the ideal buckets overflow, and how much later the cue comes, s. */
interface Late {
  ideal: number;
  own: number;
  host: number;
}

export function benchAlone(flags: ReadonlySet<string>): void {
  const host = aloneHost();
  if (host === null) {
    console.log('\nNot measured: no C compiler here.');
    return;
  }
  const cueOf = ({ bytes, calibration }: BenchFeed): number | null =>
    host.run('fixed', bytes, calibration).find(({ cue }) => cue === 'tilt-down')?.atSec ?? null;
  const late: Late[] = [];
  const noteCue = (feed: BenchFeed): [number | null, number | null] => {
    const ideal = idealCrossingSec(feed.truth.atSec, feed.truth.intakeSoFarMl);
    const own = cueOf(feed);
    const off = (cue: number | null): number => (cue ?? Number.POSITIVE_INFINITY) - (ideal ?? 0);
    if (ideal !== null) late.push({ ideal, own: off(own), host: off(cueByHostSec(feed)) });
    return [ideal, own];
  };
  const ratios: number[] = [];
  const rows = [...capturedFeeds().feeds, ...secondSimulatorFeeds()].map((feed): Cell[] => {
    const own = judge(momentsOf(host.run('fixed', feed.bytes, feed.calibration)), feed.truth);
    const float = judge(momentsOf(host.run('float', feed.bytes, feed.calibration)), feed.truth);
    const beside = judge(momentsByHost(feed), feed.truth);
    const [ideal, cue] = noteCue(feed);
    ratios.push(own.flowRmsMlPerMin / beside.flowRmsMlPerMin);
    return [
      feed.name,
      fixed(own.flowRmsMlPerMin),
      fixed(float.flowRmsMlPerMin),
      fixed(beside.flowRmsMlPerMin),
      fixed(ratios.at(-1)!),
      fixed(own.milkRmsMl),
      fixed(beside.milkRmsMl),
      fixed(ideal, 1),
      fixed(cue, 1),
    ];
  });
  printTable(
    'The sleeve by itself, rms',
    ['feed', 'flow', 'in floats', 'host', '÷ host', 'milk', 'host', 'ideal cue, s', 'own, s'],
    rows,
  );
  const mean = Math.exp(ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0) / ratios.length);
  console.log(
    `  flow ÷ host: geometric mean ${fixed(mean)}, greatest ${fixed(Math.max(...ratios))} (goal: 2)`,
  );
  const count = flags.has('quick') ? 5 : 1;
  for (let i = 0; i < FAST / count; i++)
    noteCue(simulatedFeed('fast', i % 2 ? 'hurried-start' : 'tipped-up', 200 + i, {}, FAST_SEC));
  printLate(late);
  let cued = 0;
  for (let i = 0; i < PACED / count; i++)
    if (cueOf(simulatedFeed('paced', 'paced', 100 + i)) !== null) cued++;
  console.log(`  paced feeds with a false "too fast": ${cued} of ${Math.ceil(PACED / count)} (goal: 0)`);
  host.close();
}

function printLate(late: readonly Late[]): void {
  const inMedian = (of: 'own' | 'host'): string => fixed(median(late.map((feed) => Math.abs(feed[of]))), 1);
  console.log(
    `  first "too fast" off the ideal buckets, median of ${late.length}: ${inMedian('own')} s (goal: 6), host ${inMedian('host')}`,
  );
  const each = late.map(({ ideal, own, host }) => `${fixed(ideal, 0)}: ${fixed(own, 0)}, ${fixed(host, 0)}`);
  console.log(`  each (ideal: own later, host later, s): ${each.join('; ')}`);
}
