/** What the commands about all stored data do. */
import { archiveAsAsked } from '../../app/kept/archive-asked.ts';
import { checkedText } from '../../app/kept/check-text.ts';
import { chooseZone, familyZone, tellZoneInside } from '../../app/kept/family-zone.ts';
import { holdPlace } from '../../app/kept/kept-place.ts';
import { PlainError } from '../../base/errors.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, shown } from '../print-out.ts';
import { chosenDatabase, keptPlace, onStore } from '../with-store.ts';
import type { DataGiven, DataRuns } from './commands.ts';

/** Exit code: something is wrong. */
const EXIT_FINDINGS = 1;

export const runs: DataRuns = {
  'data backup': async (given) => (await import('./backup.ts')).saveBackup(given),
  'data restore': async (given) => (await import('./backup.ts')).restoreBackup(given),
  'data move': async (given) => (await import('./backup.ts')).moveData(given),
  'data archive': async (given) => {
    const held = await holdPlace(keptPlace(given));
    try {
      say(archiveAsAsked(held, given, Date.now()));
    } finally {
      held.close();
    }
  },
  'data check': async (given) => {
    const { folder, rebuilt, examined } = await lookedOver(given);
    const { feeds, captures, findings } = examined;
    if (findings.length > 0) process.exitCode = EXIT_FINDINGS;
    const found = { folder, feeds, captures, findings, ...(rebuilt && { rebuilt }) };
    say(shown(given.json, found, () => checkedText(found, chosenDatabase() === null)));
  },
  'data time-zone': onStore((store, { zone, simulated }, folder) => {
    const now = zone === undefined ? familyZone(store) : chooseZone(store, zone);
    if (zone !== undefined && !simulated) tellZoneInside(folder, now.zone);
    const whence = now.isChosen ? 'as chosen' : 'as this computer’s clock is set; nobody chose one';
    return [
      `Days and times are those of ${now.zone}, ${whence}.`,
      now.asks && 'Choose yours: ebbline data time-zone America/Chicago',
    ];
  }),
  'data forget': async (given) => (await import('./forget.ts')).forgetBaby(given),
};

async function lookedOver({ rebuild, ...options }: DataGiven<'data check'>) {
  const database = chosenDatabase();
  if (database === null) {
    const { checkStore, rebuildStore } = await import('../../app/kept/check-store.ts');
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
