/**
 * What the page after a feed says. Upright for 10 to 15 minutes: AAP. Signs of hunger: CDC. Left-over milk: `planning/milk/published-times.ts`, the shorter
 * time first. Comfort suck, 20 to 30 minutes, half an ounce: common practice, no source.
 */
import type { AfterStep } from '../../feed/record/written-by-hand.ts';
import type { Language } from '../../pacing/cues/words.ts';

export interface AfterWords {
  title: string;
  asking: string;
  open: string;
  taken: (volume: string) => string;
  ago: (wholeMinutes: number) => string;
  endedAt: (when: string) => string;
  steps: string;
  stepsSay: string;
  /** Name of each step and how it is done; `halfOunce` is a volume for people. */
  step: Record<AfterStep, { name: string; how: (halfOunce: string) => string }>;
  doneAt: (time: string) => string;
  sources: string;
  from: string;
  left: string;
  leftOver: (volume: string) => string;
  byWeight: string;
  leftNone: string;
  leftUnknown: string;
  whichMilk: string;
  until: Record<'start' | 'end', (time: string, hours: number) => string>;
  passed: (time: string) => string;
  /** A longer time given by another authority. */
  beside: (authority: string, time: string, hours: number) => string;
  rule: (name: string) => string;
  thenAway: string;
  first: string;
  who: string;
  by: string;
  note: string;
  noteHint: string;
  keep: string;
  kept: string;
  /** What was wrong with the sleeve's sensors, in whole sentences. */
  sensor: (what: string) => string;
  see: string;
}

const EN: AfterWords = {
  title: 'After the feed',
  asking: 'One moment',
  open: 'This feed still runs.',
  taken: (volume) => `Taken: ${volume}.`,
  ago: (minutes) => (minutes < 1 ? 'It has just ended.' : `It ended ${minutes} min ago.`),
  endedAt: (when) => `It ended ${when}.`,
  steps: 'Now, as baby needs it',
  stepsSay: 'Touch what you did; touch again to take it back. Nothing has to be done.',
  step: {
    burp: { name: 'A good burp', how: () => 'Baby upright. None after a few minutes is fine, too.' },
    upright: { name: 'Held upright', how: () => '10 to 15 minutes, quietly, against you.' },
    'comfort-suck': {
      name: 'A comfort suck',
      how: () => 'A clean finger or a pacifier. Wanting to suck is not always hunger.',
    },
    waited: {
      name: 'Waited 20 to 30 minutes',
      how: () => 'Awake and asking again? Hands to mouth, smacking, turning to you? Asleep: let baby sleep.',
    },
    'a-little-more': {
      name: 'Perhaps a little more',
      how: (halfOunce) => `Only if baby asks: ${halfOunce}, then look again. Baby decides.`,
    },
  },
  doneAt: (time) => `noted ${time}`,
  sources: 'Where this is from',
  from: 'Upright for 10 to 15 minutes: American Academy of Pediatrics. Signs of hunger: CDC. A comfort suck, 20 to 30 minutes, half an ounce: common practice, no source.',
  left: 'Left over',
  leftOver: (volume) => `${volume} left over.`,
  byWeight: 'By the sleeve’s last weighing.',
  leftNone: 'Hardly anything was left over.',
  leftUnknown: 'How much was left over is not known.',
  whichMilk: 'Which milk was it? Then this page says how long it keeps.',
  until: {
    end: (time, hours) => `May be used until ${time}: ${hoursEn(hours)} after baby finished.`,
    start: (time, hours) => `May be used until ${time}: ${hoursEn(hours)} after the feed began.`,
  },
  passed: (time) => `Its time passed at ${time}: throw it away.`,
  beside: (authority, time, hours) =>
    `${authority} has ${hoursEn(hours)} after baby finished, ${time}; the shorter time stands here.`,
  rule: (name) => `By your own rule: ${name}.`,
  thenAway: 'Then throw it away.',
  first: 'If the milk’s own time ends sooner, that counts; so do the rules where you feed.',
  who: 'Who and what',
  by: 'Who fed',
  note: 'Note',
  noteHint: 'In your own words',
  keep: 'Keep',
  kept: 'Kept.',
  sensor: (what) => `A sensor of the sleeve was not right in this feed. ${what} Have the sleeve checked.`,
  see: 'See this feed',
};

