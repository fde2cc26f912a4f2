/** `ebbline feeds export` and `import`: everything that is kept, out into plain files and back in. */
import { resolve } from 'node:path';
import { exportedText, importedText, setAsideText } from '../../app/kept/exchange-text.ts';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { dayAfter, dayOf, dayStartMs } from '../../base/calendar.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { exportTo } from '../../store/portable/export.ts';
import { importInto } from '../../store/portable/import.ts';
import { say, warn } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import { type Kept, withStore } from '../with-store.ts';

export interface ExportCommandOptions extends Kept {
  out?: string;
  /** Days, both in it. */
  from?: string;
  to?: string;
  baby?: string;
  captures?: boolean;
}

/** @throws PlainError */
export const exportCommand = ({ from, to, baby, captures = false, ...options }: ExportCommandOptions) =>
  withStore(options, async (store) => {
    const { nowMs, zone } = familySurroundings(store);
    const out = resolve(options.out ?? `ebbline-export-${dayOf(nowMs(), zone)}`);
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
    say(exportedText(result));
  });

/** The import ended, and some lines of the file did not come in. */
const EXIT_IN_PART = 1;

/** @throws PlainError; then nothing was imported */
export async function importCommand(file: string, options: Kept): Promise<void> {
  const folder = dataFolder(options);
  const result = await withProgress('Importing', (onProgress) =>
    importInto(folder, file, Date.now(), onProgress),
  );
  say(importedText(folder, result));
  if (result.setAside.length === 0) return;
  warn(setAsideText(file, result));
  process.exitCode = EXIT_IN_PART;
}
