import type { ReviewWords } from './words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
const NUMBERS = ['ningún', 'un', 'dos', 'tres', 'cuatro', 'cinco', 'seis', 'siete', 'ocho', 'nueve'];
const MOST_LISTED = 4;

/** "20 and 35 s", or with minutes where one is long. */
function listed(seconds: readonly number[]): string {
  const isLong = seconds.some((one) => one >= 100);
  const texts = seconds.map((one) =>
    !isLong ? String(one) : one < 100 ? `${one} s` : `${Math.round(one / 60)} min`,
  );
  const list = texts.length === 1 ? texts[0]! : `${texts.slice(0, -1).join(', ')} y ${texts.at(-1)}`;
  return isLong ? list : `${list} s`;
}

export const REVIEW_WORDS_ES: ReviewWords = {
  locale: 'es-US',
  panels: {
    taken: 'Leche tomada',
    flow: 'Flujo',
    bursts: 'Succiones',
    angle: 'Inclinación',
    nipple: 'Tetina en la boca',
    burps: 'De pie, sin tetina',
    burped: 'Aire sacado, anotado',
    paused: 'Avisos en pausa',
    spilt: 'Derramada',
    poured: 'Añadida',
  },
  units: {
    flow: 'mL/min, en 10 s',
    sucks: 'en cada serie',
    angle: 'grados',
    upright: 'de pie',
    level: 'a nivel',
  },
  minutesAxis: 'minutos desde el primer agarre',
  cueLine: 'línea de aviso',
  lowerEdge: 'estudios con recién nacidos',
  fastLine: 'rápido',
  simulatedFeed: 'Toma simulada',
  inSimulation: 'en simulación',
  left: (amount, time, isOpen) => `${amount} salieron del biberón${isOpen ? ' hasta ahora,' : ''} ${time}`,
  littleLeft: (time, isOpen) => `Menos de 1 mL salió del biberón${isOpen ? ' hasta ahora,' : ''} ${time}`,
  notKnown: 'No se sabe cuánta leche salió del biberón',
  refused: (amount) => `Un biberón ofrecido, ${amount} probados`,
  inMinutes: (minutes) => (minutes < 1 ? 'en menos de un minuto' : `en ${minutes} min`),
  spilt: (amount) => `${amount} se derramaron`,
  poured: (amount) => `${amount} se añadieron`,
  fast: (seconds) => {
    const count = NUMBERS[seconds.length] ?? String(seconds.length);
    const which = seconds.length === 1 ? 'tramo rápido' : 'tramos rápidos';
    if (seconds.length > MOST_LISTED) {
      const sum = seconds.reduce((all, one) => all + one, 0);
      return `${count} ${which}, ${listed([sum])} en total`;
    }
    return `${count} ${which}, de ${listed(seconds)}`;
  },
  noFast: 'ningún tramo rápido',
  byMarks: (amount) => `Según las marcas del biberón: ${amount}.`,
  marksLeft: (amount) => `Según las marcas del biberón quedaron ${amount}.`,
  marksLabel: 'según las marcas',
  notFinished: 'sin terminar, cifras del momento',
  source: {
    refined: 'Calculado de nuevo después de la toma',
    open: 'Estimación del momento; la toma no ha terminado',
    live: 'Estimación del momento; no se pudo calcular de nuevo',
  },
  milkWithin: (ml) => `leche ±${ml} mL`,
  flowWithin: (mlPerMin) => `flujo ±${mlPerMin} mL/min (k = 2)`,
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
  spreadNote: 'Sombreado junto al flujo: su incertidumbre, k = 2.',
  hatchNote: 'Rayado: sin estimación.',
  describe: {
    intro:
      'Gráfica de leche tomada, flujo, succiones, inclinación y avisos por minutos desde el primer agarre.',
    times: 'Tiempos en minutos y segundos:',
    cue: (words, at) => `${words} en ${at}.`,
  },
  pourAt: (kind, amount, at) => `${amount} ${kind === 'spill' ? 'derramados' : 'añadidos'} en ${at}.`,
  noEstimate: (from, to) => `Sin estimación de ${from} a ${to}.`,
  quoted: (words) => `«${words}»`,
  followed: (what, seconds) =>
    ({
      lowered: `bajado a los ${seconds} s`,
      'nipple-out': seconds === 0 ? 'tetina fuera enseguida' : `tetina fuera a los ${seconds} s`,
      eased: `el flujo cedió a los ${seconds} s`,
      'went-on': `sin cambio en ${seconds} s`,
    })[what],
  ended: {
    button: 'Terminada con el botón.',
    page: 'Terminada en la página.',
    'teat-away': 'Terminada por sí sola tras 45 minutos sin la tetina.',
    'link-ended': 'Terminada cuando se perdió la funda.',
  },
  stillOpen: 'Esta toma sigue abierta; las cifras son las de este momento.',
  facts: {
    bursts: (count, sucks) => `${times(count, 'serie', 'series')} de succiones, de unas ${sucks} cada una.`,
    pauses: (count, longest) =>
      `${times(count, 'pausa', 'pausas')} sin la tetina, la más larga de ${longest}.`,
    burps: (count) =>
      `${times(count, 'descanso', 'descansos')} con el biberón de pie, como para sacar el aire.`,
    angle: (degrees) => `Inclinación habitual: ${degrees}° (0° de pie, 90° horizontal).`,
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
  cuesTitle: 'Avisos, y qué pasó después',
  noCues: 'No hizo falta ningún aviso.',
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
