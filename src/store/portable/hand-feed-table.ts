/** Reads a table of hand-written feeds, exported or filled in by hand, as records. */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { parse } from 'csv-parse/sync';
import { FieldError, PlainError } from '../../base/errors.ts';
import { checked, handFeedSchema } from '../checks.ts';
import { isSafeFeedId } from '../database/feed-id.ts';
import type { HandFeedExport } from './format.ts';
import { LIKE_FORMULA } from './formula.ts';
import type { ReadLine } from './read-records.ts';
import { HAND_FEEDS } from './tables.ts';

const REQUIRED = ['at', 'kind'];

/**
 * A line without an id in the column `feed` gets one made from its content, so that importing the same table twice adds nothing twice.
 * @throws PlainError import-foreign, import-broken
 */
export function* handFeedsFromTable(path: string, nowMs: number): Generator<ReadLine> {
  for (const { line, cells } of linesOfTable(path)) {
    // It was taken back, so it is not imported.
    if (cells.taken_back === 'yes') continue;
    const text = Object.values(cells).join(',');
    try {
      yield { line, text, record: recordOf(line, cells, nowMs) };
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      yield { line, text, fault: error.message };
    }
  }
}

function recordOf(line: number, cells: Record<string, string>, nowMs: number): HandFeedExport {
  const entry = checked(handFeedSchema(nowMs), entryOf(cells, line), `line ${line}`);
  const id =
    cells.feed || `hand-${createHash('sha256').update(JSON.stringify(entry)).digest('hex').slice(0, 12)}`;
  if (!isSafeFeedId(id))
    throw fieldError(line, 'feed', 'must be small letters, digits and hyphens, or empty');
  return { record: 'hand-feed', id, writtenAtMs: nowMs, entry, corrections: [] };
}

function linesOfTable(path: string): { line: number; cells: Record<string, string> }[] {
  let lines: { info: { lines: number }; record: Record<string, string> }[];
  try {
    lines = parse(fs.readFileSync(path), {
      bom: true,
      columns: true,
      info: true,
      trim: true,
      skip_empty_lines: true,
    });
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause && String(cause.code).startsWith('CSV_')) {
      throw new PlainError(
        'import-broken',
        `The table ${path} is broken: ${cause.message}. Nothing was imported.`,
        'Save it again as CSV with commas.',
        { cause },
      );
    }
    throw cause;
  }
  const columns = Object.keys(lines[0]?.record ?? {});
  const missing = REQUIRED.filter((column) => !columns.includes(column));
  const unknown = columns.filter((column) => !HAND_FEEDS.columns.includes(column));
  if (missing.length > 0 || unknown.length > 0) {
    throw new PlainError(
      'import-foreign',
      `The file ${path} is not a table of hand-written feeds: ${missing.length > 0 ? `there is no column ${missing.join(', ')}` : `the column ${unknown.join(', ')} is not known`}. Nothing was imported.`,
      `Its first line must name columns out of: ${HAND_FEEDS.columns.join(', ')}.`,
    );
  }
  return lines.map(({ info, record }) => ({ line: info.lines, cells: record }));
}

function entryOf(cells: Record<string, string>, line: number): object {
  const text = (column: string): string | null => withoutMark(cells[column]) || null;
  const number = (column: string): number | null => {
    const cell = text(column);
    if (cell === null) return null;
    if (!/^[-+]?\d+(\.\d+)?(e[-+]?\d+)?$/i.test(cell)) {
      throw fieldError(line, column, 'must be a number, with a point for decimals');
    }
    return Number(cell);
  };
  const minutes = number('length_min');
  return {
    kind: text('kind'),
    atMs: instantOf(text('at'), line),
    durationSec: minutes === null ? null : minutes * 60,
    offeredMl: number('offered_ml'),
    leftMl: number('left_ml'),
    milkKind: text('milk_kind'),
    side: text('side'),
    caregiver: text('initials'),
    note: text('note'),
    babyId: null,
    babyName: text('baby'),
  };
}

/** Removes the apostrophe that an export puts before text that looks like a formula. */
const withoutMark = (cell: string | undefined): string | undefined =>
  cell?.startsWith("'") && LIKE_FORMULA.test(cell.slice(1)) ? cell.slice(1) : cell;

/** ISO 8601, with offset from UTC, since a table has no time zone. */
function instantOf(cell: string | null, line: number): number {
  const isIso = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/.test(cell ?? '');
  const atMs = isIso ? Date.parse(cell!.replace(' ', 'T')) : Number.NaN;
  if (Number.isNaN(atMs)) {
    throw fieldError(
      line,
      'at',
      'must be a date and time with its offset, such as 2026-01-05T09:30:00-05:00',
    );
  }
  return atMs;
}

const fieldError = (line: number, column: string, what: string): FieldError =>
  new FieldError(
    'entry-invalid',
    column,
    `Line ${line}, ${column}: ${what}.`,
    'Correct it and try again; nothing was imported.',
  );
