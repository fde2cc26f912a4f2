/**
 * Commands that a kill may interrupt: each command that writes much or deletes, with its initial folder, how it is run, and what must hold afterwards:
 * all is as before or as after it; the same command, run again, completes; nothing is there twice; no leftovers remain.
 */
import { execFileSync } from 'node:child_process';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import Libsql from 'libsql';
import { checkStore, rebuildStore } from '../../src/app/kept/check-store.ts';
import { PlainError } from '../../src/base/errors.ts';
import { DATABASE_FILE } from '../../src/store/data-folder.ts';
import { MIGRATIONS } from '../../src/store/database/migrations.ts';
import { openStore } from '../../src/store/open-store.ts';
import { archiveCaptures } from '../../src/store/portable/archive.ts';
import { backUp } from '../../src/store/portable/backup.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { forgetInFolder } from '../../src/store/portable/forget-folder.ts';
import { holdFolder } from '../../src/store/portable/held-folder.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { restoreInto } from '../../src/store/portable/restore.ts';
import { fullFolder, NOW_MS } from './full-store.ts';
import { meaningOf } from './kept-meaning.ts';
import { letGo } from './let-go.ts';
import { recordFeed } from './recorded-feed.ts';
import { createScriptedSleeve } from './scripted-sleeve.ts';
import { joined } from './wire.ts';

const ABOUT = { nowMs: NOW_MS, softwareVersion: '0.1.0' };
const OLDEST_FIXTURE = fileURLToPath(new URL('../fixtures/kept-data-7/store.tar.gz', import.meta.url));

export interface KillScene {
  /** Fills `root`; the stored data is in its folder `data`. */
  prepare(root: string): void;
  /** Arguments of the built command, which finds `data` as EBBLINE_DATA. */
  args(root: string): string[];
  /** The same through the services that the command calls. */
  run(root: string): void;
  /** True: it needs the database for itself. */
  alone?: boolean;
  /** Error codes by which a second run may say that the first one had done everything. */
  done?: readonly string[];
  /** A further condition; returns what does not hold. */
  also?(root: string, meant: Meant): string | null;
}

const dataOf = (root: string): string => join(root, 'data');
const at = (root: string, name: string): string => join(root, name);

export const KILL_SCENES: Readonly<Record<string, KillScene>> = {
  export: {
    prepare: (root) => void fullFolder(dataOf(root)),
    args: (root) => ['feeds', 'export', '--captures', '--out', at(root, 'out')],
    run: (root) =>
      withStore(root, (store) => void exportTo(store, at(root, 'out'), { ...ABOUT, captures: true })),
    done: ['export-exists'],
  },
  import: {
    prepare(root) {
      const from = fullFolder(at(root, 'from'));
      const store = openStore(from);
      exportTo(store, at(root, 'export'), { ...ABOUT, captures: true });
      store.close();
      fs.rmSync(from, { recursive: true });
      recordOwn(dataOf(root), ['own']);
    },
    args: (root) => ['feeds', 'import', at(root, 'export')],
    run: (root) => void importInto(dataOf(root), at(root, 'export'), NOW_MS),
  },
  backup: {
    prepare: (root) => void fullFolder(dataOf(root)),
    args: (root) => ['data', 'backup', '--out', at(root, 'all.tar')],
    run: (root) => void backUp(dataOf(root), at(root, 'all.tar'), ABOUT),
    done: ['backup-exists'],
  },
  restore: {
    prepare(root) {
      const from = fullFolder(at(root, 'from'));
      backUp(from, at(root, 'all.tar'), ABOUT);
      fs.rmSync(from, { recursive: true });
      recordOwn(dataOf(root), ['own']);
    },
    args: (root) => ['data', 'restore', '--replace', at(root, 'all.tar')],
    alone: true,
    run: (root) => void restoreInto(dataOf(root), at(root, 'all.tar'), { replace: true, nowMs: NOW_MS }),
    also(root, { before }) {
      const aside = fs.readdirSync(dataOf(root)).filter((name) => name.startsWith('before-restore-'));
      const isKept = aside.some((name) => isDeepStrictEqual(meant(join(dataOf(root), name)), before));
      return isKept ? null : `what was there before is not put aside (${aside.join(', ') || 'nothing is'})`;
    },
  },
  forget: {
    prepare: (root) => void fullFolder(dataOf(root)),
    args: () => ['data', 'forget', 'Wren', '--yes'],
    run: (root) => void forgetInFolder(dataOf(root), 'Wren'),
    done: ['forget-nobody'],
  },
  archive: {
    prepare(root) {
      fullFolder(dataOf(root));
      fs.mkdirSync(at(root, 'away'));
    },
    args: (root) => ['data', 'archive', '--older-than', '2d', '--into', at(root, 'away')],
    run(root) {
      const held = holdFolder(dataOf(root));
      try {
        archiveCaptures(held, { olderThanDays: 2, to: at(root, 'away') }, Date.now());
      } finally {
        held.close();
      }
    },
  },
  migration: {
    prepare: (root) => oldestData(dataOf(root)),
    args: () => ['feeds', '--json'],
    run: (root) => withStore(root, (store) => void store.list()),
  },
  rebuild: {
    prepare(root) {
      recordOwn(dataOf(root), ['one', 'two']);
      for (const ending of ['', '-wal', '-shm'])
        fs.rmSync(join(dataOf(root), `${DATABASE_FILE}${ending}`), { force: true });
    },
    args: () => ['data', 'check', '--rebuild'],
    run: (root) => void rebuildStore(dataOf(root), NOW_MS),
  },
};

