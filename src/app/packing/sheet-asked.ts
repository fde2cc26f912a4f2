/** A printed sheet as the command line asks for it. */
import { PlainError } from '../../base/errors.ts';
import type { PaperEnding } from '../../paper/paper-ending.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { familySurroundings } from '../kept/family-zone.ts';
import type { SheetName } from './packing-answers.ts';
import { sheetFor } from './sheets.ts';

export interface SheetAsked {
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
}

/** @throws PlainError, with the option to correct */
export function sheetAsAsked(
  store: FeedJournal,
  name: SheetName,
  ending: PaperEnding,
  asked: SheetAsked,
): Promise<string | Uint8Array> {
  const { language, baby, day, born: birthDay, call, orCall, leftoverRule, note: notes } = asked;
  const settings = readPackingSettings({
    ...readPackingSettings(store.readPacking()),
    ...(call !== undefined && { parent: personOf(call) }),
    ...(orCall !== undefined && { backup: personOf(orCall) }),
    ...(leftoverRule !== undefined && { leftoverRule }),
    ...(notes !== undefined && { notes }),
  });
  const query = {
    ...{ language, baby, day, birthDay },
    filled: asked.filled ? 'yes' : undefined,
    sleeve: asked.withoutSleeve ? 'none' : undefined,
  };
  return sheetFor(store, name, ending, query, familySurroundings(store), settings);
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
