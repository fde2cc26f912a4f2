import * as fs from 'node:fs';
import { join } from 'node:path';
import { CaptureFolder } from '../captures/capture-folder.ts';
import type { Captures } from '../captures/captures.ts';
import { takeRecordingLock } from '../captures/recording-lock.ts';
import { DATABASE_FILE, refuseEmptied } from '../data-folder.ts';
import { closeDatabase, openDatabase } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { plainly } from '../faults.ts';
import { closeToOthers } from '../private.ts';
import { sweepLeaving } from './forget.ts';
import { finishRestore } from './restore.ts';

/** A place to import into: a data folder locked against recording, or a site of a database. */
export interface HeldFolder {
  folder: string;
  database: FeedDatabase;
  captures: Captures;
  close(): void;
}

/** @throws PlainError store-recording while `ebbline start` runs on it, and as `openStore` */
export function holdFolder(folder: string, nowMs: () => number = Date.now): HeldFolder {
  plainly(folder, () => fs.mkdirSync(folder, { recursive: true, mode: 0o700 }));
  const unlock = takeRecordingLock(folder);
  try {
    finishRestore(folder);
    const captures = plainly(folder, () => new CaptureFolder(folder, fs));
    plainly(folder, () => refuseEmptied(folder));
    const database = openDatabase(join(folder, DATABASE_FILE), nowMs);
    closeToOthers(folder);
    try {
      plainly(folder, () => sweepLeaving({ folder, database, captures }));
    } catch (error) {
      closeDatabase(database);
      throw error;
    }
    return {
      folder,
      database,
      captures,
      close() {
        closeDatabase(database);
        unlock();
      },
    };
  } catch (error) {
    unlock();
    throw error;
  }
}
