/** Texts of the page on which a device enters with its code. */
import type { Language } from '../../pacing/cues/words.ts';

export interface JoinWords {
  title: string;
  /** With a code: what the touch does. */
  ask: string;
  join: string;
  noCode: string;
  refused: string;
  unreached: string;
}

export const JOIN_WORDS: Record<Language, JoinWords> = {
  en: {
    title: 'Show the feed here?',
    ask: 'This device will show Ebbline’s page until it is put out, or for 12 hours. The code works once.',
    join: 'Use this device',
    noCode:
      'To use this device, open More, then Share, on the computer that runs Ebbline, and scan the code.',
    refused: 'This code was already used or has run out. On the computer that runs Ebbline, make a new one.',
    unreached: 'Ebbline could not be reached. See that it still runs, then try again.',
  },
  es: {
    title: '¿Mostrar la toma aquí?',
    ask: 'Este aparato mostrará la página de Ebbline hasta que se le retire el permiso, o durante 12 horas. El código sirve una vez.',
    join: 'Usar este aparato',
    noCode:
      'Para usar este aparato, abra Más y luego Compartir en la computadora donde corre Ebbline, y escanee el código.',
    refused: 'Este código ya se usó o venció. Haga uno nuevo en la computadora donde corre Ebbline.',
    unreached: 'No se pudo llegar a Ebbline. Vea que siga en marcha y pruebe de nuevo.',
  },
};
