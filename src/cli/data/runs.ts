/** What the commands about all stored data do. */
import { archiveAsAsked } from '../../app/kept/archive-asked.ts';
import { checkedText } from '../../app/kept/check-text.ts';
import { zoneAsAsked } from '../../app/kept/family-zone.ts';
import { holdPlace } from '../../app/kept/kept-place.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, shown } from '../print-out.ts';
import { type OnProgress, withProgress } from '../progress.ts';
import { keptPlace, onStore } from '../with-store.ts';
import type { DataRuns } from './commands.ts';

/** Exit code: something is wrong. */
const EXIT_FINDINGS = 1;

const backups = () => import('../../app/kept/backup-asked.ts');

export const runs: DataRuns = {
  'data backup': async ({ out, ...given }) => {
    const { backUpAsAsked } = await backups();
    const save = (onProgress: OnProgress) => backUpAsAsked(dataFolder(given), out, onProgress);
    say(await withProgress('Backing up', save));
  },
  'data restore': async (given) => {
    const { restoreAsAsked } = await backups();
    const restore = (onProgress: OnProgress) => restoreAsAsked(dataFolder(given), given, onProgress);
    say(await withProgress('Restoring', restore));
  },
  'data move': async (given) => {
    const { moveAsAsked } = await backups();
    say(await withProgress('Moving', (onProgress) => moveAsAsked(given, onProgress)));
  },
  'data archive': async (given) => {
    const held = await holdPlace(keptPlace(given));
    try {
      say(archiveAsAsked(held, given, Date.now()));
    } finally {
      held.close();
    }
  },
  'data check': async ({ rebuild = false, json, ...given }) => {
    const { checkAsAsked } = await import('../../app/kept/check-asked.ts');
    const place = keptPlace(given);
    const found = await checkAsAsked(place, rebuild);
    if (found.findings.length > 0) process.exitCode = EXIT_FINDINGS;
    say(shown(json, found, () => checkedText(found, typeof place === 'string')));
  },
  'data time-zone': onStore((store, { zone, simulated }, folder) =>
    zoneAsAsked(store, simulated ? null : folder, zone),
  ),
  'data forget': async (given) => (await import('./forget.ts')).forgetBaby(given),
};
