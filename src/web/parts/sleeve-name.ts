import type { Language } from '../../pacing/cues/words.ts';

const ES: Readonly<Record<string, string>> = {
  'simulated sleeve': 'funda simulada',
  'emulated sleeve': 'funda emulada',
  'no sleeve': 'ninguna funda',
};

/** How a sleeve is reached, for people. @param label as its link reports it; the name of a port is not translated */
export const sleeveName = (label: string, language: Language): string =>
  language === 'es' ? (ES[label] ?? label) : label;
