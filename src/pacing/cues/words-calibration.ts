/** What is said beside the cues while the sleeve's calibration is in doubt, on the page at home and on the board of a room. */
import type { Language } from './words.ts';

/** What makes the sleeve's calibration doubtful; with `-far` and `other-bottle` the figures must not be trusted. */
export type CalibrationDoubt = 'zero-moved' | 'zero-far' | 'other-bottle' | 'amount-differs' | 'check-due';

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
