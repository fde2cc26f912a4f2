/**
 * A study recomputed and exported by the built program's threads: how many times faster than life in total, whether memory stays flat,
 * and one thread beside all of them. Feeds are a few simulated ones, each with another end, so that no two have the same bytes.
 */
import * as fs from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createCrew } from '../../src/app/study/crew/crew.ts';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import type { StudyStore } from '../../src/app/study/sessions/session-result.ts';
import { StudyFolder } from '../../src/app/study/study-folder.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
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
const BY = { programSha256: 'bench', softwareVersion: 'bench' };

const feedsOnce = (): BenchFeed[] =>
  [3, 4, 5].map((seed) =>
    simulatedFeed(`twenty-${seed}`, 'paced', seed, { milkMl: 180, baby: { appetiteMl: 200 } }, 1200),
  );

/** Keeps nothing but captures: the store's own speed is another section's. */
function studyOf(folder: string, count: number): { study: StudyFolder; store: StudyStore } {
  const feeds = feedsOnce();
  const kept = new Map<string, { feed: KeptFeed; path: string }>();
  const study = StudyFolder.begin(folder, PROTOCOL, { nowMs: () => START_MS, drawSeed: () => 1 });
  for (let i = 0; i < count; i++) {
    const { bytes, calibration } = feeds[i % feeds.length]!;
    const id = `feed-${i}`;
    const path = join(folder, `${id}.cap`);
    fs.writeFileSync(path, bytes.subarray(0, bytes.length - (i % 100) * 620));
    kept.set(id, { path, feed: feedOf(id, calibration) });
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

const feedOf = (id: string, calibration: BenchFeed['calibration']): KeptFeed => ({
  id,
  startedAtMs: START_MS,
  sampleZeroAtMs: START_MS,
  endedAtMs: START_MS,
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
  /** Memory of the program with its threads at a quarter of the work, and at the end, MB. */
  quarterMb: number;
  endMb: number;
}

async function measured(
  act: (onProgress: (done: number, of: number) => void) => Promise<unknown>,
): Promise<Measured> {
  const cpu = process.cpuUsage();
  const startedMs = performance.now();
  const mb = (): number => process.memoryUsage().rss / 2 ** 20;
  let quarterMb = 0;
  let endMb = 0;
  await act((done, of) => {
    if (done === Math.ceil(of / 4)) quarterMb = mb();
    if (done === of) endMb = mb();
  });
  const { user, system } = process.cpuUsage(cpu);
  return { wallSec: (performance.now() - startedMs) / 1000, cpuSec: (user + system) / 1e6, quarterMb, endMb };
}

export async function benchStudy(flags: ReadonlySet<string>): Promise<void> {
  if (!ensureFreshBuild()) throw new Error('the build failed');
  const count = flags.has('quick') ? 12 : flags.has('thousand') ? 1000 : 60;
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  const rows: Cell[][] = [];
  try {
    const { study, store } = studyOf(folder, count);
    let lifeSec = 0;
    const rowOf = (what: string, one: Measured): void => {
      rows.push([
        what,
        fixed(one.wallSec, 1),
        fixed(one.cpuSec, 1),
        `${Math.round(lifeSec / one.wallSec)} ×`,
        `${Math.round(lifeSec / one.cpuSec)} ×`,
        fixed(one.quarterMb, 0),
        fixed(one.endMb, 0),
      ]);
    };
    for (const hands of [availableParallelism(), 1]) {
      const crew = createCrew({ hands, program: PROGRAM });
      const done = await measured(async (onProgress) => {
        const result = await recomputeStudy(study, store, crew, { ...BY, onProgress });
        lifeSec = result.lengthSec;
      });
      rowOf(`recompute, ${hands} threads`, done);
      if (hands > 1) {
        const out = join(folder, 'export');
        const exported = await measured((onProgress) =>
          exportStudy(study, store, crew, { ...BY, out, raw: true, onProgress }),
        );
        rowOf('export of these, raw counts and figures too', exported);
      }
      await crew.close();
    }
    printTable(
      `A study of ${count} feeds, ${(lifeSec / 3600).toFixed(1)} h`,
      ['what', 'wall, s', 'processor, s', 'times life', 'per processor', 'MB at a quarter', 'MB at the end'],
      rows,
    );
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}