const ES: AfterWords = {
  title: 'Después de la toma',
  asking: 'Un momento',
  open: 'Esta toma sigue en curso.',
  taken: (volume) => `Tomó: ${volume}.`,
  ago: (minutes) => (minutes < 1 ? 'Acaba de terminar.' : `Terminó hace ${minutes} min.`),
  endedAt: (when) => `Terminó: ${when}.`,
  steps: 'Ahora, según lo necesite el bebé',
  stepsSay: 'Toque lo que hizo; toque otra vez para quitarlo. Nada es obligatorio.',
  step: {
    burp: {
      name: 'Un buen eructo',
      how: () => 'Bebé erguido. Si no llega en unos minutos, también está bien.',
    },
    upright: { name: 'En brazos, erguido', how: () => 'De 10 a 15 minutos, con calma, contra su cuerpo.' },
    'comfort-suck': {
      name: 'Succión de consuelo',
      how: () => 'Un dedo limpio o un chupete (chupón, tete). Querer succionar no siempre es hambre.',
    },
    waited: {
      name: 'Esperó de 20 a 30 minutos',
      how: () =>
        '¿Despierto y pide otra vez? ¿Manos a la boca, chasquea, la busca? Si duerme, déjelo dormir.',
    },
    'a-little-more': {
      name: 'Quizás un poco más',
      how: (halfOunce) => `Solo si el bebé pide: ${halfOunce} y vuelva a mirar. El bebé decide.`,
    },
  },
  doneAt: (time) => `anotado ${time}`,
  sources: 'De dónde viene esto',
  from: 'Erguido de 10 a 15 minutos: American Academy of Pediatrics. Señales de hambre: CDC. Succión de consuelo, 20 a 30 minutos, media onza: práctica común, sin fuente.',
  left: 'Lo que sobró',
  leftOver: (volume) => `Sobraron ${volume}.`,
  byWeight: 'Según lo último que pesó la funda.',
  leftNone: 'Casi no sobró nada.',
  leftUnknown: 'No se sabe cuánto sobró.',
  whichMilk: '¿Qué leche era? Entonces esta página dice cuánto dura.',
  until: {
    end: (time, hours) => `Puede usarse hasta ${time}: ${hoursEs(hours)} después de que el bebé terminó.`,
    start: (time, hours) => `Puede usarse hasta ${time}: ${hoursEs(hours)} después de empezar la toma.`,
  },
  passed: (time) => `Su tiempo pasó a ${time}: tírela.`,
  beside: (authority, time, hours) =>
    `${authority} dice ${hoursEs(hours)} después de que el bebé terminó, ${time}; aquí vale el tiempo más corto.`,
  rule: (name) => `Según su propia regla: ${name}.`,
  thenAway: 'Después, tírela.',
  first: 'Si el tiempo de la propia leche acaba antes, vale ese; también las reglas del lugar.',
  who: 'Quién y qué',
  by: 'Quién alimentó',
  note: 'Nota',
  noteHint: 'En sus palabras',
  keep: 'Guardar',
  kept: 'Guardado.',
  sensor: (what) => `Un sensor de la funda no estuvo bien en esta toma. ${what} Haga revisar la funda.`,
  see: 'Ver esta toma',
};

function hoursEn(hours: number): string {
  return hours === 1 ? '1 hour' : `${hours} hours`;
}

function hoursEs(hours: number): string {
  return hours === 1 ? '1 hora' : `${hours} horas`;
}

export const AFTER_WORDS: Readonly<Record<Language, AfterWords>> = { en: EN, es: ES };
