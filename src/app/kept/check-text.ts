/** What a look over the data folder found, in words for a terminal. */
import { counted } from '../../base/counted.ts';
import type { Examined } from '../../store/check/examine.ts';
import type { Rebuilt } from './check-store.ts';

const MOST_NAMED = 50;

export type Checked = Pick<Examined, 'feeds' | 'captures' | 'findings'> & {
  folder: string;
  rebuilt?: Rebuilt;
};

/** @param isFolder  there feeds can be made anew from captures */
export function checkedText({ folder, feeds, captures, findings, rebuilt }: Checked, isFolder: boolean) {
  const canRebuild = findings.some(
    ({ kind }) => kind === 'capture-without-feed' || kind === 'database-damaged',
  );
  return [
    ...(rebuilt ? rebuiltLines(rebuilt) : []),
    `Looked at ${counted(feeds, 'feed')} and ${counted(captures, 'capture')} in ${folder}.`,
    ...findings.slice(0, MOST_NAMED).map(({ what }) => `  ${what}`),
    findings.length > MOST_NAMED && `  … and ${findings.length - MOST_NAMED} more.`,
    findings.length === 0 && 'All is as it should be.',
    !rebuilt &&
      isFolder &&
      canRebuild &&
      'Feeds can be made anew from captures: ebbline data check --rebuild',
  ];
}

const rebuiltLines = ({ feeds, not, putAside }: Rebuilt): string[] => [
  ...(putAside ? [`The database could not be used and was put aside: ${putAside}`] : []),
  `Made ${counted(feeds.length, 'feed')} anew from captures${feeds.length > 0 ? `: ${feeds.join(', ')}` : ''}.`,
  ...(feeds.length > 0
    ? ['Who was fed, notes and corrections were only in the database and are not in them.']
    : []),
  ...not.map(({ capture, why }) => `Nothing was made of ${capture}: ${why}`),
];
