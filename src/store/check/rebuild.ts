/** Stores feeds that were rebuilt from captures; an unusable database is moved aside first. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import type { FeedEvent, FeedRow, FeedSummary } from '../../feed/record/feed.ts';
import type { KeptCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';
import { takeRecordingLock } from '../captures/recording-lock.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { closeDatabase, inTransaction, openDatabase, quickCheck } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { FeedRecords } from '../database/feed-records.ts';
import { EMPTY_SETUP } from '../database/settings.ts';
import { syncFolderOf } from '../disk.ts';
import { plainly } from '../faults.ts';
import { closeToOthers } from '../private.ts';

/** A feed rebuilt from its capture and sidecar file. */
export interface RebuiltFeed
  extends Pick<
    FeedSummary,
    'id' | 'simulated' | 'sleeveId' | 'startedAtMs' | 'sampleZeroAtMs' | 'durationSec'
  > {
  endedAtMs: number;
  /** Name inside the data folder. */
  capture: string;
  softwareVersion: string;
  calibration: unknown;
  rows: FeedRow[];
  cues: KeptCue[];
  events: FeedEvent[];
  refined: RefinedFeed;
}

type Made = { capture: string; feed: RebuiltFeed } | { capture: string; why: string };

/**
 * @param make  rebuilds feeds from captures that the database does not know
 * @throws PlainError store-recording while another process records there
 */
export function rebuildInto(
  folder: string,
  nowMs: number,
  make: (known: ReadonlySet<string>) => readonly Made[],
): { feeds: string[]; not: { capture: string; why: string }[]; putAside: string | null } {
  const unlock = takeRecordingLock(folder);
  try {
    const putAside = plainly(folder, () => putUnusableAside(folder, nowMs));
    const database = openDatabase(join(folder, DATABASE_FILE), () => nowMs);
    try {
      return plainly(folder, () => {
        const made = make(knownIn(database));
        inTransaction(database, () => {
          const records = new FeedRecords(database);
          for (const one of made) if ('feed' in one) keep(records, one.feed);
        });
        closeToOthers(folder);
        return {
          feeds: made.flatMap((one) => ('feed' in one ? [one.feed.id] : [])),
          not: made.flatMap((one) => ('why' in one ? [one] : [])),
          putAside,
        };
      });
    } finally {
      closeDatabase(database);
    }
  } finally {
    unlock();
  }
}

const knownIn = (database: FeedDatabase): Set<string> =>
  new Set(
    database
      .prepare<{ id: string }>('SELECT id FROM feed')
      .all()
      .map(({ id }) => id),
  );

/** @returns the folder it was moved to; null if it is usable, or there is none */
function putUnusableAside(folder: string, nowMs: number): string | null {
  const file = join(folder, DATABASE_FILE);
  if (!fs.existsSync(file) || isSound(file)) return null;
  const aside = join(
    folder,
    `before-restore-${new Date(nowMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-')}`,
  );
  fs.mkdirSync(aside, { recursive: true, mode: 0o700 });
  for (const name of [DATABASE_FILE, `${DATABASE_FILE}-wal`, `${DATABASE_FILE}-shm`]) {
    if (fs.existsSync(join(folder, name))) fs.renameSync(join(folder, name), join(aside, name));
  }
  syncFolderOf(file);
  return aside;
}

function isSound(file: string): boolean {
  if (fs.statSync(file).size === 0) return false;
  let database: FeedDatabase | null = null;
  try {
    database = openDatabase(file);
    return quickCheck(database) === 'ok';
  } catch (error) {
    // A database of another program or of a newer version is not damaged.
    if (error instanceof PlainError && !['store-damaged', 'store-foreign'].includes(error.code)) throw error;
    if (error instanceof PlainError && error.code === 'store-foreign' && hasMark(file)) throw error;
    return false;
  } finally {
    if (database) closeDatabase(database);
  }
}

/** Whether it has the header of an SQLite file (SQLite, "Database File Format", 1.3). */
function hasMark(file: string): boolean {
  const head = Buffer.alloc(16);
  const fd = fs.openSync(file, 'r');
  try {
    fs.readSync(fd, head, 0, 16, 0);
  } finally {
    fs.closeSync(fd);
  }
  return head.toString('latin1') === 'SQLite format 3\0';
}

function keep(records: FeedRecords, made: RebuiltFeed): void {
  const { rows, cues, events, refined, calibration, softwareVersion, capture, endedAtMs, ...rest } = made;
  const { intakeMl, spiltMl, addedMl } = refined.totals;
  const totals = { intakeMl, spiltMl, addedMl, durationSec: made.durationSec };
  const feed: FeedSummary = {
    ...rest,
    ...totals,
    endedAtMs: null,
    state: 'open',
    endReason: null,
    setup: EMPTY_SETUP,
    captureFile: null,
  };
  const cursor = records.insert(feed, calibration, softwareVersion, capture);
  records.append(cursor, { rows, cues, events, bytes: [], ...totals });
  records.end(made.id, { endReason: 'link-ended', endedAtMs, refined });
  records.packRows(made.id);
}
