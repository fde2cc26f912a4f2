/** Content of an export or import in words for a terminal. */
import { counted } from '../../base/counted.ts';
import type { ExportResult } from '../../store/portable/export.ts';
import type { ImportResult } from '../../store/portable/import.ts';

/** Up to this many are listed one by one. */
const MOST_NAMED = 20;
const atMostNamed = (lines: readonly string[]): string[] =>
  lines.length > MOST_NAMED
    ? [...lines.slice(0, MOST_NAMED), `… and ${lines.length - MOST_NAMED} more.`]
    : [...lines];

type Exchanged = Pick<ExportResult, 'feeds' | 'handFeeds' | 'milkEvents' | 'captures'>;

function exchangedText({ feeds, handFeeds, milkEvents, captures }: Exchanged): string {
  const withCaptures = captures > 0 ? ` with ${counted(captures, 'capture')}` : '';
  return `${counted(feeds, 'feed')}${withCaptures}, ${counted(handFeeds, 'feed')} written in by hand, ${counted(milkEvents, 'entry', 'entries')} of the milk ledger`;
}

/** @param isOfHouse  children in cots are kept there too */
export const exportedText = (result: ExportResult, isOfHouse: boolean) => [
  `Exported ${exchangedText(result)} to ${result.folder}`,
  isOfHouse &&
    'Cots, labels, bindings, consents and the trail of the house are not in it; "ebbline data move" takes them along.',
  result.unreadable.length > 0 &&
    `The captures of these feeds cannot be read and are not in it: ${result.unreadable.join(', ')}.`,
  'It says much about a family: names, times, amounts. Keep it as private as the feeds themselves.',
];

export function importedText(folder: string, result: ImportResult): string[] {
  const doubles =
    result.doubles === 0
      ? ''
      : ` ${counted(result.doubles, 'entry was', 'entries were')} kept already and left as they are.`;
  return [`Imported ${exchangedText(result)} into ${folder}.${doubles}`, ...atMostNamed(result.oddities)];
}

/** Of lines that did not come in. */
export const setAsideText = (file: string, { setAside, setAsideFile }: ImportResult): string =>
  [
    `${counted(setAside.length, 'line')} of ${file} did not come in; all others did.`,
    ...atMostNamed(setAside.map(({ what }) => `  ${what}`)),
    setAsideFile
      ? `They are in ${setAsideFile}: put them right there and import that file.`
      : 'Put them right and import the file again: nothing comes in twice.',
  ].join('\n');
