/** `ebbline export` and `ebbline import`: everything that is kept, out into plain files and back in. */
import { resolve } from 'node:path';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { openStore } from '../../store/feed-store.ts';
import { exportTo } from '../../store/portable/export.ts';
import { importInto } from '../../store/portable/import.ts';
import { counted } from './counted.ts';

export interface ExportCommandOptions {
  out?: string;
  from?: number;
  to?: number;
  baby?: string;
  captures?: boolean;
  simulated?: boolean;
}

/** @throws PlainError */
export async function exportCommand(options: ExportCommandOptions): Promise<void> {
  const nowMs = Date.now();
  const out = resolve(options.out ?? `ebbline-export-${localDay(nowMs)}`);
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    const result = exportTo(store, out, {
      ...(options.from !== undefined && { fromMs: options.from }),
      ...(options.to !== undefined && { toMs: options.to }),
      ...(options.baby !== undefined && { baby: options.baby }),
      captures: options.captures ?? false,
      softwareVersion: SOFTWARE_VERSION,
      nowMs,
    });
    process.stdout.write(
      `Exported ${countsText(result)} to ${result.folder}\n` +
        (result.unreadable.length > 0
          ? `The captures of these feeds cannot be read and are not in it: ${result.unreadable.join(', ')}.\n`
          : '') +
        'It says much about a family: names, times, amounts. Keep it as private as the feeds themselves.\n',
    );
  } finally {
    store.close();
  }
}

/** `ebbline import` ended, and some lines of the file did not come in. */
const EXIT_IN_PART = 1;
/** So many are named one by one. */
const MOST_NAMED = 20;

/** @throws PlainError; then nothing was imported */
export async function importCommand(file: string, options: { simulated?: boolean }): Promise<void> {
  const folder = dataFolder({ simulated: options.simulated ?? false });
  const result = importInto(folder, file, Date.now());
  const doubles =
    result.doubles === 0
      ? ''
      : ` ${counted(result.doubles, 'entry was', 'entries were')} kept already and left as they are.`;
  process.stdout.write(`Imported ${countsText(result)} into ${folder}.${doubles}\n`);
  sayAtMost(result.oddities, (text) => process.stdout.write(`${text}\n`));
  if (result.setAside.length === 0) return;
  const { setAside, setAsideFile } = result;
  process.stderr.write(
    `ebbline: ${counted(setAside.length, 'line')} of ${file} did not come in; all others did.\n`,
  );
  sayAtMost(
    setAside.map(({ what }) => what),
    (text) => process.stderr.write(`  ${text}\n`),
  );
  if (setAsideFile) {
    process.stderr.write(`They are in ${setAsideFile}: put them right there and import that file.\n`);
  } else process.stderr.write('Put them right and import the file again: nothing comes in twice.\n');
  process.exitCode = EXIT_IN_PART;
}

function sayAtMost(lines: readonly string[], say: (line: string) => void): void {
  for (const line of lines.slice(0, MOST_NAMED)) say(line);
  if (lines.length > MOST_NAMED) say(`… and ${lines.length - MOST_NAMED} more.`);
}

function countsText(result: {
  feeds: number;
  handFeeds: number;
  milkEvents: number;
  captures: number;
}): string {
  const captures = result.captures > 0 ? ` with ${counted(result.captures, 'capture')}` : '';
  return `${counted(result.feeds, 'feed')}${captures}, ${counted(result.handFeeds, 'feed')} written in by hand, ${counted(result.milkEvents, 'entry', 'entries')} of the milk ledger`;
}

function localDay(atMs: number): string {
  const date = new Date(atMs);
  const two = (part: number) => String(part).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
