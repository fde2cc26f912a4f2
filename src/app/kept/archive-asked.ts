/** Captures put away as asked on the command line, and the rule in words. */
import { resolve } from 'node:path';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import {
  type ArchiveRule,
  archiveCaptures,
  archiveRule,
  keepArchiveRule,
} from '../../store/portable/archive.ts';
import type { holdPlace } from './kept-place.ts';

export interface ArchiveAsked {
  /** Days. */
  olderThan?: number;
  into?: string;
  remove?: boolean;
  fromNowOn?: boolean;
  stop?: boolean;
}

/** @returns what was done, or what the rule is, in words @throws PlainError archive-where, archive-no-folder … */
export function archiveAsAsked(
  held: Awaited<ReturnType<typeof holdPlace>>,
  asked: ArchiveAsked,
  nowMs: number,
): string[] {
  if (asked.stop) keepArchiveRule(held.database, null);
  const rule = askedRule(asked);
  if (rule === null) return [ruleText(archiveRule(held.database))];
  const { captures, bytes } = archiveCaptures(held, rule, nowMs);
  held.letMonthsGo?.(nowMs);
  if (asked.fromNowOn) keepArchiveRule(held.database, rule);
  const what = rule.to === null ? 'Removed' : `Moved to ${rule.to}:`;
  return [
    `${what} ${counted(captures, 'capture')} (${(bytes / 1e6).toFixed(1)} MB). All else of their feeds stays.`,
    ...(asked.fromNowOn ? [ruleText(rule)] : []),
  ];
}

function askedRule({ olderThan, into, remove }: ArchiveAsked): ArchiveRule | null {
  if (olderThan === undefined && into === undefined && !remove) return null;
  if (olderThan === undefined || (into === undefined) === !remove) {
    throw new PlainError(
      'archive-where',
      'It takes an age and what to do with captures older than that.',
      'For example: ebbline data archive --older-than 2y --into /media/disk/captures, or --remove in place of --into.',
    );
  }
  return { olderThanDays: olderThan, to: into === undefined ? null : resolve(into) };
}

function ruleText(rule: ArchiveRule | null): string {
  if (rule === null) return 'Captures are kept here; none is put away by itself.';
  const what = rule.to === null ? 'are removed' : `go to ${rule.to}`;
  return `At each start some captures older than ${counted(Math.round(rule.olderThanDays), 'day')} ${what}, oldest first.`;
}
