/** `ebbline feeds export` and `import`: writes all stored data to plain files, and reads it back. */
import { resolve } from 'node:path';
import { exportedText, importedText, setAsideText } from '../../app/kept/exchange-text.ts';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { holdPlace } from '../../app/kept/kept-place.ts';
import { dayAfter, dayOf, dayStartMs } from '../../base/calendar.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportTo } from '../../store/portable/export.ts';
import type { HeldFolder } from '../../store/portable/held-folder.ts';
import { importInto } from '../../store/portable/import.ts';
import { say, warn } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import { type Kept, keptPlace, onStore } from '../with-store.ts';
import type { FeedGiven } from './commands.ts';

/** @throws PlainError */
export const exportFeeds = onStore(
  async (store, { from, to, baby, captures = false, ...given }: FeedGiven<'feeds export'>) => {
    const { nowMs, zone } = familySurroundings(store);
    const out = resolve(given.out ?? `ebbline-export-${dayOf(nowMs(), zone)}`);
    const what = {
      ...(from !== undefined && { fromMs: dayStartMs(from, zone) }),
      ...(to !== undefined && { toMs: dayStartMs(dayAfter(to), zone) }),
      ...(baby !== undefined && { baby }),
      captures,
    };
    const how = { softwareVersion: SOFTWARE_VERSION, nowMs: nowMs() };
    const result = await withProgress('Exporting', (onProgress) =>
      exportTo(store, out, { ...what, ...how, onProgress }),
    );
    return exportedText(result, isOfHouse(store));
  },
);

const isOfHouse = (store: FeedStore): boolean =>
  store.ward(({ records }) => records.stays().length + records.labels().length > 0);

/** Destination of an import, and where lines that were set aside are written: the data folder, or the present folder if a database was chosen. */
async function placeOf(options: Kept): Promise<{ where: string; folder: string; hold?: () => HeldFolder }> {
  const place = keptPlace(options);
  if (typeof place === 'string') return { where: place, folder: place };
  const held = await holdPlace(place);
  return { where: held.folder, folder: resolve('.'), hold: () => held };
}

/** Exit code: the import has ended, and some lines of the file were not taken. */
const EXIT_IN_PART = 1;

/** @throws PlainError; then nothing was imported */
export async function importFeeds({ file, ...options }: FeedGiven<'feeds import'>): Promise<void> {
  const { where, folder, hold } = await placeOf(options);
  const result = await withProgress('Importing', (onProgress) =>
    importInto(folder, file, Date.now(), onProgress, hold),
  );
  say(importedText(where, result));
  if (result.setAside.length === 0) return;
  warn(setAsideText(file, result));
  process.exitCode = EXIT_IN_PART;
}
