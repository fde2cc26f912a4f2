import type { Output } from '../../feed/record/feed.ts';
import type { Held, ReviewWords } from './words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
const NUMBERS = ['ningún', 'un', 'dos', 'tres', 'cuatro', 'cinco', 'seis', 'siete', 'ocho', 'nueve'];

const together = (texts: readonly string[]): string =>
  texts.length === 1 ? texts[0]! : `${texts.slice(0, -1).join(', ')} y ${texts.at(-1)}`;

/** "20 and 35 s", or with minutes where one is long. */
function listed(seconds: readonly number[]): string {
  const isLong = seconds.some((one) => one >= 100);
  const texts = seconds.map((one) =>
    !isLong ? String(one) : one < 100 ? `${one} s` : `${Math.round(one / 60)} min`,
  );
  const list = together(texts);
  return isLong ? list : `${list} s`;
}

/** An approximate duration in words. */
function about(seconds: number): string {
  if (seconds < 15) return 'unos segundos';
  if (seconds < 45) return 'cerca de medio minuto';
  if (seconds < 90) return 'cerca de un minuto';
  return `unos ${Math.round(seconds / 60)} minutos`;
}

const OUTPUTS_ES: Record<Output, string> = { page: 'página', light: 'luz', sound: 'sonido' };
const HELD_ES: Record<Held, string> = {
  upright: 'casi vertical',
  'base-low': 'con la base baja',
  level: 'casi horizontal',
  steep: 'muy inclinado, con la base arriba',
};

const POURS = {
  spill: 'derramados',
  refill: 'añadidos',
  more: 'más, tras sacar el biberón de la funda,',
  less: 'menos, tras sacar el biberón de la funda,',
} as const;

