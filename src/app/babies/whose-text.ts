/** Words for a terminal about feeds whose baby is uncertain. */
import { counted } from '../../base/counted.ts';
import type { OpenFeeds } from '../review/review-answers.ts';

const openFeedsSentence = ({ name, count, isFromElsewhere }: OpenFeeds): string =>
  isFromElsewhere
    ? `${counted(count, 'feed')} of ${name} came from another computer, where the baby has another number.`
    : `${counted(count, 'feed')} ${count === 1 ? 'says' : 'say'} only the name ${name}, and it is not certain whose ${count === 1 ? 'it is' : 'they are'}.`;

/** Said beside what feeds without a certain baby are left out of. */
export const leftOutText = (open: readonly OpenFeeds[]): string[] =>
  open.map(
    (feeds) => `${openFeedsSentence(feeds)} They are left out until you say whose: ebbline feeds whose`,
  );

export function openFeedsText(open: readonly OpenFeeds[]): string {
  if (open.length === 0) return 'Of every feed with a name it is known whose it is.';
  return open
    .flatMap((feeds) => [
      `${openFeedsSentence(feeds)} Whose?`,
      ...feeds.choices.map(
        (baby) =>
          `  ebbline feeds whose ${quoted(feeds.key)} --baby ${baby.id}   ${baby.name}${baby.birthDay === null ? '' : `, born ${baby.birthDay}`}`,
      ),
      `  ebbline feeds whose ${quoted(feeds.key)} --another   another baby`,
    ])
    .join('\n');
}
const quoted = (text: string): string => (/^[\w.-]+$/.test(text) ? text : JSON.stringify(text));
