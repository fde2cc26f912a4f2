/** `ebbline print feeding-plan` and `day-sheet`: one printed page, as PDF or as page. */
import { endingOf } from '../../app/out-file.ts';
import type { SheetName } from '../../app/packing/packing-answers.ts';
import { type SheetAsked, sheetAsAsked } from '../../app/packing/sheet-asked.ts';
import { PAPER_ENDINGS } from '../../paper/paper-ending.ts';
import { warnOpen } from '../feeds/whose.ts';
import { writeOut } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** @throws PlainError that names the option to correct; then no file is written */
export async function printCommand(
  name: SheetName,
  options: SheetAsked & Kept & { out?: string; force?: boolean },
): Promise<void> {
  const { out = `${name}.pdf` } = options;
  const ending = endingOf(out, PAPER_ENDINGS);
  await withStore(options, async (store) => {
    warnOpen(store);
    writeOut(out, await sheetAsAsked(store, name, ending, options), options);
  });
}
