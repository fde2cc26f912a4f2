/** Which words the stage shows. Pure. */
import type { ShownWords, Words } from '../../pacing/cues/words.ts';
import type { Texts } from '../words/texts.ts';
import type { Shown } from './guard.ts';

/** The reason of a cue is left out: it contains amounts, and the caregiver's page shows none. */
export function stageWords(shown: Shown | null, words: Words, texts: Texts): ShownWords {
  if (!shown) return { glance: texts.live.oneMoment, say: '', more: '' };
  const plain = withoutEcho(words.shown[shown.showing]);
  switch (shown.showing) {
    case 'no-guidance':
      if (shown.silent) return { ...plain, say: texts.live.silent };
      return { ...plain, ...(shown.cause && texts.live.causes[shown.cause]) };
    case 'cannot-tell': {
      const reason = shown.qualityReason && texts.live.reasons[shown.qualityReason];
      return reason ? { ...plain, say: reason, more: '' } : plain;
    }
    case 'waiting':
      if (shown.feedState === 'ended') return { ...texts.live.ended, more: '' };
      if (shown.feedState === 'discarded') return { ...texts.live.discarded, more: '' };
      return { ...plain, say: texts.live.standFirst };
    default:
      return plain;
  }
}

/** Removes the beginning of the line that repeats the big words: "Lower your hand" above "Lower your hand: bottom down". */
export function withoutEcho(words: ShownWords): ShownWords {
  const echo = `${words.glance}: `;
  if (!words.say.startsWith(echo)) return words;
  const rest = words.say.slice(echo.length);
  return { ...words, say: rest.charAt(0).toUpperCase() + rest.slice(1) };
}
