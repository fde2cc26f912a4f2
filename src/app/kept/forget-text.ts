/** A deletion in words for a terminal: before it, and its result. */
import { counted } from '../../base/counted.ts';
import type { ForgetResult } from '../../store/portable/forget.ts';
import type { Forgetting } from './forgetting.ts';

/** What a person is asked to confirm. */
export const toForgetText = ({ where, kept }: Pick<Forgetting, 'where' | 'kept'>): string[] => [
  `Of ${kept.name} there are ${counted(kept.feeds, 'feed')} and ${counted(kept.handFeeds, 'feed')} written in by hand in ${where}.`,
  'All of it will be deleted for good, captures too. There is no way back but a backup.',
];

export function forgottenText(baby: string, result: ForgetResult): string {
  const lines = [
    `Deleted of ${baby}: ${counted(result.feeds, 'feed')}, ${counted(result.handFeeds, 'feed')} written in by hand, ${counted(result.milkEvents, 'entry', 'entries')} of the milk ledger.`,
  ];
  if (result.unnamed > 0) lines.push(`${counted(result.unnamed, 'feed')} without the name of a baby stay.`);
  if (result.unsure > 0) {
    lines.push(
      `${counted(result.unsure, 'feed')} under a name that may be another baby’s stay. See them with: ebbline feeds whose`,
    );
  }
  if (result.mentions > 0) {
    lines.push(
      `The name still stands in ${counted(result.mentions, 'record')} of others, such as a note; look through them.`,
    );
  }
  for (const path of result.unreachable) lines.push(`Could not be reached, delete it yourself: ${path}`);
  lines.push('Exports, backups and pages that were handed on are not here and were not touched.');
  return lines.join('\n');
}
