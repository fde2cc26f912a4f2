/** `ebbline data check`: checks the stored data, and with --rebuild makes lost feeds again from their captures. */
import { checkStore, rebuildStore } from '../../app/kept/check-store.ts';
import { checkedText } from '../../app/kept/check-text.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { answer } from '../print-out.ts';
import { chosenDatabase, type Kept } from '../with-store.ts';

/** Exit code: something is wrong. */
const EXIT_FINDINGS = 1;

type CheckOptions = Kept & { rebuild?: boolean; json?: boolean };

/** @throws PlainError check-nothing, check-rebuild, store-damaged, store-recording … */
export async function checkStoreCommand(options: CheckOptions): Promise<void> {
  const { folder, rebuilt, examined } = await lookedOver(options);
  const { feeds, captures, findings } = examined;
  if (findings.length > 0) process.exitCode = EXIT_FINDINGS;
  answer(options.json, { folder, feeds, captures, findings, ...(rebuilt && { rebuilt }) }, (found) =>
    checkedText(found, chosenDatabase() === null),
  );
}

async function lookedOver({ rebuild, ...options }: CheckOptions) {
  const database = chosenDatabase();
  if (database === null) {
    const folder = dataFolder(options);
    const rebuilt = rebuild ? rebuildStore(folder, Date.now()) : null;
    return { folder, rebuilt, examined: checkStore(folder, true) };
  }
  if (rebuild)
    throw new PlainError(
      'check-rebuild',
      'In a database no feeds are made anew from captures.',
      'Bring its backup back: pg_restore. Or make them anew in a folder: ebbline data move --from ADDRESS --to FOLDER, then EBBLINE_DATA=FOLDER ebbline data check --rebuild.',
    );
  const { examineSite } = await import('../../store/postgres/examine-site.ts');
  const { where, ...examined } = examineSite(database);
  return { folder: where, rebuilt: null, examined };
}
