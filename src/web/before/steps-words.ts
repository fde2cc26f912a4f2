/**
 * What the three drawn steps say. Upright, and the bottle level: leaflets of Women & Infants Hospital (US) and Indiana WIC; semi-upright, the bottle
 * just above level: NHS trust pages after UNICEF UK. Close, lips and open mouth: common practice, no source.
 */
import type { Language } from '../../pacing/cues/words.ts';

export interface StepsWords {
  title: string;
  /** In order; one picture for each. */
  steps: readonly { name: string; how: string }[];
  sources: string;
  from: string;
  putAway: string;
  show: string;
}

export const STEPS_WORDS: Readonly<Record<Language, StepsWords>> = {
  en: {
    title: 'Before the first suck',
    steps: [
      { name: 'Baby upright and close.', how: 'Head higher than the hips, held against you.' },
      { name: 'Bottle level.', how: 'Just enough milk to cover the hole.' },
      { name: 'Touch the lips, and wait.', how: 'Baby opens wide and takes the nipple in.' },
    ],
    sources: 'Where this is from',
    from: 'Upright with the bottle level: leaflets of Women & Infants Hospital and of Indiana WIC (US). Semi-upright, the bottle just above level: NHS pages after UNICEF UK. Held close, touching the lips, waiting for an open mouth: common practice, no source.',
    putAway: 'I know these: do not show them again',
    show: 'Show the steps before the first suck',
  },
  es: {
    title: 'Antes de la primera succión',
    steps: [
      { name: 'Bebé erguido y cerca.', how: 'La cabeza más alta que la cadera, contra su cuerpo.' },
      // Regional words, from memory; given once, where the hold is first shown.
      {
        name: 'Biberón (mamadera, tetero) horizontal.',
        how: 'La leche justa para cubrir el orificio de la tetina (chupón, chupo).',
      },
      { name: 'Toque los labios y espere.', how: 'El bebé abre bien la boca y toma la tetina.' },
    ],
    sources: 'De dónde viene esto',
    from: 'Erguido y con el biberón horizontal: folletos de Women & Infants Hospital y de Indiana WIC (EE. UU.). Semierguido, con el biberón casi horizontal: páginas del NHS según UNICEF Reino Unido. Cerca del cuerpo, tocar los labios y esperar la boca abierta: práctica común, sin fuente.',
    putAway: 'Ya los conozco: no mostrarlos más',
    show: 'Mostrar los pasos antes de la primera succión',
  },
};
