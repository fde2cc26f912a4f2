/**
 * A study recomputed and exported by the built program's threads: how many times faster than life in total, whether memory stays flat,
 * how the Parquet reads back by DuckDB, and one thread beside all of them. Feeds are a few simulated ones, each with another end, so
 * that no two have the same bytes. `--thousand`: a thousand feeds of twenty minutes (about 4 GB of disk while it runs).
 */
import * as fs from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { DuckDBInstance } from '@duckdb/node-api';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { createSampleReader, type TimedSample } from '../../firmware-bridge/wire/index.ts';
import { type Crew, createCrew } from '../../src/app/study/crew/crew.ts';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { resultName, runsIn } from '../../src/app/study/recompute/runs.ts';
import { resultIn } from '../../src/app/study/sessions/result-file.ts';
import { isSetAside, type StudyStore } from '../../src/app/study/sessions/session-result.ts';
import { StudyFolder } from '../../src/app/study/study-folder.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { sideFilesIn } from '../../src/store/side-files.ts';
import { ensureFreshBuild } from '../support/fresh-build.mjs';
import { type BenchFeed, simulatedFeed } from './bench-feeds.ts';
import { type Cell, fixed, printTable } from './table.ts';

const PROGRAM = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));
const START_MS = Date.UTC(2026, 0, 6, 9);
const PROTOCOL = {
  version: 1,
  code: 'bench',
  title: 'Bench',
  arms: [{ code: 'all', cues: 'on' }],
  goodRowsLeast: 0,
};
/** A feed loses so many of its last frames as feeds come before it. */
const FRAME_BYTES = 31;
const EVERY_MS = 3600_000;
const BY = { programSha256: 'bench', softwareVersion: 'bench' };

const feedsOnce = (): BenchFeed[] =>
  [3, 4, 5].map((seed) =>
    simulatedFeed(`twenty-${seed}`, 'paced', seed, { milkMl: 180, baby: { appetiteMl: 200 } }, 1200),
  );

/** Stores only captures, since the store's own speed is measured elsewhere. */
function studyOf(folder: string, count: number): { study: StudyFolder; store: StudyStore } {
  const feeds = feedsOnce();
  const kept = new Map<string, { feed: KeptFeed; path: string }>();
  const study = StudyFolder.begin(sideFilesIn(folder), PROTOCOL, {
    nowMs: () => START_MS,
    drawSeed: () => 1,
  });
  for (let i = 0; i < count; i++) {
    const { bytes, calibration } = feeds[i % feeds.length]!;
    const id = `feed-${i}`;
    const path = join(folder, `${id}.cap`);
    fs.writeFileSync(path, bytes.subarray(0, bytes.length - i * FRAME_BYTES));
    kept.set(id, { path, feed: feedOf(id, START_MS + i * EVERY_MS, calibration) });
    const participant = `P${String(i % 40).padStart(2, '0')}`;
    if (i < 40) study.enroll(participant, 'all');
    study.bind(id, participant);
  }
  const store: StudyStore = {
    get: (id) => kept.get(id)?.feed ?? null,
    capturePath: (id) => kept.get(id)?.path ?? null,
  };
  return { study, store };
}

const feedOf = (id: string, startMs: number, calibration: BenchFeed['calibration']): KeptFeed => ({
  id,
  startedAtMs: startMs,
  sampleZeroAtMs: startMs,
  endedAtMs: startMs,
  state: 'ended',
  endReason: 'button',
  simulated: true,
  sleeveId: calibration.sleeveId,
  setup: {
    babyName: null,
    babyBirthDate: null,
    bottleName: null,
    milkKind: null,
    portionMl: 180,
    caregiver: null,
  },
  intakeMl: 0,
  spiltMl: 0,
  addedMl: 0,
  durationSec: 0,
  captureFile: null,
  calibration,
  rows: [],
  cues: [],
  events: [],
  refined: null,
});

interface Measured {
  wallSec: number;
  cpuSec: number;
  /** Memory of the program with its threads at each tenth of the work, MB. */
  mb: number[];
  /** Longest time between two words of progress, s. */
  quietSec: number;
}

async function measured(
  act: (onProgress: (done: number, of: number) => void) => Promise<unknown>,
): Promise<Measured> {
  const cpu = process.cpuUsage();
  const startedMs = performance.now();
  const mb: number[] = [];
  let lastMs = startedMs;
  let quietMs = 0;
  const heard = (): void => {
    quietMs = Math.max(quietMs, performance.now() - lastMs);
    lastMs = performance.now();
  };
  await act((done, of) => {
    heard();
    if (done >= (of * (mb.length + 1)) / 10) mb.push(process.memoryUsage().rss / 2 ** 20);
  });
  heard();
  const { user, system } = process.cpuUsage(cpu);
  return {
    wallSec: (lastMs - startedMs) / 1000,
    cpuSec: (user + system) / 1e6,
    mb,
    quietSec: quietMs / 1000,
  };
}

