/** Texts of the page before a feed about stored babies and the sleeve. They load with the first page, so they are few. */
import type { TeatFlow } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/cues/words.ts';

export interface BeforeWords {
  addBaby: string;
  about: (name: string) => string;
  asBefore: string;
  teat: string;
  teatHint: string;
  teatFlow: string;
  teatFlows: Record<TeatFlow | 'unknown', string>;
  teatFlowHint: string;
  /** Offered after milk ran fast in several feeds. */
  restsOffered: string;
  restsWay: string;
  /** Child, bottle and sleeve, shown once more before they are stored. */
  together: string;
  bottle: (name: string) => string;
  noBaby: string;
  noBottle: string;
  glows: string;
  study: string;
  noStudy: string;
  studyHint: string;
}

export const BEFORE_WORDS: Readonly<Record<Language, BeforeWords>> = {
  en: {
    addBaby: 'Add a baby',
    about: (name) => `About ${name}: pace, burps, questions`,
    asBefore: 'Give all cues again',
    teat: 'Nipple',
    teatHint: 'In your own words',
    teatFlow: 'Flow of the nipple, as its pack says',
    teatFlows: { slow: 'Slow', medium: 'Medium', fast: 'Fast', unknown: 'Not known' },
    teatFlowHint: 'Most begin with a slow one. Packs differ: the word does not tell how fast it runs.',
    restsOffered:
      'Baby may need a rest for a breath: many sucks in a row, then a pause. The sleeve can say when; it is off unless you turn it on.',
    restsWay: 'Turn on short rests',
    together: 'These belong together for the next feed:',
    bottle: (name) => `bottle “${name}”`,
    noBaby: 'no baby chosen',
    noBottle: 'bottle not named',
    glows: 'Its light glows three times, once a second. Between feeds only.',
    study: 'Study',
    noStudy: 'Not for a study',
    studyHint:
      'A study may keep cues unseen. Signs of stress are always shown, and you can show the cues at any time.',
  },
  es: {
    addBaby: 'Añadir un bebé',
    about: (name) => `Sobre ${name}: ritmo, eructos, preguntas`,
    asBefore: 'Volver a dar todos los avisos',
    teat: 'Tetina',
    teatHint: 'Con sus palabras (chupón, chupo…)',
    teatFlow: 'Flujo de la tetina, según el envase',
    teatFlows: { slow: 'Lento', medium: 'Medio', fast: 'Rápido', unknown: 'No se sabe' },
    teatFlowHint:
      'Casi siempre se empieza con una lenta. Los envases difieren: la palabra no dice cuánto sale.',
    restsOffered:
      'El bebé puede necesitar un descanso para respirar: muchas succiones seguidas y luego una pausa. La funda puede avisar; está apagado mientras no lo encienda.',
    restsWay: 'Encender los descansos cortos',
    together: 'Esto va junto en la próxima toma:',
    bottle: (name) => `biberón «${name}»`,
    noBaby: 'ningún bebé elegido',
    noBottle: 'biberón sin nombre',
    glows: 'Su luz se enciende tres veces, una por segundo. Solo entre tomas.',
    study: 'Estudio',
    noStudy: 'Para ningún estudio',
    studyHint:
      'Un estudio puede no mostrar avisos. Las señales de estrés se muestran siempre, y usted puede mostrar los avisos cuando quiera.',
  },
};
