/** Export: one file of records that can be imported again, and tables for a spreadsheet. FORMAT.md describes both. */
import * as fs from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { stringify } from 'csv-stringify/sync';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import { syncFolderOf } from '../disk.ts';
import { plainly } from '../faults.ts';
import type { FeedStore } from '../feed-store.ts';
import { FEED_TABLES } from './feed-tables.ts';
import { RECORDS_FILE } from './format.ts';
import { LIKE_FORMULA } from './formula.ts';
import { OutFile } from './out-file.ts';
import { type ExportChoice, exportedOf, exportHead, isEverything } from './records.ts';
import type { Cell, Table } from './table.ts';
import { BABIES, HAND_FEEDS, MILK } from './tables.ts';

export interface ExportOptions extends ExportChoice {
  /** The captures too, as gzip. */
  captures?: boolean;
  softwareVersion: string;
  nowMs: number;
}

export interface ExportResult {
  folder: string;
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  captures: number;
  /** Feeds whose capture exists but cannot be read; everything else of them is exported. */
  unreadable: string[];
}

/**
 * Writes `folder`, which must not exist yet; it appears completely or not at all.
 * @throws PlainError export-exists, store-full, store-folder
 */
export function exportTo(store: FeedStore, folder: string, options: ExportOptions): ExportResult {
  if (fs.existsSync(folder)) {
    throw new PlainError(
      'export-exists',
      `There is something named ${folder} already. It was left as it is.`,
      'Choose another name with --out.',
    );
  }
  const partial = join(dirname(folder), `.${basename(folder)}.partial`);
  try {
    return plainly(folder, () => {
      fs.rmSync(partial, { recursive: true, force: true });
      // Not recursive: on some systems creating the folders above fails and would be tried forever.
      fs.mkdirSync(partial, { mode: 0o700 });
      const result = fillFolder(store, partial, options);
      fs.renameSync(partial, folder);
      syncFolderOf(folder);
      return { ...result, folder };
    });
  } catch (error) {
    try {
      fs.rmSync(partial, { recursive: true, force: true });
    } catch {
      // The folder does not exist; the first error says why.
    }
    throw error;
  }
}

function fillFolder(store: FeedStore, folder: string, options: ExportOptions): Omit<ExportResult, 'folder'> {
  const files: OutFile[] = [];
  const fileOf = (name: string): OutFile => {
    const file = new OutFile(join(folder, name));
    files.push(file);
    return file;
  };
  const records = fileOf(RECORDS_FILE);
  const tables = <T>(list: readonly Table<T>[]): ((thing: T | undefined) => void) => {
    const writers = list.map((table) => tableWriter(fileOf(table.file), table));
    return (thing) => {
      if (thing) for (const write of writers) write(thing);
    };
  };
  try {
    const [addBaby, addFeed, addHandFeed] = [tables([BABIES]), tables(FEED_TABLES), tables([HAND_FEEDS])];
    const addMilk = isEverything(options) ? tables([MILK]) : () => {};
    const result = { feeds: 0, handFeeds: 0, milkEvents: 0, captures: 0, unreadable: [] as string[] };
    records.write(`${JSON.stringify(exportHead(options.nowMs, options.softwareVersion))}\n`);
    for (const { record, baby, feed, handFeed, milk } of exportedOf(store, options)) {
      records.write(`${JSON.stringify(record)}\n`);
      addBaby(baby);
      addFeed(feed);
      addHandFeed(handFeed);
      addMilk(milk);
      result.feeds += Number(feed !== undefined);
      result.handFeeds += Number(handFeed !== undefined);
      result.milkEvents += Number(milk !== undefined);
      if (!feed || !options.captures) continue;
      const how = exportCapture(store, feed.id, folder);
      if (how === 'unreadable') result.unreadable.push(feed.id);
      else if (how === 'out') result.captures++;
    }
    for (const file of files) file.finish();
    return result;
  } finally {
    for (const file of files) file.close();
  }
}

/** Unpacks the capture and compresses it as gzip, so that any program can read it. */
function exportCapture(store: FeedStore, feedId: string, folder: string): 'out' | 'none' | 'unreadable' {
  const path = store.capturePath(feedId);
  if (path === null) return 'none';
  let bytes: Uint8Array;
  try {
    bytes = readCapture(path).bytes;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    // The feed was killed in its first second, before any bytes were stored.
    return error.code === 'capture-empty' ? 'none' : 'unreadable';
  }
  fs.mkdirSync(join(folder, 'captures'), { recursive: true, mode: 0o700 });
  fs.writeFileSync(join(folder, 'captures', `${feedId}.cap.gz`), gzipSync(bytes), { mode: 0o600 });
  return 'out';
}

function tableWriter<T>(file: OutFile, { columns, lines }: Table<T>): (thing: T) => void {
  // The byte order mark tells spreadsheets that this is UTF-8.
  file.write(`\uFEFF${csv([[...columns]])}`);
  return (thing) => file.write(csv(lines(thing)));
}

/** A text that a spreadsheet would take for a formula gets an apostrophe before it (OWASP, "CSV Injection"). */
const harmless = (cell: Cell): Cell =>
  typeof cell === 'string' && LIKE_FORMULA.test(cell) ? `'${cell}` : cell;

/** RFC 4180. */
const csv = (lines: Cell[][]): string =>
  stringify(
    lines.map((line) => line.map(harmless)),
    { record_delimiter: 'windows' },
  );

/** The file of records alone, a line at a time, for streaming. */
export function* exportLines(
  store: FeedStore,
  { nowMs, softwareVersion, ...choice }: ExportOptions,
): Generator<string> {
  yield `${JSON.stringify(exportHead(nowMs, softwareVersion))}\n`;
  for (const { record } of exportedOf(store, choice)) yield `${JSON.stringify(record)}\n`;
}
