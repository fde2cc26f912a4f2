/** `ebbline data backup`, `restore` and `move`: all that is kept as one file, back, and from one place to another. */
import { resolve } from 'node:path';
import { machineZone } from '../../app/kept/family-zone.ts';
import { dayOf } from '../../base/calendar.ts';
import { counted } from '../../base/counted.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { move } from '../../store/move/move.ts';
import { backUp } from '../../store/portable/backup.ts';
import { restoreInto } from '../../store/portable/restore.ts';
import { say } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import type { DataGiven } from './commands.ts';

const inMegabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

/** @throws PlainError; then no backup was made */
export async function saveBackup(options: DataGiven<'data backup'>): Promise<void> {
  const nowMs = Date.now();
  // The name has the day only, so that no setting has to be read for it.
  const path = resolve(options.out ?? `ebbline-backup-${dayOf(nowMs, machineZone())}.tar`);
  const { feeds, captures, bytes } = await withProgress('Backing up', (onProgress) =>
    backUp(dataFolder(options), path, { nowMs, softwareVersion: SOFTWARE_VERSION, onProgress }),
  );
  say([
    `Backed up ${counted(feeds, 'feed')} with ${counted(captures, 'capture')} to ${path} (${inMegabytes(bytes)}).`,
    'Keep it on another disk, as private as the feeds themselves.',
  ]);
}

/** @throws PlainError; then the data folder is unchanged */
export async function restoreBackup(options: DataGiven<'data restore'>): Promise<void> {
  const { file, replace = false } = options;
  const folder = dataFolder(options);
  const { feeds, before } = await withProgress('Restoring', (onProgress) =>
    restoreInto(folder, resolve(file), { replace, nowMs: Date.now(), onProgress }),
  );
  say([
    `Restored ${counted(feeds, 'feed')} into ${folder}.`,
    before !== null && `What was there before is in ${before}; delete it when it is not needed.`,
  ]);
}

/** @throws PlainError; what was moved from is as it was */
export async function moveData({ from, to, ...how }: DataGiven<'data move'>): Promise<void> {
  const done = await withProgress('Moving', (onProgress) =>
    move({ ...how, database: from }, { ...how, database: to }, onProgress),
  );
  say([
    `Moved ${counted(done.feeds, 'feed')} with ${counted(done.files, 'file')} (${inMegabytes(done.bytes)}) to ${done.to}.`,
    `Every row and every byte was read again there and is the same; sum of the rows: ${done.sha256.slice(0, 16)}.`,
    `In ${done.from} all is as it was; delete it when it is not needed.`,
  ]);
}
