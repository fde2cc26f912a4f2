/** All that is kept saved as one file, brought back, or copied from one place to another, as the command line asks for it; each says what was done. */
import { resolve } from 'node:path';
import { dayOf } from '../../base/calendar.ts';
import { counted } from '../../base/counted.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { move } from '../../store/move/move.ts';
import { backUp } from '../../store/portable/backup.ts';
import { restoreInto } from '../../store/portable/restore.ts';
import type { DatabaseChoice } from '../../store/postgres/address.ts';
import { machineZone } from './family-zone.ts';

type OnProgress = (done: number, of: number) => void;

const inMegabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

/** @param out  file to make; without it one named after the day @throws PlainError; then no backup was made */
export async function backUpAsAsked(folder: string, out: string | undefined, onProgress: OnProgress) {
  const nowMs = Date.now();
  // The name has the day only, so that no setting has to be read for it.
  const path = resolve(out ?? `ebbline-backup-${dayOf(nowMs, machineZone())}.tar`);
  const how = { nowMs, softwareVersion: SOFTWARE_VERSION, onProgress };
  const { feeds, captures, bytes } = await backUp(folder, path, how);
  return [
    `Backed up ${counted(feeds, 'feed')} with ${counted(captures, 'capture')} to ${path} (${inMegabytes(bytes)}).`,
    'Keep it on another disk, as private as the feeds themselves.',
  ];
}

/** @throws PlainError; then the folder is unchanged */
export async function restoreAsAsked(
  folder: string,
  { file, replace = false }: { file: string; replace?: boolean },
  onProgress: OnProgress,
) {
  const how = { replace, nowMs: Date.now(), onProgress };
  const { feeds, before } = await restoreInto(folder, resolve(file), how);
  return [
    `Restored ${counted(feeds, 'feed')} into ${folder}.`,
    before !== null && `What was there before is in ${before}; delete it when it is not needed.`,
  ];
}

/** @throws PlainError; what was moved from is as it was */
export async function moveAsAsked(
  { from, to, ...how }: Omit<DatabaseChoice, 'database'> & { from: string; to: string },
  onProgress: OnProgress,
) {
  const done = await move({ ...how, database: from }, { ...how, database: to }, onProgress);
  return [
    `Moved ${counted(done.feeds, 'feed')} with ${counted(done.files, 'file')} (${inMegabytes(done.bytes)}) to ${done.to}.`,
    `Every row and every byte was read again there and is the same; sum of the rows: ${done.sha256.slice(0, 16)}.`,
    `In ${done.from} all is as it was; delete it when it is not needed.`,
  ];
}
