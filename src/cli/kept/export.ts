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
        'It says much about a family: names, times, amounts. Keep it as private as the feeds themselves.\n',
    );
  } finally {
    store.close();
  }
}

/** @throws PlainError; then nothing was imported */
export async function importCommand(file: string, options: { simulated?: boolean }): Promise<void> {
  const folder = dataFolder({ simulated: options.simulated ?? false });
  const result = importInto(folder, file, Date.now());
  const doubles =
    result.doubles === 0
      ? ''
      : ` ${counted(result.doubles, 'entry was', 'entries were')} kept already and left as they are.`;
  process.stdout.write(`Imported ${countsText(result)} into ${folder}.${doubles}\n`);
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
