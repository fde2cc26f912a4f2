/**
 * `npm run bench kills`: the built program killed a thousand times and more at seeded moments of each command that writes much or deletes,
 * a recorder in its feed, and the whole program while it watches one: half of them at one of its calls (or half-way through a write), half by the clock, inside a call perhaps.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { openStore } from '../../src/store/open-store.ts';
import { ensureFreshBuild } from '../support/fresh-build.mjs';
import { faultsAfterKill, KILL_SCENES, type KillScene, meantBy, unsoundIn } from '../support/kill-scenes.ts';
import { seededRandom } from '../support/random.ts';
import { bytesOfSecond, rowAt } from '../support/store-samples.ts';
import { killStarts } from './killed-start.ts';
import { printTable } from './table.ts';

const EACH = 100;
const IN_FEED = 200;
const IN_START = 100;
const SEED = 14;
const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const COUNTER = at('../support/killed-at.mjs');
const SECONDS = 40;
const SECOND_BYTES = 2500;

interface Tally {
  name: string;
  kills: number;
  /** Runs that had ended before the time of the kill. */
  late: number;
  broken: string[];
}

const random = seededRandom(SEED);

interface Run {
  words: readonly string[];
  data: string;
  kill?: string;
  count?: string;
  /** Kills it so long after its first call, ms. */
  afterMs?: number;
}

interface Ended {
  killed: boolean;
  stdout: string;
  /** From its first call to its end. */
  tookMs: number;
}

function run({ words, data, kill, count, afterMs }: Run): Promise<Ended> {
  const env = {
    PATH: process.env.PATH,
    HOME: data,
    EBBLINE_DATA: data,
    TZ: 'UTC',
    ...(afterMs === undefined ? kill !== undefined && { EBBLINE_KILL: kill } : { EBBLINE_KILL: 'clock' }),
    ...(count !== undefined && { EBBLINE_COUNT: count, EBBLINE_KILL: 'clock' }),
  };
  const child: ChildProcess = spawn(process.execPath, ['--import', COUNTER, ...words], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let stdout = '';
  let stderr = '';
  let begunMs = Number.NaN;
  child.stdout!.setEncoding('utf8').on('data', (text: string) => {
    stdout += text;
  });
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    stderr += text;
    if (Number.isNaN(begunMs) && stderr.includes('begun\n')) {
      begunMs = performance.now();
      if (afterMs !== undefined) setTimeout(() => child.kill('SIGKILL'), afterMs);
    }
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code, signal) => {
      const killed = signal === 'SIGKILL';
      if (!killed && code !== 0) reject(new Error(`${words.join(' ')} ended with ${code}: ${stderr}`));
      else resolve({ killed, stdout, tookMs: performance.now() - begunMs });
    });
  });
}

/** Kills at a call and by the clock in turn. */
const momentOf = (i: number, calls: number, tookMs: number): Pick<Run, 'kill' | 'afterMs'> =>
  i % 2 === 0
    ? { kill: `${1 + Math.floor(random() * calls)}${random() < 0.3 ? 'h' : ''}` }
    : { afterMs: random() * tookMs };

async function killScene(base: string, name: string, scene: KillScene, kills: number): Promise<Tally> {
  let folders = 0;
  const fresh = (): string => {
    const folder = join(base, `${name}-${++folders}`);
    fs.mkdirSync(folder);
    return folder;
  };
  const all = await meantBy(scene, fresh);
  const prepared = fresh();
  scene.prepare(prepared);
  const copy = (): string => {
    const root = fresh();
    fs.cpSync(prepared, root, { recursive: true });
    return root;
  };
  const uncut = copy();
  const count = join(base, 'count');
  const words = (root: string): string[] => [join(base, 'dist', 'ebbline.js'), ...scene.args(root)];
  const { tookMs } = await run({ words: words(uncut), data: join(uncut, 'data'), count });
  const calls = Number(fs.readFileSync(count, 'utf8'));
  const tally: Tally = { name, kills: 0, late: 0, broken: [] };
  for (let i = 0; tally.kills < kills && i < 3 * kills; i++) {
    const root = copy();
    const moment = momentOf(i, calls, tookMs);
    const { killed } = await run({ words: words(root), data: join(root, 'data'), ...moment });
    if (killed) tally.kills++;
    else tally.late++;
    for (const fault of await faultsAfterKill(scene, root, all))
      tally.broken.push(`${JSON.stringify(moment)}: ${fault}`);
    fs.rmSync(root, { recursive: true, force: true });
  }
  return tally;
}

