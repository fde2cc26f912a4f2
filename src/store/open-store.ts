/** Opening what is kept in a folder. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { CaptureFolder } from './captures/capture-folder.ts';
import { takeRecordingLock } from './captures/recording-lock.ts';
import { DATABASE_FILE, refuseEmptied } from './data-folder.ts';
import { closeDatabase, openDatabase } from './database/database.ts';
import type { FeedDatabase } from './database/feed-database.ts';
import { renewedDatabase } from './database/renewed.ts';
import type { Disk } from './disk.ts';
import { plainly } from './faults.ts';
import { FeedStore } from './feed-store.ts';
import { finishRestore, finishRestoreIfReady } from './portable/restore.ts';
import { closeToOthers } from './private.ts';

export interface StoreOptions {
  /** True for the one process that records into the folder; others may read it at the same time. */
  recording?: boolean;
  /** Stored with each new feed. */
  softwareVersion?: string;
  /** The disk's calls; default node:fs; tests pass a failing one. */
  disk?: Disk;
  /** True where the caller packs captures of ended feeds by itself (`unsettled`, `packCapture`, `settlePacked`), so that the end of a feed does not wait for it. */
  packsLater?: boolean;
  /** Opens the database; default `openDatabase`; tests pass a failing one. */
  open?: (file: string) => FeedDatabase;
  /** Wall time, ms; the machine's clock by default. No entry may be later. */
  nowMs?: () => number;
}

/**
 * Opens the store in `folder`, which is created if needed (see `dataFolder`).
 * With `recording`, captures that a killed process left unpacked are packed; unfinished feeds are left to the caller: `unfinished`.
 * @throws PlainError store-folder, store-full, store-newer, store-foreign, store-damaged, store-busy, store-recording
 */
export function openStore(folder: string, options: StoreOptions = {}): FeedStore {
  // Readable by its owner only, since it contains a family's data.
  plainly(folder, () => fs.mkdirSync(folder, { recursive: true, mode: 0o700 }));
  const unlock = options.recording ? takeRecordingLock(folder) : null;
  try {
    if (unlock) finishRestore(folder);
    else finishRestoreIfReady(folder);
    const captures = plainly(folder, () => new CaptureFolder(folder, options.disk ?? fs));
    plainly(folder, () => refuseEmptied(folder));
    const nowMs = options.nowMs ?? Date.now;
    const file = join(folder, DATABASE_FILE);
    const isNew = !fs.existsSync(file);
    const database = renewedDatabase(file, () => (options.open ?? openDatabase)(file, nowMs), !unlock);
    try {
      const version = options.softwareVersion ?? 'unknown';
      const store = plainly(
        folder,
        () => new FeedStore(folder, database, captures, unlock, version, nowMs, options.packsLater ?? false),
      );
      if (unlock || isNew) closeToOthers(folder);
      if (unlock) {
        store.settleLeftovers();
        // Guidance would stand still while this waits for another command; a refused write is tried again a second later.
        database.set('PRAGMA busy_timeout = 200');
      }
      return store;
    } catch (error) {
      closeDatabase(database);
      throw error;
    }
  } catch (error) {
    unlock?.();
    throw error;
  }
}
