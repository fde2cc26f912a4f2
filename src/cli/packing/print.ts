/** `ebbline print feeding-plan` and `day-sheet`: one printed page, as PDF or as page. */
import { familySurroundings } from '../../app/kept/family-zone.ts';
import type { SheetName } from '../../app/packing/packing-answers.ts';
import { endingOf, personOf } from '../../app/packing/sheet-asked.ts';
import { sheetFor } from '../../app/packing/sheets.ts';
import type { Query } from '../../app/review/review-answers.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { warnOpen } from '../feeds/whose.ts';
import { writeOut } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface PrintOptions {
  out?: string;
  force?: boolean;
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

/** @throws PlainError that names the option to correct; then no file is written */
export async function printCommand(name: SheetName, options: PrintOptions): Promise<void> {
  const { out = `${name}.pdf`, force = false } = options;
  const ending = endingOf(out);
  await withStore(options, async (store) => {
    const settings = readPackingSettings({
      ...readPackingSettings(store.readPacking()),
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
    writeOut(out, await sheetFor(store, name, ending, query, familySurroundings(store), settings), { force });
  });
}
