/** Texts of the feeds that the sleeve guided alone. */
import type { Language } from '../../pacing/cues/words.ts';

interface AloneWords {
  title: string;
  intro: string;
  tag: string;
  one: string;
  gone: string;
  minutes: (count: number) => string;
  fetched: (date: string) => string;
  sentence: (amount: string, within: string, minutes: number) => string;
  cues: (tooFast: number, burps: number) => string;
  torn: string;
  doubt: string;
  from: (sleeveId: string, date: string) => string;
  table: string;
  minute: string;
  milk: string;
}

export const ALONE_WORDS: Record<Language, AloneWords> = {
  en: {
    title: 'By the sleeve alone',
    intro:
      'No computer guided these feeds. The sleeve does not know the date or the baby, so they are in no day’s sum.',
    tag: 'by the sleeve alone',
    one: 'A feed by the sleeve alone',
    gone: 'This feed is not kept here.',
    minutes: (count) => `${count} min`,
    fetched: (date) => `fetched ${date}`,
    sentence: (amount, within, minutes) =>
      `${amount} in ${minutes} min, give or take ${within}: the sleeve’s own figure.`,
    cues: (tooFast, burps) => `“Slower”: ${tooFast} times. “Burp”: ${burps} times.`,
    torn: 'The battery went while this was being written: its cues are not known, and milk after the last whole minute is missing.',
    doubt:
      'The sleeve alone knows the flow less well than the computer does. Minutes may be off by some milliliters.',
    from: (sleeveId, date) => `Sleeve ${sleeveId}, fetched ${date}.`,
    table: 'Minute by minute',
    minute: 'Minute',
    milk: 'Milk',
  },
  es: {
    title: 'Solo con la funda',
    intro:
      'Ninguna computadora guió estas tomas. La funda no sabe la fecha ni el bebé; por eso no entran en la suma de ningún día.',
    tag: 'solo con la funda',
    one: 'Una toma solo con la funda',
    gone: 'Esta toma no está guardada aquí.',
    minutes: (count) => `${count} min`,
    fetched: (date) => `recibida el ${date}`,
    sentence: (amount, within, minutes) =>
      `${amount} en ${minutes} min, con un margen de ${within}: cifra de la propia funda.`,
    cues: (tooFast, burps) => `«Más despacio»: ${tooFast} veces. «Eructo»: ${burps} veces.`,
    torn: 'La batería se acabó mientras esto se escribía: no se conocen sus avisos y falta la leche después del último minuto entero.',
    doubt: 'La funda sola conoce el flujo peor que la computadora. Un minuto puede errar en unos mililitros.',
    from: (sleeveId, date) => `Funda ${sleeveId}, recibida el ${date}.`,
    table: 'Minuto a minuto',
    minute: 'Minuto',
    milk: 'Leche',
  },
};
