/** What the page before a feed says of kept babies and of the sleeve. On the first page: kept short. */
import type { Language } from '../../pacing/cues/words.ts';

export interface BeforeWords {
  addBaby: string;
  about: (name: string) => string;
  asBefore: string;
  teat: string;
  teatHint: string;
  /** Child, bottle and sleeve, read once more before they are kept. */
  together: string;
  bottle: (name: string) => string;
  noBaby: string;
  noBottle: string;
  glows: string;
}

export const BEFORE_WORDS: Readonly<Record<Language, BeforeWords>> = {
  en: {
    addBaby: 'Add a baby',
    about: (name) => `About ${name}: pace, burps, questions`,
    asBefore: 'Give all cues again',
    teat: 'Nipple',
    teatHint: 'In your own words',
    together: 'These belong together for the next feed:',
    bottle: (name) => `bottle “${name}”`,
    noBaby: 'no baby chosen',
    noBottle: 'bottle not named',
    glows: 'Its light glows three times, once a second. Between feeds only.',
  },
  es: {
    addBaby: 'Añadir un bebé',
    about: (name) => `Sobre ${name}: ritmo, eructos, preguntas`,
    asBefore: 'Volver a dar todos los avisos',
    teat: 'Tetina',
    teatHint: 'En sus palabras (tetina, chupón, mamadera…)',
    together: 'Esto va junto en la próxima toma:',
    bottle: (name) => `biberón «${name}»`,
    noBaby: 'ningún bebé elegido',
    noBottle: 'biberón sin nombre',
    glows: 'Su luz se enciende tres veces, una por segundo. Solo entre tomas.',
  },
};
