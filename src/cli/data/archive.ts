/** `ebbline data archive`: old captures put away or removed; all else of their feeds stays. */
import { type ArchiveAsked, archiveAsAsked } from '../../app/kept/archive-asked.ts';
import { holdPlace } from '../../app/kept/kept-place.ts';
import { say } from '../print-out.ts';
import { type Kept, keptPlace } from '../with-store.ts';

/** @throws PlainError archive-where, archive-no-folder, store-recording … */
export async function archiveCommand(options: ArchiveAsked & Kept): Promise<void> {
  const held = await holdPlace(keptPlace(options));
  try {
    say(archiveAsAsked(held, options, Date.now()));
  } finally {
    held.close();
  }
}
