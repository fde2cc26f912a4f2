/** All that is kept written to plain files, and read back, as the command line asks for it. */
import { resolve } from 'node:path';
import { dayAfter, dayOf, dayStartMs } from '../../base/calendar.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportTo } from '../../store/portable/export.ts';
import { importInto } from '../../store/portable/import.ts';
import { exportedText, importedText, setAsideText } from './exchange-text.ts';
import { familySurroundings } from './family-zone.ts';
import { holdPlace, type KeptPlace } from './kept-place.ts';

type OnProgress = (done: number, of: number) => void;

export interface ExportAsked {
  /** Folder to make; without it one named after the day. */
  out?: string;
  /** First and last day, YYYY-MM-DD. */
  from?: string;
  to?: string;
  baby?: string;
  captures?: boolean;
}

/** @returns what was written, in words @throws PlainError export-exists, store-full, store-folder */
export function exportAsAsked(store: FeedStore, asked: ExportAsked, onProgress: OnProgress) {
  const { from, to, baby, captures = false } = asked;
  const { nowMs, zone } = familySurroundings(store);
  const out = resolve(asked.out ?? `ebbline-export-${dayOf(nowMs(), zone)}`);
  const result = exportTo(store, out, {
    ...(from !== undefined && { fromMs: dayStartMs(from, zone) }),
    ...(to !== undefined && { toMs: dayStartMs(dayAfter(to), zone) }),
    ...(baby !== undefined && { baby }),
    ...{ captures, softwareVersion: SOFTWARE_VERSION, nowMs: nowMs(), onProgress },
  });
  return exportedText(result, isOfHouse(store));
}

const isOfHouse = (store: FeedStore): boolean =>
  store.ward(({ records }) => records.stays().length + records.labels().length > 0);

/**
 * Lines that cannot be read are set aside: in the data folder, or in the present folder if the place is a database.
 * @returns what came in, in words; and what did not, null if all did
 * @throws PlainError; then nothing was imported
 */
export async function importAsAsked(place: KeptPlace, file: string, onProgress: OnProgress) {
  const inFolder = typeof place === 'string';
  const held = inFolder ? null : await holdPlace(place);
  const where = held?.folder ?? String(place);
  const asideIn = inFolder ? place : resolve('.');
  const result = importInto(asideIn, file, Date.now(), onProgress, held ? () => held : undefined);
  return {
    imported: importedText(where, result),
    setAside: result.setAside.length === 0 ? null : setAsideText(file, result),
  };
}
