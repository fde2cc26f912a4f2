/**
 * The lines that say why a cue came, by language. A cue is recorded with its line in English, numbers and all; from these patterns the line is built
 * (because.ts), and by them a recorded one is read again and told in another language. A slot takes a number, a volume, a time, or another line.
 */
import type { Language } from './words.ts';

type Line = Record<Language, string>;

export const BECAUSE = {
  tiltDown: {
    en: '{milk} in {time}, about {flow} mL/min: {ahead} ahead of {rate} mL/min.',
    es: '{milk} en {time}, unos {flow} mL/min: {ahead} por delante de {rate} mL/min.',
  },
  tiltDownInDoubt: {
    en: '{milk} in {time}, about {flow} mL/min: {ahead} ahead of {rate} mL/min, though the estimate was poor.',
    es: '{milk} en {time}, unos {flow} mL/min: {ahead} por delante de {rate} mL/min, aunque la estimación era mala.',
  },
  burp: {
    en: '{milk} since the last burp or burp cue; {pause}.',
    es: '{milk} desde el último eructo o aviso de eructo; {pause}.',
  },
  halfWayBurp: {
    en: 'First pause past half-way, {pause}.',
    es: 'Primera pausa pasada la mitad, {pause}.',
  },
  endBurp: { en: 'The end of the feed: {refused}', es: 'El final de la toma: {refused}' },
  switchSide: {
    en: 'First pause past the change-over: {milk} taken, {pause}.',
    es: 'Primera pausa pasado el momento del cambio: {milk} tomados, {pause}.',
  },
  switchSideByTime: {
    en: 'First pause after {time} on one side, {pause}.',
    es: 'Primera pausa tras {time} en un lado, {pause}.',
  },
  refused: {
    en: 'The nipple was offered {count} times in a row and not taken.',
    es: 'La tetina se ofreció {count} veces seguidas y no se tomó.',
  },
  faded: {
    en: '{sucks} sucks in the last {time} of nipple offered; before, about {rate} a minute.',
    es: '{sucks} succiones en los últimos {time} con la tetina ofrecida; antes, unas {rate} por minuto.',
  },
  asleepEarly: {
    en: '{sucks} sucks in the last {time} of nipple offered; before, about {rate} a minute, {into} into the feed.',
    es: '{sucks} succiones en los últimos {time} con la tetina ofrecida; antes, unas {rate} por minuto; {into} desde el inicio de la toma.',
  },
  breathPause: { en: '{sucks} sucks without a pause.', es: '{sucks} succiones sin pausa.' },
  lowerIsFine: {
    en: 'Held at {tilt}°; milk covers the hole from {cover}° on.',
    es: 'Inclinado a {tilt}°; la leche cubre el orificio desde {cover}°.',
  },
  holeDry: {
    en: 'The milk lies {depth} mm under the hole while baby sucks.',
    es: 'La leche queda {depth} mm bajo el orificio mientras el bebé succiona.',
  },
  littleComing: {
    en: '{sucks} sucks in {time} of active sucking brought {milk} mL.',
    es: '{sucks} succiones en {time} de succión activa dieron {milk} mL.',
  },
  longFeed: { en: '{time} since the first suck.', es: '{time} desde la primera succión.' },
  after: {
    en: 'Nipple out for {time} after "look at baby".',
    es: 'Tetina fuera durante {time} tras «mire al bebé».',
  },
  withoutSuck: { en: '{seconds} s without a suck', es: '{seconds} s sin succión' },
  noPause: { en: 'no pause came', es: 'no hubo pausa' },
  noSuck: { en: 'no suck seen', es: 'no se vio succión' },
} as const satisfies Record<string, Line>;

const SLOT = /\{(\w+)\}/g;

/** @param slots what stands in each slot of the pattern */
export const fill = (pattern: string, slots: Readonly<Record<string, string | number>>): string =>
  pattern.replaceAll(SLOT, (_, name: string) => String(slots[name]));

const READERS = Object.values(BECAUSE).map((line: Line) => ({
  line,
  // The whole line has to fit; a slot takes no more than it must.
  reads: new RegExp(`^${line.en.replaceAll(/[.°;:?]/g, '\\$&').replaceAll(SLOT, '(?<$1>.+?)')}$`),
}));

/**
 * Tells a recorded line in another language.
 * @param recorded a cue's `because`, in English
 * @returns the line in that language; as recorded when no pattern fits
 */
export function becauseIn(language: Language, recorded: string): string {
  if (language === 'en') return recorded;
  // A pattern that says more also fits one that says less: take the one whose slots hold least.
  const fitting = READERS.flatMap(({ line, reads }) => {
    const slots = reads.exec(recorded)?.groups;
    if (!slots && !reads.test(recorded)) return [];
    const held = Object.values(slots ?? {}).reduce((sum, one) => sum + one.length, 0);
    return [{ line, slots: slots ?? {}, held }];
  }).sort((a, b) => a.held - b.held)[0];
  if (!fitting) return recorded;
  const told = Object.entries(fitting.slots).map(([name, one]) => [name, becauseIn(language, one)]);
  return fill(fitting.line[language], Object.fromEntries(told) as Record<string, string>);
}
