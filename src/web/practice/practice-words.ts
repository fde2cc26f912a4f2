/** Texts of the practice page. It is known of paced feeds only that they are slower and longer, so the texts claim nothing more. */
import type { Language } from '../../pacing/cues/words.ts';

export interface PracticeWords {
  title: string;
  intro: string;
  steep: string;
  steepSay: string;
  followed: string;
  followedSay: string;
  begin: string;
  hold: string;
  goOn: string;
  again: string;
  speed: string;
  times: (factor: number) => string;
  baby: string;
  minute: (min: number) => string;
  over: (min: number) => string;
  cuesShown: (count: number) => string;
  onlyLonger: string;
  own: string;
  dollTitle: string;
  doll: string[];
  apart: string;
}

export const PRACTICE_WORDS: Record<Language, PracticeWords> = {
  en: {
    title: 'Practice',
    intro:
      'Two simulated feeds side by side: the same baby, the same bottle, the same milk. One caregiver holds the bottle steeply and heeds nothing. The other follows the light.',
    steep: 'Held steeply',
    steepSay: 'Heeds nothing.',
    followed: 'Follows the light',
    followedSay: 'Lowers, burps, changes arms.',
    begin: 'Begin',
    hold: 'Hold',
    goOn: 'Go on',
    again: 'From the beginning',
    speed: 'Faster than life',
    times: (factor) => `${factor} times`,
    baby: 'Another simulated baby',
    minute: (min) => `minute ${min}`,
    over: (min) => `over after ${min} min`,
    cuesShown: (count) => (count === 0 ? 'no cue yet' : count === 1 ? '1 cue' : `${count} cues`),
    onlyLonger: 'A paced feed takes longer and runs slower. That is what is known; nothing more is claimed.',
    own: 'What you did',
    dollTitle: 'With a doll and water',
    doll: [
      'Put lukewarm water in the bottle, never milk or formula: it is not for drinking afterwards.',
      'Start Ebbline with: ebbline start --practice, and your sleeve’s --port.',
      'Hold the doll as you would a baby. Somebody presses the nipple as a baby’s mouth would, in short runs with rests.',
      'The cues are those of a real feed. End it on the page; what you did is then said in a few words.',
      'Wash and dry bottle and sleeve before the next real feed.',
    ],
    apart: 'Practice is kept apart: it never stands among real feeds.',
  },
  es: {
    title: 'Práctica',
    intro:
      'Dos tomas simuladas, una junto a otra: el mismo bebé, el mismo biberón, la misma leche. Una persona sostiene el biberón muy inclinado y no atiende a nada. La otra sigue la luz.',
    steep: 'Muy inclinado',
    steepSay: 'No atiende a nada.',
    followed: 'Sigue la luz',
    followedSay: 'Baja el biberón, saca el aire, cambia de brazo.',
    begin: 'Empezar',
    hold: 'Detener',
    goOn: 'Seguir',
    again: 'Desde el principio',
    speed: 'Más rápido que en la vida',
    times: (factor) => `${factor} veces`,
    baby: 'Otro bebé simulado',
    minute: (min) => `minuto ${min}`,
    over: (min) => `terminó a los ${min} min`,
    cuesShown: (count) => (count === 0 ? 'ningún aviso aún' : count === 1 ? '1 aviso' : `${count} avisos`),
    onlyLonger: 'Una toma pausada dura más y va más despacio. Eso es lo que se sabe; no se afirma más.',
    own: 'Lo que hizo',
    dollTitle: 'Con un muñeco y agua',
    doll: [
      'Ponga agua tibia en el biberón, nunca leche ni fórmula: después no es para beber.',
      'Inicie Ebbline con: ebbline start --practice, y el --port de su funda.',
      'Sostenga el muñeco como a un bebé. Alguien aprieta la tetina como lo haría la boca de un bebé, en tandas cortas con descansos.',
      'Los avisos son los de una toma real. Termínela en la página; luego se dice en pocas palabras lo que hizo.',
      'Lave y seque el biberón y la funda antes de la próxima toma real.',
    ],
    apart: 'La práctica se guarda aparte: nunca aparece entre las tomas reales.',
  },
};