/** Content before and after the command, and the files after it. */
export interface Meant {
  before: unknown;
  after: unknown;
  names: ReadonlySet<string>;
}

/** Runs a scene without a kill, twice in separate folders. @returns its result */
export async function meantBy(scene: KillScene, fresh: () => string): Promise<Meant> {
  const untouched = fresh();
  scene.prepare(untouched);
  const root = fresh();
  fs.cpSync(untouched, root, { recursive: true });
  if (scene.alone) await letGo();
  scene.run(root);
  const before = meant(dataOf(untouched));
  const after = meant(dataOf(root));
  return { before, after, names: namesIn(root) };
}

/** @returns what does not hold in a root after a kill, before and after the command is run again; empty if all does */
export async function faultsAfterKill(scene: KillScene, root: string, all: Meant): Promise<string[]> {
  const faults: string[] = [];
  const isOneOf = (...wanted: unknown[]): boolean => {
    const seen = meant(dataOf(root));
    return wanted.some((one) => isDeepStrictEqual(seen, one));
  };
  try {
    if (!isOneOf(all.before, all.after)) faults.push('what is kept is neither as before nor as after');
    await runAgain(scene, root);
    if (!isOneOf(all.after)) faults.push('the second run does not complete it');
    const names = namesIn(root);
    for (const name of names) if (!all.names.has(name)) faults.push(`${name} is left`);
    for (const name of all.names) if (!names.has(name)) faults.push(`${name} is missing`);
    const also = scene.also?.(root, all);
    if (also) faults.push(also);
    faults.push(...unsoundIn(dataOf(root)));
  } catch (error) {
    faults.push(error instanceof PlainError ? error.text : String((error as Error).stack));
  }
  return faults;
}

/** This process has just opened the data, and its connections may stay until they are collected; those of the killed process are gone. */
async function runAgain(scene: KillScene, root: string): Promise<void> {
  for (let round = 0; ; round++) {
    if (scene.alone) await letGo();
    try {
      return scene.run(root);
    } catch (error) {
      const code = error instanceof PlainError ? error.code : '';
      if (scene.done?.includes(code)) return;
      if (!(scene.alone && code === 'store-busy' && round < MOST_ROUNDS)) throw error;
    }
  }
}
const MOST_ROUNDS = 10;

