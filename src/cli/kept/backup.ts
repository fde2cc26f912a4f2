/** `ebbline backup` and `ebbline restore`: all that is kept as one file, and back. */
import { resolve } from 'node:path';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { backUp } from '../../store/portable/backup.ts';
import { restoreInto } from '../../store/portable/restore.ts';
import { counted } from './counted.ts';

const MEGABYTE = 1e6;

/** @throws PlainError; then there is no backup */
export async function backupCommand({ out, simulated }: { out: string; simulated?: boolean }): Promise<void> {
  const path = resolve(out);
  const result = backUp(dataFolder({ simulated: simulated ?? false }), path, {
    nowMs: Date.now(),
    softwareVersion: SOFTWARE_VERSION,
  });
  process.stdout.write(
    `Backed up ${counted(result.feeds, 'feed')} with ${counted(result.captures, 'capture')} to ${path} (${(result.bytes / MEGABYTE).toFixed(1)} MB).\n` +
      'Keep it on another disk, as private as the feeds themselves.\n',
  );
}

/** @throws PlainError; then the data folder is as it was */
export async function restoreCommand(
  file: string,
  { replace, simulated }: { replace?: boolean; simulated?: boolean },
): Promise<void> {
  const folder = dataFolder({ simulated: simulated ?? false });
  const { feeds, before } = restoreInto(folder, resolve(file), {
    replace: replace ?? false,
    nowMs: Date.now(),
  });
  process.stdout.write(`Restored ${counted(feeds, 'feed')} into ${folder}.\n`);
  if (before)
    process.stdout.write(`What was there before is in ${before}; delete it when it is not needed.\n`);
}
