/** `ebbline feeding-plan` and `ebbline day-sheet`: one printed page, as PDF or as page. */
import { renameSync, writeFileSync } from 'node:fs';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import type { SheetName } from '../../app/packing/packing-answers.ts';
import { sheetFor } from '../../app/packing/sheets.ts';
import type { Query } from '../../app/review/review-answers.ts';
import { PlainError } from '../../base/errors.ts';
import type { PaperEnding } from '../../paper/paper-ending.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { openStore } from '../../store/feed-store.ts';
import { warnOpen } from '../review/whose.ts';

export interface PrintOptions {
  out: string;
  language: 'en' | 'es';
  baby?: string;
  born?: string;
  day?: string;
  filled?: boolean;
  withoutSleeve?: boolean;
  /** "Mara, 555-0142". */
  call?: string;
  orCall?: string;
  leftoverRule?: string;
  note?: string[];
  simulated?: boolean;
}

/** @throws PlainError, with the option to correct; no file is written then */
export async function printCommand(name: SheetName, options: PrintOptions): Promise<void> {
  const ending = endingOf(options.out);
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    const kept = readPackingSettings(store.readPacking());
    const settings = readPackingSettings({
      ...kept,
      ...(options.call !== undefined && { parent: personOf(options.call) }),
      ...(options.orCall !== undefined && { backup: personOf(options.orCall) }),
      ...(options.leftoverRule !== undefined && { leftoverRule: options.leftoverRule }),
      ...(options.note !== undefined && { notes: options.note }),
    });
    warnOpen(store);
    const query: Query = {
      language: options.language,
      baby: options.baby,
      birthDay: options.born,
      day: options.day,
      filled: options.filled ? 'yes' : undefined,
      sleeve: options.withoutSleeve ? 'none' : undefined,
    };
    write(options.out, await sheetFor(store, name, ending, query, familySurroundings(store), settings));
  } finally {
    store.close();
  }
}

function endingOf(out: string): PaperEnding {
  const ending = /\.(pdf|html)$/.exec(out)?.[1];
  if (ending) return ending as PaperEnding;
  throw new PlainError(
    'sheet-ending',
    `The file ${out} must end in .pdf or .html.`,
    'Choose one of the two.',
  );
}

function personOf(text: string): { name: string; phone: string } {
  const [, name, phone] = /^(.+?),\s*(.+)$/.exec(text) ?? [];
  if (name && phone) return { name, phone };
  throw new PlainError(
    'person-impossible',
    `"${text}" is no name with a number.`,
    'Write it as "Name, number".',
  );
}

/** Whole or not at all. */
function write(path: string, content: string | Uint8Array): void {
  try {
    writeFileSync(`${path}.part`, content);
    renameSync(`${path}.part`, path);
    process.stdout.write(`${path}\n`);
  } catch (cause) {
    const reason = (cause as NodeJS.ErrnoException).code ?? String(cause);
    throw new PlainError(
      'sheet-unwritable',
      `The file ${path} cannot be written (${reason}).`,
      'Choose another place.',
      { cause },
    );
  }
}
