/** A look over what is kept, in a data folder or at a site of a database, as the command line asks for it. */
import { PlainError } from '../../base/errors.ts';
import { checkStore, rebuildStore } from './check-store.ts';
import type { Checked } from './check-text.ts';
import type { KeptPlace } from './kept-place.ts';

/** @param rebuild  make feeds again from captures without one @throws PlainError check-nothing, check-rebuild … */
export async function checkAsAsked(place: KeptPlace, rebuild: boolean): Promise<Checked> {
  if (typeof place === 'string') {
    const rebuilt = rebuild ? rebuildStore(place, Date.now()) : null;
    const { feeds, captures, findings } = checkStore(place, true);
    return { folder: place, feeds, captures, findings, ...(rebuilt && { rebuilt }) };
  }
  if (rebuild)
    throw new PlainError(
      'check-rebuild',
      'In a database no feeds are made anew from captures.',
      'Bring its backup back: pg_restore. Or make them anew in a folder: ebbline data move --from ADDRESS --to FOLDER, then EBBLINE_DATA=FOLDER ebbline data check --rebuild.',
    );
  const { examineSite } = await import('../../store/postgres/examine-site.ts');
  const { where: folder, feeds, captures, findings } = examineSite(place);
  return { folder, feeds, captures, findings };
}
