/** One line when the sleeve's calibration is in doubt; a shorter one during a feed. */

import type { LiveView } from '../../feed/live/live-view.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { CALIBRATION_DOUBTS, type CalibrationDoubt } from '../../pacing/cues/words-calibration.ts';
import { useChoices } from './choices.tsx';

/** During a feed nothing can be repaired. */
const IN_A_FEED: Record<Language, Partial<Record<CalibrationDoubt, string>>> = {
  en: {
    'zero-far': 'The sleeve’s zero has moved: its cues may be wrong. Go by baby.',
    'other-bottle': 'This is not the bottle the sleeve knows: its cues may be wrong. Go by baby.',
  },
  es: {
    'zero-far': 'El cero de la funda se ha movido: sus avisos pueden fallar. Guíese por el bebé.',
    'other-bottle': 'La funda no conoce este biberón: sus avisos pueden fallar. Guíese por el bebé.',
  },
};

export function CalibrationLine({ view }: { view: LiveView | null | undefined }) {
  const { language } = useChoices();
  const doubt = view?.calibration;
  if (!doubt) return null;
  const short = view.feedState === 'open' ? IN_A_FEED[language][doubt] : undefined;
  return <span>{short ?? CALIBRATION_DOUBTS[language][doubt]}</span>;
}
