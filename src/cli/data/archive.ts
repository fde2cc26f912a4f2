/** `ebbline data archive`: old captures put away or removed; all else of their feeds stays. */
import { resolve } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import {
  type ArchiveRule,
  archiveCaptures,
  archiveRule,
  keepArchiveRule,
} from '../../store/portable/archive.ts';
import { counted } from '../counted.ts';
import { holdKept } from '../with-store.ts';

export interface ArchiveCommandOptions {
  /** Days. */
  olderThan?: number;
  to?: string;
  remove?: boolean;
  fromNowOn?: boolean;
  stop?: boolean;
  simulated?: boolean;
}

/** @throws PlainError archive-where, archive-no-folder, store-recording … */
export async function archiveCommand(options: ArchiveCommandOptions): Promise<void> {
  const held = await holdKept(options.simulated ?? false);
  try {
    if (options.stop) keepArchiveRule(held.database, null);
    const rule = askedRule(options);
    if (rule === null) {
      process.stdout.write(`${ruleText(archiveRule(held.database))}\n`);
      return;
    }
    const { captures, bytes } = archiveCaptures(held, rule, Date.now());
    held.letMonthsGo?.(Date.now());
    if (options.fromNowOn) keepArchiveRule(held.database, rule);
    const what = rule.to === null ? 'Removed' : `Moved to ${rule.to}:`;
    process.stdout.write(
      `${what} ${counted(captures, 'capture')} (${(bytes / 1e6).toFixed(1)} MB). All else of their feeds stays.\n` +
        (options.fromNowOn ? `${ruleText(rule)}\n` : ''),
    );
  } finally {
    held.close();
  }
}

function askedRule({ olderThan, to, remove }: ArchiveCommandOptions): ArchiveRule | null {
  if (olderThan === undefined && to === undefined && !remove) return null;
  if (olderThan === undefined || (to === undefined) === !remove) {
    throw new PlainError(
      'archive-where',
      'It takes an age and what to do with captures older than that.',
      'For example: ebbline data archive --older-than 2y --into /media/disk/captures, or --remove in place of --into.',
    );
  }
  return { olderThanDays: olderThan, to: to === undefined ? null : resolve(to) };
}

function ruleText(rule: ArchiveRule | null): string {
  if (rule === null) return 'Captures are kept here; none is put away by itself.';
  const what = rule.to === null ? 'are removed' : `go to ${rule.to}`;
  return `At each start some captures older than ${counted(Math.round(rule.olderThanDays), 'day')} ${what}, oldest first.`;
}
