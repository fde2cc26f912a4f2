import type { DayWords } from './day-words.ts';

const times = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

export const DAY_WORDS_ES: DayWords = {
  locale: 'es-US',
  taken: (amount, bottles, time) =>
    `Tomó ${amount} de ${times(bottles, 'biberón', 'biberones')}, ${time} en total.`,
  noBottles: 'Ningún biberón este día.',
  time: (seconds) => {
    const minutes = Math.round(seconds / 60);
    return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  },
  breast: (count) => `${times(count, 'toma', 'tomas')} al pecho; nadie puede saber cuánto.`,
  unknownAmounts: (count) => `${times(count, 'biberón', 'biberones')} sin cantidad anotada.`,
  left: (amount) => `Sobraron ${amount}.`,
  refused: (count) =>
    `${times(count, 'biberón ofrecido', 'biberones ofrecidos')} y apenas tomado. También es una toma; 5 mL es un buen intento.`,
  restNow:
    'Tras tres rechazos, o diez minutos de intentos: descansen y prueben más tarde. Si el bebé no quiere comer, consulte a su médico.',
  published: (low, middle, high) =>
    `Publicado para esta edad, leche en 24 horas: de ${low} a ${high}, la mitad de los bebés más de ${middle}.`,
  publishedWithBreast: 'Las tomas al pecho se suman a lo contado aquí, así que no se puede comparar.',
  publishedNote: 'Cada bebé es distinto; estar fuera no es señal de nada por sí solo.',
  publishedSource:
    'Rios-Leyvraz y Yao 2023, Breastfeed Med 18(3), 167 estudios de bebés a término con lactancia materna exclusiva; su «log» es el natural, que reproduce su tabla (deducido); dispersión: de 478 a 1298 mL al día entre bebés amamantados de 1 a 6 meses (resumen de los datos de Kent, en parte de memoria), tomada como ±2.4 desviaciones típicas de unos 71 bebés (número de memoria)',
  drawn: {
    title: 'Tomas a lo largo del día',
    taken: 'De biberones',
    published: 'publicado: sombra',
    fast: 'salió rápido (más de 14 mL/min)',
    day: (bottles, amount, fast, breast) =>
      `${times(bottles, 'biberón', 'biberones')}, ${amount}${fast === 0 ? '' : `, ${fast} rápido${fast === 1 ? '' : 's'}`}; ${times(breast, 'toma', 'tomas')} al pecho.`,
  },
  clocks: (hours) => `Cambió la hora: este día tuvo ${hours} horas.`,
  kinds: { bottle: 'Biberón', breast: 'Al pecho', refused: 'Ofrecido, apenas tomado' },
  sides: { left: 'izquierdo', right: 'derecho', both: 'ambos lados' },
  tried: (amount) => `${amount} probados`,
  minutes: (seconds) => (seconds < 60 ? 'menos de 1 min' : `${Math.round(seconds / 60)} min`),
  byHand: 'anotada a mano',
  open: 'sigue abierta',
  simulated: 'simulada',
  cues: (count) => (count === 0 ? 'sin avisos' : times(count, 'aviso', 'avisos')),
  amountUnknown: 'cantidad sin anotar',
  weekTitle: (from, to) => `Del ${from} al ${to}`,
  week: (amount, days) =>
    days === 1
      ? `Tomó ${amount} de biberones, todo en un día.`
      : `Tomó unos ${amount} al día de biberones, en ${days === 7 ? 'cada uno' : days} de estos siete días.`,
  heads: {
    day: 'Día',
    taken: 'Tomado',
    bottles: 'Biberones',
    breast: 'Al pecho',
    time: 'Tiempo',
    left: 'Sobró',
    expressed: 'Extraída',
  },
  night:
    'Poco de día y más por la tarde y la noche: un patrón conocido de bebés cuya madre está fuera de día. Si los pañales y el crecimiento son los de siempre, no hay nada que corregir. Ante la duda, consulte a su médico.',
  expressed: (amount) => `Extraída: ${amount}.`,
  away: (amount) => `Tomada de biberones: ${amount}.`,
  freezer: (amount, days, oldest) =>
    `En el congelador: ${amount}, la más antigua del ${oldest}${days === null ? '' : `; unos ${times(days, 'día', 'días')} de biberones como estos`}.`,
  noMilkList: 'Lo extraído y lo que hay en el congelador aparece aquí cuando está en la lista de leche.',
  notSupply: 'Lo que saca el extractor no es su producción: un bebé saca leche que un extractor no saca.',
  compareTitle: 'Estos siete días y los siete anteriores',
  tooFew: (first, second) =>
    `Sin comparar: ${first} y ${second} biberones con cantidad, y hacen falta 10 de cada lado. Un bebé toma de un día a otro un 13 a 15 % más o menos, así que pocas tomas difieren por azar.`,
  compared: (first, second, firstRange, secondRange) =>
    `La mitad de los biberones fue menor de ${first} antes, y de ${second} ahora; la mitad central ${firstRange}, ahora ${secondRange}.`,
  comparedFlow: (first, second) => `Flujo habitual ${first} antes, ${second} ahora.`,
  usual: 'La diferencia cabe en lo que un bebé varía de un día a otro (13 a 15 %).',
  beyond:
    'La diferencia es mayor de lo que un bebé varía de un día a otro (13 a 15 %). Por qué, ninguna cifra de aquí puede decirlo.',
  from: (low, high) => `de ${low} a ${high}`,
};
