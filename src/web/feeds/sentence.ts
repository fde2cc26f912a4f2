/** One feed in a few plain sentences: about milk and cues, not about people. Pure. */

import type { FeedAnswer } from '../../server/answers.ts';
import type { Texts } from '../words/texts.ts';
import { CUE_ORDER } from './cue-order.ts';

/** Less than this is within what the sleeve can weigh, and is not worth a sentence; our choice. */
const WORTH_TELLING_ML = 3;

export function sentences(answer: FeedAnswer, texts: Texts, volume: (ml: number) => string): string[] {
  const { feed, cues } = answer;
  const counts = CUE_ORDER.map((kind) => [kind, cues.filter((cue) => cue.kind === kind).length] as const)
    .filter(([, count]) => count > 0)
    .map(([kind, count]) => texts.feed.cueCounts[kind](count));
  return [
    texts.feed.left(volume(feed.intakeMl), texts.feeds.minutes(feed.durationSec)),
    counts.length > 0 ? `${counts.join(', ')}.` : texts.feed.noCues,
    feed.spiltMl >= WORTH_TELLING_ML ? texts.feed.spilt(volume(feed.spiltMl)) : '',
    feed.addedMl >= WORTH_TELLING_ML ? texts.feed.added(volume(feed.addedMl)) : '',
  ].filter(Boolean);
}