export const REVIEW_WORDS_ES: ReviewWords = {
  locale: 'es-US',
  panels: {
    taken: 'Leche tomada',
    flow: 'Flujo',
    bursts: 'Succiones',
    angle: 'Cómo se sostuvo',
    nipple: 'Tetina en la boca',
    burps: 'Vertical, sin tetina',
    burped: 'Aire sacado, anotado',
    paused: 'Avisos apagados',
    spilt: 'Derramada',
    poured: 'Añadida',
    bottle: 'Biberón fuera',
  },
  units: {
    flow: 'mL/min, en 10 s',
    sucks: 'en cada serie',
    angle: 'grados',
    upright: 'vertical',
    level: 'horizontal',
  },
  minutesAxis: 'minutos desde el primer agarre',
  cueLine: 'línea de aviso',
  lowerEdge: 'estudios con recién nacidos',
  fastLine: 'rápido',
  simulatedFeed: 'Toma simulada',
  inSimulation: 'en simulación',
  taken: (amount, time, isOpen) => `Tomó ${amount}${isOpen ? ' hasta ahora,' : ''} ${time}`,
  littleTaken: (time, isOpen) => `Tomó menos de 1 mL${isOpen ? ' hasta ahora,' : ''} ${time}`,
  notKnown: 'No se sabe cuánta leche tomó',
  refused: (amount) => `Un biberón ofrecido, ${amount} probados`,
  inMinutes: (minutes) => (minutes < 1 ? 'en menos de un minuto' : `en ${minutes} min`),
  spilt: (amount) => `${amount} se derramaron`,
  poured: (amount) => `${amount} se añadieron`,
  bottleBack: (amount, isMore) =>
    `el biberón estuvo fuera de la funda y después había ${amount} ${isMore ? 'más' : 'menos'}`,
  fast: (count, allSec, isMost) => {
    if (isMost) return 'la leche salió rápido casi todo el tiempo';
    if (count === 1) return `la leche salió rápido una vez, ${about(allSec)}`;
    return `la leche salió rápido ${NUMBERS[count] ?? count} veces, ${about(allSec)} en total`;
  },
  noFast: 'la leche nunca salió rápido',
  byMarks: (amount) => `Según las marcas del biberón: tomó ${amount}.`,
  marksLeftOver: (amount) => `Según las marcas del biberón: sobraron ${amount}.`,
  marksLabel: 'según las marcas',
  notFinished: 'sin terminar, cifras del momento',
  source: {
    refined: 'Calculado de nuevo después de la toma',
    open: 'Estimación del momento; la toma no ha terminado',
    live: 'Estimación del momento; no se pudo calcular de nuevo',
  },
  milkWithin: (ml) => `leche con un margen de unos ${ml} mL`,
  flowWithin: (mlPerMin) => `flujo de unos ${mlPerMin} mL/min`,
  deviations: 'dos desviaciones típicas',
  sleeve: (id) => `funda ${id}`,
  calibrated: (day) => (day === null ? 'calibración sin fecha' : `calibrada el ${day}`),
  bandNote: (lines, fastMlPerMin) =>
    (lines === null
      ? '«Baje la mano» estaba apagado para este bebé; por eso no hay línea. '
      : `Banda: ritmo de una toma parecida al pecho. Línea de rayas: donde llega «Baje la mano» si la leche fluye rápido desde el principio (${lines.join(', o ')}); tras un comienzo lento llega más abajo. `) +
    'Puntos: la menor de dos medias de estudios pequeños con recién nacidos, dos pechos el día 6 (Lucas 1980, 1981) y tomas enteras al mes (Kent 2013). ' +
    `Cada bebé es distinto: no es una meta. Tramo rápido: más de ${fastMlPerMin} mL/min durante 5 s o más.`,
  paceOf: {
    shipped: '',
    scaled: 'Esta toma siguió un ritmo ajustado a este bebé.',
    clinician: 'Esta toma siguió el ritmo del plan de un profesional de salud.',
  },
  spreadNote: 'Sombreado junto al flujo: cuánto puede desviarse, dos desviaciones típicas.',
  hatchNote: 'Rayado: sin estimación.',
  describe: {
    intro:
      'Gráfica de leche tomada, flujo, succiones, inclinación y avisos por minutos desde el primer agarre.',
    times: 'Tiempos en minutos y segundos:',
    cue: (words, at) => `${words} en ${at}.`,
  },
  pourAt: (kind, amount, at) => `${amount} ${POURS[kind]} en ${at}.`,
  noEstimate: (from, to) => `Sin estimación de ${from} a ${to}.`,
  quoted: (words) => `«${words}»`,
  followed: (what, seconds) =>
    ({
      lowered: `bajado a los ${seconds} s`,
      'nipple-out': seconds === 0 ? 'tetina fuera enseguida' : `tetina fuera a los ${seconds} s`,
      eased: `el flujo cedió a los ${seconds} s`,
      'went-on': 'la toma siguió',
    })[what],
  toldBy: (outputs) => `por ${together(outputs.map((output) => OUTPUTS_ES[output]))}`,
  toldUnknown:
    'No se sabe: esta toma es de antes de que Ebbline anotara lo que mostraba. Abajo está lo que hallaron sus reglas; quizá nadie recibió el aviso.',
  ended: {
    button: 'Terminada con el botón.',
    page: 'Terminada en la página.',
    'teat-away': 'Terminada por sí sola tras 45 minutos sin la tetina.',
    'link-ended': 'Terminada cuando se perdió la funda.',
  },
  simulationOver: 'Terminada con la simulación.',
  stillOpen: 'Esta toma sigue abierta; las cifras son las de este momento.',
  facts: {
    pauses: (count, longestSec) =>
      `${times(count, 'pausa', 'pausas')} sin la tetina, la más larga de ${about(longestSec)}.`,
    burps: (count) =>
      `Biberón en vertical ${count === 1 ? 'una vez' : `${count} veces`}, como para sacar el aire.`,
    held: (how) => `En general, el biberón se sostuvo ${HELD_ES[how]}.`,
  },
  figures: {
    title: 'Cifras',
    fast: (seconds, mlPerMin) => `Más de ${mlPerMin} mL/min durante 5 s o más: ${listed(seconds)}.`,
    bursts: (count, sucks) => `${times(count, 'serie', 'series')} de succiones, de unas ${sucks} cada una.`,
    angle: (degrees) => `Inclinación de ${degrees}° (0° vertical, 90° horizontal).`,
    taken:
      'Tomado es lo que salió del biberón con la tetina en la boca; lo que se escurrió de la boca está incluido.',
  },
  table: {
    title: 'Minuto a minuto',
    minute: 'Minuto',
    inMinute: 'En este minuto, mL',
    soFar: 'Hasta aquí',
    flow: 'Flujo mayor, mL/min',
    sucks: 'Succiones',
    angle: 'Inclinación',
    cues: 'Avisos',
    unknown: 'no se sabe',
  },
  cuesTitle: 'Avisos mostrados, y qué pasó después',
  noCues: 'No se mostró ningún aviso.',
  graphTitle: 'Gráfica',
  noteTitle: 'Nota',
  numbersTitle: 'De dónde vienen las cifras',
  compare: {
    title: 'Dos tomas',
    first: 'Primera, línea gruesa',
    second: 'Segunda, línea de rayas',
    describe:
      'Leche tomada por minutos desde el primer agarre: la primera toma con línea gruesa, la segunda con línea fina de rayas.',
  },
  caution:
    'No es un aparato médico. Mire al bebé, no las cifras; una sola toma dice poco, y cada bebé es distinto. Consulte a su médico sobre la alimentación y el crecimiento.',
};
