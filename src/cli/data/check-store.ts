/** `ebbline data check`: checks the stored data, and with --rebuild makes lost feeds again from their captures. */
import { checkStore, rebuildStore } from '../../app/kept/check-store.ts';
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, sayJson } from '../print-out.ts';
import { chosenDatabase } from '../with-store.ts';

/** Exit code: something is wrong. */
const EXIT_FINDINGS = 1;
const MOST_NAMED = 50;

export interface CheckStoreOptions {
  rebuild?: boolean;
  json?: boolean;
  simulated?: boolean;
}

/** @throws PlainError check-nothing, store-damaged, store-recording … */
export async function checkStoreCommand({
  rebuild = false,
  json = false,
  simulated = false,
}: CheckStoreOptions): Promise<void> {
  const { folder, rebuilt, examined } = await lookedOver(rebuild, simulated);
  const { feeds, captures, findings } = examined;
  if (findings.length > 0) process.exitCode = EXIT_FINDINGS;
  if (json) return void sayJson({ folder, feeds, captures, findings, ...(rebuilt && { rebuilt }) });
  say([
    ...(rebuilt ? rebuiltLines(rebuilt) : []),
    `Looked at ${counted(feeds, 'feed')} and ${counted(captures, 'capture')} in ${folder}.`,
    ...findings.slice(0, MOST_NAMED).map(({ what }) => `  ${what}`),
    findings.length > MOST_NAMED && `  … and ${findings.length - MOST_NAMED} more.`,
    findings.length === 0 && 'All is as it should be.',
    !rebuild &&
      chosenDatabase() === null &&
      findings.some(({ kind }) => kind === 'capture-without-feed' || kind === 'database-damaged') &&
      'Feeds can be made anew from captures: ebbline data check --rebuild',
  ]);
}

async function lookedOver(rebuild: boolean, simulated: boolean) {
  const database = chosenDatabase();
  if (database === null) {
    const folder = dataFolder({ simulated });
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

const rebuiltLines = ({ feeds, not, putAside }: ReturnType<typeof rebuildStore>): string[] => [
  ...(putAside ? [`The database could not be used and was put aside: ${putAside}`] : []),
  `Made ${counted(feeds.length, 'feed')} anew from captures${feeds.length > 0 ? `: ${feeds.join(', ')}` : ''}.`,
  ...(feeds.length > 0
    ? ['Who was fed, notes and corrections were only in the database and are not in them.']
    : []),
  ...not.map(({ capture, why }) => `Nothing was made of ${capture}: ${why}`),
];