/** @returns problems found by SQLite's own check (sqlite.org/pragma.html#pragma_integrity_check) and by looking at the folder */
export function unsoundIn(data: string): string[] {
  const held = holdFolder(data);
  let verdicts: { integrity_check: string }[];
  try {
    verdicts = held.database.prepare('PRAGMA integrity_check').all() as typeof verdicts;
  } finally {
    held.close();
  }
  return [
    ...verdicts.map(({ integrity_check }) => integrity_check).filter((verdict) => verdict !== 'ok'),
    ...checkStore(data, true).findings.map(({ what }) => what),
  ];
}

/** The content of the store, in which a doubled feed would be seen. Null if no feed is stored: no database yet, or an unfinished one. */
function meant(data: string): unknown {
  const isBegun = fs.existsSync(join(data, DATABASE_FILE)) || fs.existsSync(join(data, 'restoring'));
  if (!isBegun) return null;
  try {
    const meaning = meaningOf(data, NOW_MS);
    return meaning.feeds.length > 0 ? meaning : null;
  } catch (error) {
    // A database that was begun and is empty, with captures beside it: an error that says what to do.
    if (error instanceof PlainError && error.code === 'store-damaged') return null;
    throw error;
  }
}

/** Files below `root` except SQLite's and the lock's own. */
const namesIn = (root: string): Set<string> =>
  new Set(
    fs
      .readdirSync(root, { recursive: true, encoding: 'utf8' })
      .filter((name) => !/(-wal|-shm|-journal|recording\.lock)$/.test(name))
      // Data that a second run sets aside again; its content is checked separately.
      .filter((name) => !name.startsWith(join('data', 'before-restore-'))),
  );

function withStore(root: string, act: (store: ReturnType<typeof openStore>) => void): void {
  const store = openStore(dataOf(root), { nowMs: () => NOW_MS });
  try {
    act(store);
  } finally {
    store.close();
  }
}

/** Stores feeds that a sleeve measured, with all that a rebuild needs. */
function recordOwn(data: string, ids: readonly string[]): void {
  const store = openStore(data, { recording: true, softwareVersion: '0.1.0', nowMs: () => NOW_MS });
  for (const [i, id] of ids.entries()) {
    const sleeve = createScriptedSleeve();
    const held = sleeve.advance(4);
    sleeve.mouth = 'sucking';
    const bytes = joined([held, sleeve.advance(16)]);
    recordFeed(store, { id, bytes, calibration: sleeve.calibration, startMs: NOW_MS + i * 3_600_000 });
  }
  store.close();
}

/** A database of data version 1 with the feeds of a later one in it, as far as they fit. */
function oldestData(data: string): void {
  fs.mkdirSync(data, { recursive: true, mode: 0o700 });
  execFileSync('tar', ['-C', data, '-xzf', OLDEST_FIXTURE]);
  const [later, file] = [join(data, 'later.sqlite'), join(data, DATABASE_FILE)];
  fs.renameSync(file, later);
  for (const ending of ['-wal', '-shm']) fs.rmSync(`${file}${ending}`, { force: true });
  const database = new Libsql(file);
  database.exec(MIGRATIONS[0] as string);
  database.prepare('ATTACH ? AS later').run(later);
  for (const table of ['feed', 'feed_row', 'cue', 'feed_event', 'refined_feed', 'calibration', 'setting']) {
    const names = (database.prepare(`PRAGMA table_info(${table})`).all() as { name: string }[])
      .map(({ name }) => name)
      .join(', ');
    database.exec(`INSERT INTO ${table} (${names}) SELECT ${names} FROM later.${table}`);
  }
  database.exec(`PRAGMA application_id = ${0x4542424c}; PRAGMA user_version = 1; DETACH later`);
  database.close();
  for (const ending of ['', '-wal', '-shm']) fs.rmSync(`${later}${ending}`, { force: true });
}