export async function benchStudy(flags: ReadonlySet<string>): Promise<void> {
  if (!ensureFreshBuild()) throw new Error('the build failed');
  const count = flags.has('quick') ? 12 : flags.has('thousand') ? 1000 : 60;
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  const all: [what: string, lifeSec: number, one: Measured][] = [];
  try {
    const { study, store } = studyOf(folder, count);
    const recomputed = async (crew: Crew): Promise<number> => {
      let lifeSec = 0;
      const one = await measured(async (onProgress) => {
        const { lengthSec, setAside } = await recomputeStudy(study, store, crew, { ...BY, onProgress });
        if (setAside.length > 0) throw new Error(`${setAside.length} sessions set aside`);
        lifeSec = lengthSec;
      });
      all.push([`recompute, ${crew.hands} threads`, lifeSec, one]);
      return lifeSec;
    };
    const crew = createCrew({ hands: availableParallelism(), program: PROGRAM });
    const lifeSec = await recomputed(crew);
    const out = join(folder, 'export');
    const exported = await measured((onProgress) =>
      exportStudy(study, store, crew, { ...BY, out, raw: true, onProgress }),
    );
    all.push(['export of these, raw counts and figures too', lifeSec, exported]);
    await crew.close();
    printSpeed(count, lifeSec, all);
    printTable(
      'Parquet read back by DuckDB',
      ['what', 'rows', 'values', 'other than kept'],
      await readBack(study, out),
    );
    console.log(`Disk while all lay there: ${(bytesIn(folder) / 1e9).toFixed(2)} GB`);
    if (!flags.has('thousand')) {
      fs.rmSync(study.recomputed.where(), { recursive: true });
      const alone = createCrew({ hands: 1, program: PROGRAM });
      await recomputed(alone);
      await alone.close();
      printSpeed(count, lifeSec, all.slice(-1));
    }
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

function printSpeed(count: number, lifeSec: number, all: readonly [string, number, Measured][]): void {
  printTable(
    `A study of ${count} feeds, ${(lifeSec / 3600).toFixed(1)} h`,
    [
      'what',
      'wall, s',
      'processor, s',
      'times life',
      'per processor',
      'longest quiet, s',
      'MB at each tenth',
    ],
    all.map(([what, sec, { wallSec, cpuSec, mb, quietSec }]): Cell[] => [
      what,
      fixed(wallSec, 1),
      fixed(cpuSec, 1),
      `${Math.round(sec / wallSec)} ×`,
      `${Math.round(sec / cpuSec)} ×`,
      fixed(quietSec, 1),
      mb.map((one) => one.toFixed(0)).join(' '),
    ]),
  );
}

const bytesIn = (folder: string): number =>
  fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8', withFileTypes: true })
    .filter((one) => one.isFile())
    .reduce((sum, one) => sum + fs.statSync(join(one.parentPath, one.name)).size, 0);

/** Each value of the rows beside the kept result, bit by bit, and of the raw counts beside the capture. */
async function readBack(study: StudyFolder, out: string): Promise<Cell[][]> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  const query = async (sql: string): Promise<unknown[][]> =>
    (await connection.runAndReadAll(sql)).getRows() as unknown[][];
  const [run] = runsIn(study.recomputed);
  const counts = { rows: [0, 0, 0], raw: [0, 0, 0] } as Record<'rows' | 'raw', [number, number, number]>;
  const compare = (
    to: 'rows' | 'raw',
    found: readonly unknown[][],
    wanted: readonly (readonly unknown[])[],
  ): void => {
    const at = counts[to];
    at[0] += found.length;
    wanted.forEach((column, k) => {
      column.forEach((value, i) => {
        at[1]++;
        if (!Object.is(found[i]?.[k], value ?? null)) at[2]++;
      });
      if (column.length !== found.length) at[2]++;
    });
  };
  for (const { session, feed } of study.sessions()) {
    const computed = resultIn(run!.files.read(resultName(session)), null);
    if (computed === null || isSetAside(computed)) throw new Error(`no result of ${session}`);
    const { refined } = computed;
    const columns = [
      ...[refined.milkMl, refined.milkSdMl, refined.intakeMl, refined.flowMlPerMin],
      ...[refined.flowSdMlPerMin ?? [], refined.teatInMouth, refined.quality ?? []],
    ];
    const names =
      'milk_ml, milk_sd_ml, intake_ml, flow_ml_per_min, flow_sd_ml_per_min, teat_in_mouth, quality';
    compare(
      'rows',
      await query(`SELECT ${names} FROM '${out}/rows.parquet' WHERE session = '${session}'`),
      columns,
    );
    const samples: TimedSample[] = [];
    const reader = createSampleReader((sample) => samples.push(sample));
    reader.take(readCapture(study.files.where(`../${feed}.cap`)).bytes);
    reader.end();
    const cells = 'sample, load_1, load_2, load_3, accel_x, accel_y, accel_z, flags';
    compare('raw', await query(`SELECT ${cells} FROM '${out}/raw/${session}.parquet'`), [
      samples.map(({ sequence }) => sequence),
      ...[0, 1, 2].map((i) => samples.map((one) => one.cells[i]!)),
      ...[0, 1, 2].map((i) => samples.map((one) => one.accelerometer[i]!)),
      samples.map(({ flags }) => flags),
    ]);
  }
  connection.closeSync();
  instance.closeSync();
  return Object.entries(counts).map(([what, [rows, values, other]]) => [
    what,
    `${rows}`,
    `${values}`,
    `${other}`,
  ]);
}