/** A recorder prints each second once it is stored. All printed seconds must be there afterwards, and at most one more. */
async function killRecorder(base: string, kills: number): Promise<Tally> {
  const recorder = join(base, 'recorder.mjs');
  await build({
    entryPoints: [at('../store/recorder.child.ts')],
    outfile: recorder,
    bundle: true,
    platform: 'node',
    format: 'esm',
    // Packages stay where they are, as in the built program.
    external: ['libsql'],
    banner: {
      js: `import { createRequire } from 'node:module'; const require = createRequire(${JSON.stringify(at('.'))});`,
    },
    logLevel: 'error',
  });
  const tally: Tally = { name: 'a feed, its end and its packing', kills: 0, late: 0, broken: [] };
  const words = (folder: string): string[] => [
    recorder,
    folder,
    'cut',
    String(SECONDS),
    String(SECOND_BYTES),
  ];
  const count = join(base, 'count');
  const first = join(base, 'feed-0');
  const { tookMs } = await run({ words: words(first), data: first, count });
  const calls = Number(fs.readFileSync(count, 'utf8'));
  for (let i = 1; tally.kills < kills && i < 3 * kills; i++) {
    const folder = join(base, `feed-${i}`);
    const moment = momentOf(i, calls, tookMs);
    const { killed, stdout } = await run({ words: words(folder), data: folder, ...moment });
    if (killed) tally.kills++;
    else tally.late++;
    for (const fault of faultsOfFeed(folder, stdout))
      tally.broken.push(`${JSON.stringify(moment)}: ${fault}`);
    fs.rmSync(folder, { recursive: true, force: true });
  }
  return tally;
}

function faultsOfFeed(folder: string, stdout: string): string[] {
  const confirmed = stdout
    .split('\n')
    // The last line may be cut.
    .slice(0, -1)
    .filter((line) => line.startsWith('kept')).length;
  const faults: string[] = [];
  const store = openStore(folder, { recording: true });
  try {
    for (const { id } of store.unfinished()) store.recover(id, null);
    const feeds = store.list();
    if (feeds.length > 1) faults.push('the feed is there twice');
    if (stdout.includes('begun\n') && feeds.length === 0) faults.push('the feed is gone');
    if (feeds.length === 1) {
      const feed = store.get('cut')!;
      const seconds = feed.rows.length / 2;
      if (seconds !== confirmed && seconds !== confirmed + 1)
        faults.push(`${confirmed} s were said to be kept, ${seconds} are`);
      if (
        JSON.stringify(feed.rows) !==
        JSON.stringify(Array.from({ length: feed.rows.length }, (_, i) => rowAt(i / 2)))
      )
        faults.push('its rows are others');
      const sent = Buffer.concat(Array.from({ length: seconds }, (_, s) => bytesOfSecond(s, SECOND_BYTES)));
      const path = store.capturePath('cut')!;
      const bytes = seconds === 0 ? Buffer.alloc(0) : readCapture(path).bytes;
      if (
        !Buffer.from(bytes.subarray(0, sent.length)).equals(sent) ||
        bytes.length - sent.length > SECOND_BYTES
      )
        faults.push('its capture is another');
    }
  } finally {
    store.close();
  }
  return [...faults, ...unsoundIn(folder)];
}

/** It takes long, so each part is printed when it is done. */
function said(tally: Tally): Tally {
  console.log(`  ${tally.name}: ${tally.kills} killed, ${tally.broken.length} broken`);
  return tally;
}

export async function benchKills(flags: ReadonlySet<string>): Promise<void> {
  if (!ensureFreshBuild()) throw new Error('the build failed');
  const share = flags.has('quick') ? 0.1 : 1;
  const base = fs.mkdtempSync(join(tmpdir(), 'ebbline-kills-'));
  const tallies: Tally[] = [];
  try {
    // A copy: whoever builds meanwhile changes nothing here.
    fs.cpSync(at('../../dist'), join(base, 'dist'), { recursive: true });
    fs.copyFileSync(at('../../package.json'), join(base, 'package.json'));
    fs.symlinkSync(at('../../node_modules'), join(base, 'node_modules'));
    for (const [name, scene] of Object.entries(KILL_SCENES))
      tallies.push(said(await killScene(base, name, scene, EACH * share)));
    tallies.push(said(await killRecorder(base, IN_FEED * share)));
    tallies.push(said(await killStarts(base, IN_START * share, SEED)));
  } finally {
    fs.rmSync(base, { recursive: true, force: true });
  }
  const sum = (of: (one: Tally) => number): number => tallies.reduce((total, one) => total + of(one), 0);
  printTable(
    `Kills of the built program, seed ${SEED}`,
    ['while it does', 'killed', 'had ended before', 'after which something did not hold'],
    [
      ...tallies.map(({ name, kills, late, broken }) => [name, kills, late, broken.length]),
      ['all', sum(({ kills }) => kills), sum(({ late }) => late), sum(({ broken }) => broken.length)],
    ],
    [
      'Held after each: what is kept is as before or as after, the same command run once more completes, no feed twice or gone,',
      'integrity_check ok, no orphan and no leftover; in a feed all that was said to be kept is there.',
    ],
  );
  for (const { name, broken } of tallies)
    for (const what of broken.slice(0, 10)) console.log(`  ${name}: ${what}`);
}
