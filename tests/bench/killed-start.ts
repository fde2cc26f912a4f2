/**
 * The built program, killed while it watches a simulated feed: at one of its calls or by the clock. The next start of the same program ends
 * the feed, `data check` must find nothing, and the feed run again from its raw bytes must give the cues that were kept of it.
 */
import { spawn } from 'node:child_process';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { unsoundIn } from '../support/kill-scenes.ts';
import { seededRandom } from '../support/random.ts';

const COUNTER = fileURLToPath(new URL('../support/killed-at.mjs', import.meta.url));
const SCENARIOS = ['hurried-start', 'tipped-up', 'let-down', 'refill'] as const;
/** A feed of ten minutes in six seconds. */
const SPEED = 100;
const GREETING = 'Stop with Ctrl-C';
const OVER = 'The feed is over and kept.';

interface Told {
  killed: boolean;
  code: number | null;
  stdout: string;
  stderr: string;
  /** From the greeting to the end of the feed; NaN when it did not come so far. */
  tookMs: number;
}

interface Asked {
  data: string;
  kill?: string;
  count?: string;
  killMs?: number;
  /** Stops it, as a person does, once it says this. */
  stopAt?: string;
}

function ebbline(base: string, words: readonly string[], asked: Asked): Promise<Told> {
  const { data, kill, count, killMs, stopAt } = asked;
  const child = spawn(process.execPath, ['--import', COUNTER, join(base, 'dist', 'ebbline.js'), ...words], {
    env: {
      PATH: process.env.PATH,
      HOME: data,
      EBBLINE_DATA: data,
      TZ: 'America/Chicago',
      ...(kill !== undefined && { EBBLINE_KILL: kill }),
      ...(count !== undefined && { EBBLINE_COUNT: count }),
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let stdout = '';
  let stderr = '';
  let greetedMs = Number.NaN;
  let overMs = Number.NaN;
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    stderr += text;
  });
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    stdout += text;
    if (Number.isNaN(greetedMs) && stdout.includes(GREETING)) {
      greetedMs = performance.now();
      if (killMs !== undefined) setTimeout(() => child.kill('SIGKILL'), killMs);
    }
    if (Number.isNaN(overMs) && stdout.includes(OVER)) overMs = performance.now();
    if (stopAt !== undefined && stdout.includes(stopAt)) child.kill('SIGTERM');
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code, signal) =>
      resolve({ killed: signal === 'SIGKILL', code, stdout, stderr, tookMs: overMs - greetedMs }),
    );
  });
}

/** @param base  holds the built program in `dist` */
export async function killStarts(base: string, kills: number, seed: number) {
  const random = seededRandom(seed);
  const tally = { name: 'a feed that "start" watches', kills: 0, late: 0, broken: [] as string[] };
  const words = (scenario: string): string[] => [
    'start',
    '--scenario',
    scenario,
    '--page-port',
    '0',
    '--quiet',
    '--speed',
    String(SPEED),
  ];
  const whole = new Map<string, { calls: number; tookMs: number }>();
  for (const scenario of SCENARIOS) {
    const data = fs.mkdtempSync(join(base, 'whole-'));
    const count = join(base, 'count-start');
    const told = await ebbline(base, words(scenario), { data, count, stopAt: OVER });
    if (told.code !== 0) throw new Error(`${scenario} ended with ${told.code}: ${told.stderr}`);
    whole.set(scenario, { calls: Number(fs.readFileSync(count, 'utf8')), tookMs: told.tookMs });
  }
  for (let i = 0; tally.kills < kills && i < 3 * kills; i++) {
    const scenario = SCENARIOS[i % SCENARIOS.length]!;
    const { calls, tookMs } = whole.get(scenario)!;
    const data = fs.mkdtempSync(join(base, 'killed-'));
    const moment =
      i % 8 < 4
        ? { kill: `${1 + Math.floor(random() * calls)}${random() < 0.3 ? 'h' : ''}` }
        : { killMs: random() * tookMs };
    // On a busy machine the number of calls differs, and a feed may be over before the kill: that does not count as one.
    const { killed, stdout } = await ebbline(base, words(scenario), { data, ...moment, stopAt: OVER });
    if (killed) tally.kills++;
    else tally.late++;
    for (const fault of await faultsAfter(base, data, stdout))
      tally.broken.push(`${scenario} ${JSON.stringify(moment)}: ${fault}`);
    fs.rmSync(data, { recursive: true, force: true });
  }
  return tally;
}

async function faultsAfter(base: string, data: string, stdout: string): Promise<string[]> {
  // At normal speed it is stopped before a feed can begin.
  const next = await ebbline(base, ['start', '--page-port', '0', '--quiet'], { data, stopAt: GREETING });
  if (next.code !== 0) return [`the next start ended with ${next.code}: ${next.stderr}`];
  const faults: string[] = [];
  const check = await ebbline(base, ['data', 'check', '--simulated'], { data });
  if (!check.stdout.includes('All is as it should be.')) faults.push(check.stdout + check.stderr);
  const list = await ebbline(base, ['feeds', 'list', '--simulated', '--json'], { data });
  const feeds = JSON.parse(list.stdout) as { id: string; state: string }[];
  if (feeds.length > 1) faults.push(`${feeds.length} feeds of one`);
  if (feeds.some(({ state }) => state !== 'ended')) faults.push('a feed is still open');
  if (stdout.includes(OVER) && feeds.length === 0) faults.push('said to be kept, and is not');
  for (const { id } of feeds) {
    const again = await ebbline(base, ['feeds', 'again', id, '--simulated', '--json'], { data });
    if (again.code !== 0) faults.push(`cannot be run again: ${again.stderr}`);
    else if (!(JSON.parse(again.stdout) as { sameCues: boolean }).sameCues)
      faults.push(`other cues: ${again.stdout.slice(0, 400)}`);
  }
  return [...faults, ...unsoundIn(join(data, 'simulated'))];
}
