/** Which words stand on the stage. Pure. */
import type { Language, ShownWords, Words } from '../../pacing/cues/words.ts';
import type { Texts } from '../words/texts.ts';
import type { Shown } from './guard.ts';

/**
 * Why a cue fired is left out: it is told in amounts, and the caregiver's page shows none.
 * What the program says of link and estimate is in English, so it only stands beside English.
 */
export function stageWords(shown: Shown | null, language: Language, words: Words, texts: Texts): ShownWords {
  if (!shown) return { glance: texts.live.oneMoment, say: '', more: '' };
  const plain = withoutEcho(words.shown[shown.showing]);
  const because = language === 'en' && typeof shown.because === 'string' ? shown.because : null;
  switch (shown.showing) {
    case 'no-guidance':
      if (shown.silent) return { ...plain, say: texts.live.silent };
      if (shown.trouble) return { ...plain, ...texts.live.troubles[shown.trouble] };
      return { ...plain, more: because ?? plain.more };
    case 'cannot-tell': {
      const reason = shown.qualityReason ? texts.live.reasons[shown.qualityReason] : because;
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

/** "Lower your hand" over "Lower your hand: bottom down" would say it twice. */
function withoutEcho(words: ShownWords): ShownWords {
  const echo = `${words.glance}: `;
  if (!words.say.startsWith(echo)) return words;
  const rest = words.say.slice(echo.length);
  return { ...words, say: rest.charAt(0).toUpperCase() + rest.slice(1) };
}
