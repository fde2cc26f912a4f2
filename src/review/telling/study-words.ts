/** Words of a study's figures, by its language: for publications, so they use terms of the trade and of statistics. */
import type { Language } from '../../pacing/cues/words.ts';
import type { PublishedCurve } from '../../research/group/published-curves.ts';

export interface StudyFigureWords {
  /** Title of the curves. @param study its title */
  curves: (study: string) => string;
  minutesAxis: string;
  taken: string;
  flow: string;
  /** How the lines of the arms are drawn, in the order of the dashes. */
  dashes: readonly [string, string, string, string, string, string];
  tooFew: string;
  arm: (arm: string, how: string, participants: number, sessions: number) => string;
  lines: string;
  /** Name of each published curve, and its assumptions. */
  published: Record<PublishedCurve['name'], { name: string; note: string }>;
  /** Unit of an index that is a count. */
  count: string;
  feedsOf: (participant: string, feeds: number) => string;
  armOf: (arm: string, participants: number) => string;
  difference: (second: string, first: string, isWithin: boolean, effect: string) => string;
  interval: (value: string, low: string, high: string) => string;
  range: (value: string, low: string, high: string) => string;
  standardized: (effect: string) => string;
  bars: (missing: number) => string;
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

const EN: StudyFigureWords = {
  curves: (study) => `${study}: milk taken and flow`,
  minutesAxis: 'minutes since the first suck',
  taken: 'Milk taken',
  flow: 'Flow',
  dashes: ['full line', 'dashed', 'dotted', 'dash and dot', 'short dashes', 'wide dots'],
  tooFew: 'too few to draw',
  arm: (arm, how, participants, sessions) =>
    `Arm ${arm} (${how}): ${counted(participants, 'participant', 'participants')}, ${counted(sessions, 'feed', 'feeds')}.`,
  lines:
    'Lines are means over participants, shades one standard deviation between participants. Time runs from the first suck.',
  published: {
    'breast-two-sides': {
      name: 'breast, two sides',
      note: '75 mL in 25 min, in two times 4 min (1981); half of a breast by 2 min, 85 % by 4 min (1980); abstracts; halves of 37.5 mL are assumed',
    },
    'breast-even': {
      name: 'breast, even',
      note: '70.9 g in 17.3 min; even flow is assumed, initial flow was 6 g/min; abstract',
    },
    'bottle-as-wanted': { name: 'bottle as wanted', note: '67 mL in 25 min, 81 % by 10 min; abstract' },
  },
  count: 'number',
  feedsOf: (participant, feeds) => `${participant} (${counted(feeds, 'feed', 'feeds')})`,
  armOf: (arm, participants) => `Arm ${arm}, n = ${participants}`,
  difference: (second, first, isWithin, effect) =>
    `${second} less ${first}${isWithin ? ', within participants' : ''}: ${effect}`,
  interval: (value, low, high) => `${value} (95 % interval ${low} to ${high})`,
  range: (value, low, high) => `${value} (${low} to ${high})`,
  standardized: (effect) => `standardized (Hedges' g) ${effect}`,
  bars: (missing) =>
    `Bars are intervals of 95 %: of a participant over the own feeds, of an arm over its participants. Missing in ${counted(missing, 'feed', 'feeds')}.`,
};

const ES: StudyFigureWords = {
  curves: (study) => `${study}: leche tomada y flujo`,
  minutesAxis: 'minutos desde la primera succión',
  taken: 'Leche tomada',
  flow: 'Flujo',
  dashes: ['línea continua', 'rayas', 'puntos', 'raya y punto', 'rayas cortas', 'puntos separados'],
  tooFew: 'muy pocos para dibujar',
  arm: (arm, how, participants, sessions) =>
    `Grupo ${arm} (${how}): ${counted(participants, 'participante', 'participantes')}, ${counted(sessions, 'toma', 'tomas')}.`,
  lines:
    'Las líneas son medias de los participantes; las sombras, una desviación estándar entre participantes. El tiempo corre desde la primera succión.',
  published: {
    'breast-two-sides': {
      name: 'pecho, dos lados',
      note: '75 mL en 25 min, en dos veces 4 min (1981); la mitad de un pecho a los 2 min, el 85 % a los 4 min (1980); resúmenes; se suponen mitades de 37.5 mL',
    },
    'breast-even': {
      name: 'pecho, constante',
      note: '70.9 g en 17.3 min; se supone flujo constante, el flujo inicial fue de 6 g/min; resumen',
    },
    'bottle-as-wanted': {
      name: 'biberón a demanda',
      note: '67 mL en 25 min, el 81 % a los 10 min; resumen',
    },
  },
  count: 'número',
  feedsOf: (participant, feeds) => `${participant} (${counted(feeds, 'toma', 'tomas')})`,
  armOf: (arm, participants) => `Grupo ${arm}, n = ${participants}`,
  difference: (second, first, isWithin, effect) =>
    `${second} menos ${first}${isWithin ? ', en los mismos participantes' : ''}: ${effect}`,
  interval: (value, low, high) => `${value} (intervalo del 95 %: de ${low} a ${high})`,
  range: (value, low, high) => `${value} (de ${low} a ${high})`,
  standardized: (effect) => `estandarizada (g de Hedges) ${effect}`,
  bars: (missing) =>
    `Las barras son intervalos del 95 %: de un participante, sobre sus tomas; de un grupo, sobre sus participantes. Falta en ${counted(missing, 'toma', 'tomas')}.`,
};

export const STUDY_FIGURE_WORDS: Readonly<Record<Language, StudyFigureWords>> = { en: EN, es: ES };
