/** Texts of the board of a room. Cues and states have their own words (pacing/cues). */
import type { Language } from '../../pacing/cues/words.ts';
import type { Need } from '../../ward/board/needs.ts';
import type { Unguided } from '../../ward/board/sleeve-state.ts';

export interface BoardWords {
  title: (room: string) => string;
  demo: string;
  cot: (name: string) => string;
  /** A sleeve that is not bound to a child. */
  unbound: (sleeve: number) => string;
  needs: Record<Need, string>;
  ended: string;
  now: string;
  forMinutes: (minutes: number) => string;
  inFeed: (minutes: number) => string;
  order: string;
  none: string;
  /** This page gets no answer from the server. */
  lost: string;
  /** The server gets no messages from the sleeves. */
  cutOff: string;
  quietNote: string;
  /** A sleeve that nobody will guide. */
  unguided: Record<Unguided, string>;
}

export const BOARD_WORDS: Record<Language, BoardWords> = {
  en: {
    title: (room) => `Room ${room}`,
    demo: 'Invented cots: to try it out',
    cot: (name) => `Cot ${name}`,
    unbound: (sleeve) => `Sleeve ${sleeve}, not bound`,
    needs: {
      look: 'Go and look',
      again: 'Still needs a hand',
      cue: 'A cue now',
      enough: 'Maybe had enough',
      hint: 'At the next pause',
      waiting: 'Ready, nobody feeds yet',
      quiet: 'No cue now',
    },
    ended: 'Feed is over',
    now: 'just now',
    forMinutes: (minutes) => `for ${minutes} min`,
    inFeed: (minutes) => `feeding for ${minutes} min`,
    order:
      'In the order of who may need a hand; of equal need, who has waited longest. Babies are not compared.',
    none: 'No feed is running in this room.',
    lost: 'This page no longer hears Ebbline. Go by the babies.',
    cutOff: 'The board hears nothing from the sleeves: the broker is away. Go by the babies.',
    quietNote: 'Watch the babies, not the board.',
    unguided: {
      'sleeve-unknown': 'This sleeve is not known here. Take another one, and tell whoever leads.',
      'not-guided': 'Nothing guides this sleeve now. Take another one, or go by the baby.',
    },
  },
  es: {
    title: (room) => `Sala ${room}`,
    demo: 'Cunas inventadas: para probar',
    cot: (name) => `Cuna ${name}`,
    unbound: (sleeve) => `Funda ${sleeve}, sin asignar`,
    needs: {
      look: 'Vaya a mirar',
      again: 'Aún hace falta una mano',
      cue: 'Un aviso ahora',
      enough: 'Quizá ya tuvo suficiente',
      hint: 'En la próxima pausa',
      waiting: 'Todo listo, nadie alimenta aún',
      quiet: 'Ningún aviso ahora',
    },
    ended: 'La toma terminó',
    now: 'ahora mismo',
    forMinutes: (minutes) => `desde hace ${minutes} min`,
    inFeed: (minutes) => `toma desde hace ${minutes} min`,
    order:
      'En el orden de quién puede necesitar una mano; a igual necesidad, quien lleva más tiempo esperando. No se compara a los bebés.',
    none: 'No hay ninguna toma en esta sala.',
    lost: 'Esta página ya no oye a Ebbline. Guíese por los bebés.',
    cutOff: 'Al tablero no le llega nada de las fundas: el bróker no responde. Guíese por los bebés.',
    quietNote: 'Mire a los bebés, no al tablero.',
    unguided: {
      'sleeve-unknown': 'Aquí no se conoce esta funda. Tome otra y avise a quien dirige.',
      'not-guided': 'Nada guía esta funda ahora. Tome otra, o guíese por el bebé.',
    },
  },
};
