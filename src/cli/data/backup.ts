/** `ebbline data backup` and `restore`: all stored data as one file, and back. */
import { resolve } from 'node:path';
import { machineZone } from '../../app/kept/family-zone.ts';
import { dayOf } from '../../base/calendar.ts';
import { counted } from '../../base/counted.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { backUp } from '../../store/portable/backup.ts';
import { restoreInto } from '../../store/portable/restore.ts';
import { say } from '../print-out.ts';
import { withProgress } from '../progress.ts';

const MEGABYTE = 1e6;

/** @throws PlainError; then no backup was made */
export async function backupCommand({ out, simulated = false }: { out?: string; simulated?: boolean }) {
  const nowMs = Date.now();
  // The name has the day only, so that no setting has to be read for it.
  const path = resolve(out ?? `ebbline-backup-${dayOf(nowMs, machineZone())}.tar`);
  const { feeds, captures, bytes } = withProgress('Backing up', (onProgress) =>
    backUp(dataFolder({ simulated }), path, {
      nowMs,
      softwareVersion: SOFTWARE_VERSION,
      onProgress,
    }),
  );
  say([
    `Backed up ${counted(feeds, 'feed')} with ${counted(captures, 'capture')} to ${path} (${(bytes / MEGABYTE).toFixed(1)} MB).`,
    'Keep it on another disk, as private as the feeds themselves.',
  ]);
}

/** @throws PlainError; then the data folder is unchanged */
export async function restoreCommand(
  file: string,
  { replace = false, simulated = false }: { replace?: boolean; simulated?: boolean },
) {
  const folder = dataFolder({ simulated });
  const { feeds, before } = withProgress('Restoring', (onProgress) =>
    restoreInto(folder, resolve(file), { replace, nowMs: Date.now(), onProgress }),
  );
  say([
    `Restored ${counted(feeds, 'feed')} into ${folder}.`,
    before !== null && `What was there before is in ${before}; delete it when it is not needed.`,
  ]);
}
