/** One sentence for each doubt about a sleeve's calibration, for the page at home and for the board of a room. */

import type { CalibrationDoubt } from '../../feed/live/live-view.ts';
import type { Language } from '../../pacing/cues/words.ts';

export const CALIBRATION_DOUBTS: Record<Language, Record<CalibrationDoubt, string>> = {
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
