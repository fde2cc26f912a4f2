/** Archives or removes old captures; everything else of their feeds stays: totals, rows, cues, the refined pass. */
import * as fs from 'node:fs';
import { basename, isAbsolute, join } from 'node:path';
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import type { Captures } from '../captures/captures.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { Settings } from '../database/settings.ts';
import { replaceFile, writeAll } from '../disk.ts';
import { plainly } from '../faults.ts';

const DAY_MS = 24 * 3600_000;
const SETTING = 'archive';
/** Most captures at one start, so that a feed does not have to wait; the rest follows at later starts. */
const MOST_AT_START = 25;

const ruleSchema = z.strictObject({
  olderThanDays: z.number().positive(),
  /** Absolute path of a folder; null: captures are removed for good. */
  to: z.string().refine(isAbsolute, 'must be an absolute path').nullable(),
});
export type ArchiveRule = z.infer<typeof ruleSchema>;

export interface ArchiveResult {
  captures: number;
  bytes: number;
}

interface Place {
  folder: string;
  database: FeedDatabase;
  captures: Captures;
}

/**
 * Applies `rule` once. Each capture is copied, read again and compared before the original is removed; an interruption leaves at least one copy.
 * @param most  most captures to process
 * @throws PlainError archive-no-folder, archive-other, store-full …; captures processed before stay archived
 */
export function archiveCaptures(
  place: Place,
  rule: ArchiveRule,
  nowMs: number,
  most = Number.POSITIVE_INFINITY,
): ArchiveResult {
  const { database, captures } = place;
  if (rule.to !== null && !fs.existsSync(rule.to)) {
    throw new PlainError(
      'archive-no-folder',
      `There is no folder ${rule.to}.`,
      'Make it, or plug in the disk that holds it; it is not made by itself, lest it be on the wrong disk.',
    );
  }
  const old = database
    .prepare<{ id: string; capture_file: string }>(
      `SELECT id, capture_file FROM feed WHERE state <> 'open' AND at_ms < ? ORDER BY at_ms, no`,
    )
    .all(nowMs - rule.olderThanDays * DAY_MS);
  const rename = database.prepare('UPDATE feed SET capture_file = ? WHERE id = ?');
  const result: ArchiveResult = { captures: 0, bytes: 0 };
  for (const { id, capture_file } of old) {
    const name = captures.find(id);
    if (name === null) {
      // A cut between a capture and its sidecar leaves the sidecar.
      if (capture_file === '' || isAbsolute(capture_file)) captures.removeSidecar(id);
      continue;
    }
    if (result.captures >= most) break;
    plainly(rule.to ?? place.folder, () => {
      const bytes = captures.read(name);
      const isThere = isAbsolute(capture_file) && fs.existsSync(capture_file);
      if (!isThere) {
        const to = rule.to && putAway(captures, id, name, rule.to, bytes);
        rename.run(to ?? '', id);
      }
      captures.removeAll(id);
      result.captures++;
      result.bytes += bytes.length;
    });
  }
  return result;
}

/** Copies a capture to the archive. @returns its new path */
function putAway(captures: Captures, id: string, name: string, folder: string, bytes: Buffer): string {
  const path = join(folder, basename(name));
  if (fs.existsSync(path) && !fs.readFileSync(path).equals(bytes)) {
    throw new PlainError(
      'archive-other',
      `There is another file ${path} already. Both were left as they are.`,
      'Move that one away, or choose another folder.',
    );
  }
  replaceFile(fs, path, (fd) => writeAll(fs, fd, bytes));
  if (!fs.readFileSync(path).equals(bytes)) throw Object.assign(new Error(path), { code: 'EIO' });
  const sidecar = captures.readSidecar(id);
  if (sidecar) replaceFile(fs, join(folder, `${id}.json`), (fd) => writeAll(fs, fd, sidecar));
  return path;
}

/** The rule applied at each start; null if there is none. */
export function archiveRule(database: FeedDatabase): ArchiveRule | null {
  const parsed = ruleSchema.safeParse(new Settings(database).readFor(SETTING));
  return parsed.success ? parsed.data : null;
}

/** @param rule  null: from now on nothing is archived automatically */
export function keepArchiveRule(database: FeedDatabase, rule: ArchiveRule | null): void {
  new Settings(database).writeFor(SETTING, rule);
}

/** Applies the stored rule, if any, to a few captures. An error is ignored and tried again at the next start. */
export function archiveByRule(place: Place, nowMs: number): void {
  const rule = archiveRule(place.database);
  if (rule === null) return;
  try {
    archiveCaptures(place, rule, nowMs, MOST_AT_START);
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
  }
}
