/** Imports an export in one transaction. A wrong line is reported and set aside; all others are imported. */
import * as fs from 'node:fs';
import { dirname, join } from 'node:path';
import { messageOf, PlainError } from '../../base/errors.ts';
import { replaceFile, writeAll } from '../disk.ts';
import { plainly } from '../faults.ts';
import { RECORDS_FILE } from './format.ts';
import { handFeedsFromTable } from './hand-feed-table.ts';
import { type HeldFolder, holdFolder } from './held-folder.ts';
import { Importer, mixed, type SetAside } from './importer.ts';
import { linesOf } from './lines.ts';
import { type ReadLine, readRecords, versionOf } from './read-records.ts';

export interface ImportResult {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  captures: number;
  /** Feeds, hand-written feeds and milk events that existed already; they were not changed. */
  doubles: number;
  /** Lines that were not imported, with reasons, in the order of the file. */
  setAside: SetAside[];
  /** Notes about imported records that look wrong. */
  oddities: string[];
  /** A file with the lines that were set aside, to be corrected and imported; null if there are none. */
  setAsideFile: string | null;
}

/**
 * Reads `path` (an export's folder, its file of records, or a table of hand-written feeds) into the data folder `folder`.
 * @param hold  takes another place than a data folder; `folder` is then where lines go that are set aside
 * @throws PlainError import-missing, import-foreign, import-newer, import-broken (a table), store-mixed, store-recording …;
 *   then nothing was imported
 */
export function importInto(
  folder: string,
  path: string,
  nowMs: number,
  onProgress: (done: number, of: number) => void = () => {},
  hold: () => HeldFolder = () => holdFolder(folder, () => nowMs),
): ImportResult {
  const file = fileIn(path);
  const isTable = file.endsWith('.csv');
  const read = (): Iterable<ReadLine> =>
    plainlyRead(file, () => (isTable ? handFeedsFromTable(file, nowMs) : readRecords(file)));
  const { simulated, count, feedIds } = kindOf(file, read());
  // In a table written by hand, and in exports of version 1, the name alone decides which baby a feed belongs to.
  const isByName = isTable || versionOf(file) < 2;
  const held = hold();
  try {
    return plainly(folder, () => {
      const { lines, ...result } = new Importer(held, dirname(file), nowMs, simulated, isByName).run(
        told(read(), count, onProgress),
        feedIds,
      );
      const setAsideFile = isTable ? null : keepAside(folder, file, lines, nowMs);
      return { ...result, setAsideFile };
    });
  } finally {
    held.close();
  }
}

/** Includes the first line of the file, so that it can be imported after correction. */
function keepAside(folder: string, file: string, lines: readonly string[], nowMs: number): string | null {
  const [head] = linesOf(file);
  if (lines.length === 0) return null;
  const path = join(
    folder,
    `set-aside-${new Date(nowMs).toISOString().slice(0, 19).replaceAll(':', '')}.jsonl`,
  );
  replaceFile(fs, path, (fd) => writeAll(fs, fd, Buffer.from([head, ...lines, ''].join('\n'))));
  return path;
}

function fileIn(path: string): string {
  try {
    return fs.statSync(path).isDirectory() ? join(path, RECORDS_FILE) : path;
  } catch (cause) {
    throw new PlainError('import-missing', `There is nothing named ${path}.`, 'Check the name.', { cause });
  }
}

function* plainlyRead(file: string, read: () => Iterable<ReadLine>): Generator<ReadLine> {
  try {
    yield* read();
  } catch (cause) {
    if (cause instanceof PlainError) throw cause;
    throw new PlainError(
      'import-unreadable',
      `The file ${file} cannot be read (${messageOf(cause)}). Nothing was imported.`,
      'Check the name, and that you may read it.',
      { cause },
    );
  }
}

function* told(
  lines: Iterable<ReadLine>,
  count: number,
  onProgress: (done: number, of: number) => void,
): Generator<ReadLine> {
  let done = 0;
  for (const line of lines) {
    yield line;
    onProgress(++done, count);
  }
}

/**
 * Reads the whole file once.
 * @returns number of lines; ids of its feeds; whether its feeds are simulated, null if it has none
 * @throws PlainError store-mixed
 */
function kindOf(
  file: string,
  lines: Iterable<ReadLine>,
): { simulated: boolean | null; count: number; feedIds: Set<string> } {
  let count = 0;
  const feedIds = new Set<string>();
  let simulated: boolean | null = null;
  for (const one of lines) {
    count++;
    if (!('record' in one) || one.record.record !== 'feed') continue;
    if (simulated !== null && simulated !== one.record.simulated) throw mixed(file);
    simulated = one.record.simulated;
    feedIds.add(one.record.id);
  }
  return { simulated, count, feedIds };
}
