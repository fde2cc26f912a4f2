/** How fast and how big: a whole replay, one sample, a live feed. */

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { capturePath } from '../support/captures.ts';
import { ensureFreshBuild } from '../support/fresh-build.mjs';
import { simulateCapture } from '../support/simulated-capture.ts';
import { wholeCapturesFolder } from './bench-feeds.ts';
import { bundled, runMeasured, runOn, type Usage } from './measured-process.ts';
import { type Cell, fixed, median, percent, printTable, spread } from './table.ts';

const RUNS = 7;
const LIVE_SEC = 20;
const WARM_UP_SEC = 10;
const command = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));

export async function benchSpeed(): Promise<void> {
  if (!ensureFreshBuild()) return console.log('\nThe build failed: nothing was measured.');
  await replaySpeed();
  await sampleCost();
  await liveLoad();
}

/** Runs in turn, so that what else the machine does falls on both alike. */
async function inTurn(
  first: () => Promise<Usage>,
  second: () => Promise<Usage>,
): Promise<[Usage[], Usage[]]> {
  const runs: [Usage[], Usage[]] = [[], []];
  await first();
  await second();
  for (let i = 0; i < RUNS; i++) {
    runs[0].push(await first());
    runs[1].push(await second());
  }
  return runs;
}

interface LongFeed {
  name: string;
  capture: string;
  calibration: string;
}

/** A feed without turning, recorded, and one in which every sample has its own; each the longest that is to be had. */
function longFeeds(folder: string): LongFeed[] {
  const whole = wholeCapturesFolder();
  const recorded: LongFeed = {
    name: whole ? 'calm' : 'calm’s first 90 s (the whole captures are not here)',
    capture: whole ? join(whole, 'calm.cap.gz') : capturePath('calm', 'cap.gz'),
    calibration: whole ? join(whole, 'calm.cal.json') : capturePath('calm', 'cal.json'),
  };
  // The simulated sleeve has a gyroscope by default.
  const { bytes, calibration } = simulateCapture({ scenario: 'paced', seed: 1 });
  const turning: LongFeed = {
    name: 'simulated, with motion',
    capture: join(folder, 'turning.cap.gz'),
    calibration: join(folder, 'turning.cal.json'),
  };
  writeFileSync(turning.capture, gzipSync(bytes));
  writeFileSync(turning.calibration, JSON.stringify(calibration));
  return [recorded, turning];
}

