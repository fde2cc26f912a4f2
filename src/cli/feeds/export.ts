/** `ebbline feeds export` and `import`: writes all stored data to plain files, and reads it back. */
import { resolve } from 'node:path';
import { atMostNamed, exchangedText } from '../../app/kept/exchange-text.ts';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { dayAfter, dayOf, dayStartMs } from '../../base/calendar.ts';
import { counted } from '../../base/counted.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportTo } from '../../store/portable/export.ts';
import type { HeldFolder } from '../../store/portable/held-folder.ts';
import { importInto } from '../../store/portable/import.ts';
import { say } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import { chosenDatabase, holdKept, withStore } from '../with-store.ts';

export interface ExportCommandOptions {
  out?: string;
  /** Days, both included. */
  from?: string;
  to?: string;
  baby?: string;
  captures?: boolean;
  simulated?: boolean;
}

/** @throws PlainError */
export async function exportCommand(options: ExportCommandOptions): Promise<void> {
  await withStore(options, (store) => {
    const { nowMs, zone } = familySurroundings(store);
    const out = resolve(options.out ?? `ebbline-export-${dayOf(nowMs(), zone)}`);
    const result = withProgress('Exporting', (onProgress) =>
      exportTo(store, out, {
        ...(options.from !== undefined && { fromMs: dayStartMs(options.from, zone) }),
        ...(options.to !== undefined && { toMs: dayStartMs(dayAfter(options.to), zone) }),
        ...(options.baby !== undefined && { baby: options.baby }),
        captures: options.captures ?? false,
        softwareVersion: SOFTWARE_VERSION,
        nowMs: nowMs(),
        onProgress,
      }),
    );
    return say([
      `Exported ${exchangedText(result)} to ${result.folder}`,
      isOfHouse(store) &&
        'Cots, labels, bindings, consents and the trail of the house are not in it; "ebbline data move" takes them along.',
      result.unreadable.length > 0 &&
        `The captures of these feeds cannot be read and are not in it: ${result.unreadable.join(', ')}.`,
      'It says much about a family: names, times, amounts. Keep it as private as the feeds themselves.',
    ]);
  });
}

const isOfHouse = (store: FeedStore): boolean =>
  store.ward(({ records }) => records.stays().length + records.labels().length > 0);

/** Destination of an import, and where lines that were set aside are written: the data folder, or the present folder if a database was chosen. */
async function placeOf(
  simulated: boolean,
): Promise<{ where: string; folder: string; hold?: () => HeldFolder }> {
  if (chosenDatabase() === null) {
    const folder = dataFolder({ simulated });
    return { where: folder, folder };
  }
  const held = await holdKept(simulated);
  return { where: held.folder, folder: resolve('.'), hold: () => held };
}

/** Exit code: the import has ended, and some lines of the file were not taken. */
const EXIT_IN_PART = 1;

/** @throws PlainError; then nothing was imported */
export async function importCommand(
  file: string,
  { simulated = false }: { simulated?: boolean },
): Promise<void> {
  const { where, folder, hold } = await placeOf(simulated);
  const result = withProgress('Importing', (onProgress) =>
    importInto(folder, file, Date.now(), onProgress, hold),
  );
  const doubles =
    result.doubles === 0
      ? ''
      : ` ${counted(result.doubles, 'entry was', 'entries were')} kept already and left as they are.`;
  say([`Imported ${exchangedText(result)} into ${where}.${doubles}`, ...atMostNamed(result.oddities)]);
  const { setAside, setAsideFile } = result;
  if (setAside.length === 0) return;
  process.stderr.write(
    `${[
      `ebbline: ${counted(setAside.length, 'line')} of ${file} did not come in; all others did.`,
      ...atMostNamed(setAside.map(({ what }) => `  ${what}`)),
      setAsideFile
        ? `They are in ${setAsideFile}: put them right there and import that file.`
        : 'Put them right and import the file again: nothing comes in twice.',
    ].join('\n')}\n`,
  );
  process.exitCode = EXIT_IN_PART;
}
