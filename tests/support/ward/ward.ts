/** A house with many sleeves: a real broker, a store, workers and cots, each a process that can be killed and restarted. */
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createEngine, runEngine } from '../../../src/feed/engine.ts';
import { type Calibration, parseCalibration } from '../../../src/sensing/index.ts';
import type { ScenarioName } from '../../../src/simulation/scenarios.ts';
import type { FeedStore } from '../../../src/store/feed-store.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { openStoreAt } from '../../../src/store/postgres/postgres-store.ts';
import { createTestBroker, type TestBroker } from '../broker.ts';
import { sharedPostgres, type TestPostgres } from '../postgres.ts';
import { killNow } from '../processes.ts';
import { simulateCapture } from '../simulated-capture.ts';
import type { CotReport, CotsOptions } from './cots.ts';

const COMMAND = fileURLToPath(new URL('../../../dist/ebbline.js', import.meta.url));
const COTS = fileURLToPath(new URL('./cots.ts', import.meta.url));
export const WARD_PLACE = { site: 'elm', room: 'blue' };

export interface WardOptions {
  folder: string;
  sleeves: number;
  workers: number;
  database: 'folder' | 'postgres';
  seconds: number;
  scenario?: ScenarioName;
  /** Bytes that each sleeve sends instead of the scenario's feed. */
  sends?: (feed: Uint8Array) => Uint8Array;
  /** Before any worker runs. */
  prepare?: (store: FeedStore) => void;
  /** Sleeves begin one after another within this time. */
  spreadSec: number;
  brokerLines?: readonly string[];
  whenOver: (end: () => Promise<void>) => void;
}

/** A process that can be killed and started again. */
export interface Killable {
  readonly pid: number;
  /** Its lines on standard error. */
  readonly said: string[];
  kill(): Promise<void>;
  start(): Promise<void>;
}

export interface Ward {
  broker: TestBroker;
  postgres: TestPostgres | null;
  /** Of its own: a folder's path, or a database's address. */
  database: string;
  workers: Killable[];
  /** A health address for each. */
  healthUrls: () => string[];
  cots: Killable & { report(): Promise<CotReport[]> };
  bytes: Uint8Array;
  bytesPerSec: number;
  calibration: Calibration;
  /** Where in the capture cues fire, from a replay at home: byte and kind. */
  cues: { atByte: number; kind: string }[];
  startsAtMs: number[];
  /** Reads the store; not while a worker uses the folder. */
  read<T>(act: (store: FeedStore) => T): T;
}

export async function startWard(options: WardOptions): Promise<Ward> {
  const { folder, sleeves, seconds, scenario = 'hurried-start', whenOver, database } = options;
  const { sends = (feed) => feed, prepare = () => {} } = options;
  const simulated = simulateCapture({ scenario, seed: 1, longestSec: seconds });
  const made = { ...simulated, bytes: sends(simulated.bytes) };
  const calibration = parseCalibration(made.calibration, 'of the simulated sleeve');
  const capture = join(folder, 'capture');
  writeFileSync(capture, made.bytes);
  const { cues, bytesPerSec } = atHome(made.bytes, calibration);
  const brokerFolder = join(folder, 'broker');
  mkdirSync(brokerFolder, { mode: 0o755 });
  const broker = await createTestBroker({
    folder: brokerFolder,
    whenOver,
    lines: ['set_tcp_nodelay true', 'max_queued_messages 20000', ...(options.brokerLines ?? [])],
  });
  await broker.start();
  const postgres = database === 'postgres' ? await sharedPostgres() : null;
  const where = postgres?.freshDatabase().url ?? join(folder, 'data');
  const login = postgres && { databasePasswordFile: postgres.passwordFile, site: WARD_PLACE.site };
  const opened = (recording: boolean): FeedStore =>
    login ? openStoreAt({ database: where, ...login }, { recording }) : openStore(where, { recording });
  const numbers = Array.from({ length: sleeves }, (_, i) => i + 1);
  const store = opened(true);
  for (const number of numbers) store.keepCalibration(String(number), made.calibration);
  prepare(store);
  store.close();
  const workers = await Promise.all(
    Array.from({ length: options.workers }, (_, i) => workerOf(broker, where, postgres, i, whenOver)),
  );
  const startsAtMs: number[] = [];
  const cots = cotsOf(
    () => ({
      address: broker.address,
      place: WARD_PLACE,
      folder: join(folder, 'relays'),
      capture,
      bytesPerSec,
      sleeves: numbers.map((number, i) => {
        // The first time counts: a sleeve keeps sending, whether its relay lives or not.
        startsAtMs[i] ??= Date.now() + 3000 + (1000 * options.spreadSec * i) / sleeves;
        return { number, startsAtMs: startsAtMs[i] };
      }),
    }),
    whenOver,
  );
  await cots.start();
  return {
    database: where,
    ...{ broker, postgres, cots, calibration, cues, bytesPerSec, startsAtMs },
    workers: workers.map(({ process }) => process),
    healthUrls: () => workers.map((one) => one.healthUrl),
    bytes: made.bytes,
    read(act) {
      const reader = opened(false);
      try {
        return act(reader);
      } finally {
        reader.close();
      }
    },
  };
}

