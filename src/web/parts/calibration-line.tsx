/** One line when the sleeve's calibration is in doubt; a shorter one during a feed. */
import type { CalibrationDoubt, LiveView } from '../../feed/live/live-view.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { useChoices } from './choices.tsx';

const LINES: Record<Language, Record<CalibrationDoubt, string>> = {
  en: {
    'zero-moved':
      'The sleeve’s zero has moved a little. If nothing touches the bottle, calibrate again soon.',
    'zero-far':
      'The sleeve’s zero has moved. See that nothing touches the bottle; if this stays, calibrate again before you go by its cues.',
    'other-bottle':
      'This does not weigh like the bottle the sleeve knows. Use that bottle, or calibrate the sleeve for this one.',
    'amount-differs':
      'The bottle does not weigh what you entered. If the amount is right, calibrate the sleeve again.',
    'check-due': 'The sleeve is due for its next calibration.',
  },
  es: {
    'zero-moved':
      'El cero de la funda se ha movido un poco. Si nada toca el biberón, vuelva a calibrarla pronto.',
    'zero-far':
      'El cero de la funda se ha movido. Vea que nada toque el biberón; si sigue igual, calibre otra vez antes de guiarse por sus avisos.',
    'other-bottle':
      'Esto no pesa como el biberón que la funda conoce. Use ese biberón o calibre la funda para este.',
    'amount-differs':
      'El biberón no pesa lo que usted anotó. Si la cantidad es correcta, calibre otra vez la funda.',
    'check-due': 'A la funda ya le toca su próxima calibración.',
  },
};

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
  return <span>{short ?? LINES[language][doubt]}</span>;
}