async function replaySpeed(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  try {
    for (const feed of longFeeds(folder)) await replayOne(feed);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function replayOne({ name, capture, calibration }: LongFeed): Promise<void> {
  const baseline = await bundled('unzip-and-scan');
  const [own, base] = await inTurn(
    () => runMeasured([command, 'replay', capture, '--calibration', calibration, '--json']),
    () => runMeasured([baseline, capture]),
  );
  const { durationSec, frames } = JSON.parse(own[0]!.stdout);
  const figures = (runs: Usage[], key: 'wallMs' | 'cpuMs'): number[] => runs.map((run) => run[key]);
  const times = (ms: number): string => fixed((durationSec * 1000) / ms, 0);
  const row = (process: string, runs: Usage[]): Cell[] => [
    process,
    spread(figures(runs, 'wallMs'), 0),
    spread(figures(runs, 'cpuMs'), 0),
    times(median(figures(runs, 'wallMs'))),
    times(median(figures(runs, 'cpuMs'))),
    times(Math.min(...figures(runs, 'cpuMs'))),
    fixed(Math.max(...runs.map(({ maxRssMb }) => maxRssMb)), 0),
  ];
  const ratio = (key: 'wallMs' | 'cpuMs' | 'maxRssMb'): string =>
    fixed(median(own.map((run) => run[key])) / median(base.map((run) => run[key])));
  printTable(
    `Whole-process replay of ${name}: ${frames.accepted} samples, ${fixed(durationSec, 0)} s of life, ${RUNS} runs`,
    [
      'process',
      'wall, ms',
      'processor, ms',
      '× life by wall',
      'by processor',
      'at its fastest',
      'most memory, MB',
    ],
    [
      row('ebbline replay --json', own),
      row('only unzips and scans', base),
      ['ratio', ratio('wallMs'), ratio('cpuMs'), '', '', '', ratio('maxRssMb')],
    ],
    [
      'Median (least–most). Goal: 600 × life, under 180 MB. Where the machine is busy the processor’s time is the fairer one, and its least the fairest.',
      'Starting Node, reading modules and compiling are in it: a short feed has a smaller figure.',
    ],
  );
}

interface Pass {
  ns: number;
  bytes: number;
}

async function sampleCost(): Promise<void> {
  const script = await bundled('sensing-cost');
  const { stdout } = await runMeasured(
    [script],
    ['--expose-gc', '--min-semi-space-size=256', '--max-semi-space-size=256'],
  );
  const { samples, live, kept, library } = JSON.parse(stdout) as Record<
    'live' | 'kept' | 'library',
    Pass[]
  > & { samples: number };
  const base = median(library.map(({ ns }) => ns));
  const baseBytes = median(library.map(({ bytes }) => bytes));
  const row = (name: string, passes: Pass[]): Cell[] => [
    name,
    spread(
      passes.map(({ ns }) => ns / 1000),
      2,
    ),
    fixed(median(passes.map(({ ns }) => ns)) / base, 4),
    spread(
      passes.map(({ bytes }) => bytes),
      0,
    ),
    fixed(median(passes.map(({ bytes }) => bytes)) / baseBytes, 4),
  ];
  printTable(
    `One sample: ${samples} samples a pass, ${live.length} passes after two to warm up`,
    ['way', 'µs a sample', '÷ library', 'bytes a sample', '÷ library'],
    [
      row('senseSample, watching only', live),
      row('senseSample, kept for the refined pass', kept),
      row('kalman-filter package, 7 states, filter alone', library),
    ],
    [
      'The library does only the filter’s prediction and three scalar corrections, for every four samples; senseSample does everything.',
    ],
  );
}

async function liveLoad(): Promise<void> {
  const own = runOn([command, 'start', '--quiet', '--page-port', '0']);
  const bare = runOn([await bundled('bare-line')]);
  try {
    const url = await pageUrl(own);
    // Somebody looks: the page's own stream of events.
    const looking = new AbortController();
    const page = await fetch(new URL('/live', url), { signal: looking.signal });
    const reading = drain(page);
    await new Promise((resolve) => setTimeout(resolve, WARM_UP_SEC * 1000));
    const [ours, base] = await Promise.all([own.load(LIVE_SEC), bare.load(LIVE_SEC)]);
    looking.abort();
    await reading;
    printTable(
      `Live at 1×: share of one core over ${LIVE_SEC} s, ${WARM_UP_SEC} s after the start, one page open`,
      ['process', 'share of a core', 'memory, MB'],
      [
        ['ebbline start, simulated sleeve', percent(ours.coreShare), fixed(ours.rssMb, 0)],
        ['simulated sleeve and scanner alone', percent(base.coreShare), fixed(base.rssMb, 0)],
        ['ratio', fixed(ours.coreShare / base.coreShare), fixed(ours.rssMb / base.rssMb)],
      ],
      ['Goal: under 5 %.'],
    );
  } finally {
    await Promise.all([own.stop(), bare.stop()]);
  }
}

/** Listens with a handler: leaving a loop over the output would close it and end the program. */
function pageUrl({ child }: ReturnType<typeof runOn>): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stdout!.on('data', (chunk) => {
      said += chunk;
      const url = /https?:\/\/\S+(?=\s)/.exec(said)?.[0];
      if (url) resolve(url);
    });
    child.once('exit', () =>
      reject(new Error(`ebbline start ended before it said where its page is: ${said}`)),
    );
  });
}

async function drain(page: Response): Promise<void> {
  try {
    for await (const _ of page.body!) {
      // Reads and drops the events.
    }
  } catch {
    // The request was aborted on purpose.
  }
}