function atHome(bytes: Uint8Array, calibration: Calibration) {
  const engine = createEngine({ calibration, portionMl: null, refinable: false });
  const cues: Ward['cues'] = [];
  const step = 92;
  for (let at = 0; at < bytes.length; at += step) {
    const end = Math.min(bytes.length, at + step);
    runEngine(engine, bytes.subarray(at, end), ({ cues: fired }) => {
      for (const { kind } of fired) cues.push({ atByte: end, kind });
    });
  }
  return { cues, bytesPerSec: bytes.length / (engine.timeline.atMicros / 1e6) };
}

function killable(
  begin: () => ChildProcess,
  isUp: (child: ChildProcess) => Promise<void>,
  whenOver: WardOptions['whenOver'],
): Killable & { readonly child: ChildProcess | null } {
  let child: ChildProcess | null = null;
  const said: string[] = [];
  const kill = (): Promise<void> => killNow(child);
  whenOver(kill);
  return {
    said,
    get child() {
      return child;
    },
    get pid() {
      return child?.pid ?? 0;
    },
    kill,
    async start() {
      child = begin();
      child.stderr?.setEncoding('utf8').on('data', (text: string) => said.push(text));
      await isUp(child);
    },
  };
}

async function workerOf(
  broker: TestBroker,
  where: string,
  postgres: TestPostgres | null,
  index: number,
  whenOver: WardOptions['whenOver'],
): Promise<{ process: Killable; healthUrl: string }> {
  let healthUrl = '';
  const args = ['work', '--broker', broker.url, '--database', where, '--simulated', '--health-port', '0'];
  const more = postgres ? ['--site', WARD_PLACE.site, '--database-password-file', postgres.passwordFile] : [];
  const process_ = killable(
    () =>
      spawn(process.execPath, [COMMAND, ...args, ...more], {
        stdio: ['ignore', 'pipe', 'pipe'],
        env: { ...process.env, EBBLINE_WORKER: String(index) },
      }),
    (child) =>
      new Promise((resolve, reject) => {
        let text = '';
        child.stdout!.setEncoding('utf8').on('data', (more: string) => {
          text += more;
          const found = /(http:\S+)\/health/.exec(text);
          if (!found) return;
          healthUrl = found[1]!;
          resolve();
        });
        child.once('exit', () => reject(new Error(`a worker ended: ${text}`)));
      }),
    whenOver,
  );
  await process_.start();
  return {
    process: process_,
    get healthUrl() {
      return healthUrl;
    },
  };
}

function cotsOf(options: () => CotsOptions, whenOver: WardOptions['whenOver']): Ward['cots'] {
  let before: CotReport[] = [];
  const one = killable(
    () =>
      fork(COTS, [], {
        execArgv: ['--import', 'tsx'],
        serialization: 'advanced',
        stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
      }),
    async (child) => {
      await once(child, 'message');
      child.send(options());
      await once(child, 'message');
    },
    whenOver,
  );
  return {
    said: one.said,
    get pid() {
      return one.pid;
    },
    start: one.start,
    async kill() {
      await one.kill();
    },
    async report() {
      one.child!.send('report');
      [before] = (await once(one.child!, 'message')) as [CotReport[]];
      return before;
    },
  };
}

/** Processor time of a process with its threads, seconds (Linux: /proc/PID/stat, clock ticks of 10 ms). */
export function processorSec(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}
