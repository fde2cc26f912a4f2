/** The captures to archive, from the options of the command line; and the archive rule in words. */
import { resolve } from 'node:path';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import type { ArchiveRule } from '../../store/portable/archive.ts';

export function askedArchiveRule({ olderThan, to, remove }: ArchiveCommandOptions): ArchiveRule | null {
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

export function archiveRuleText(rule: ArchiveRule | null): string {
  if (rule === null) return 'Captures are kept here; none is put away by itself.';
  const what = rule.to === null ? 'are removed' : `go to ${rule.to}`;
  return `At each start some captures older than ${counted(Math.round(rule.olderThanDays), 'day')} ${what}, oldest first.`;
}

export interface ArchiveCommandOptions {
  /** Days. */
  olderThan?: number;
  to?: string;
  remove?: boolean;
  fromNowOn?: boolean;
  stop?: boolean;
  simulated?: boolean;
}
