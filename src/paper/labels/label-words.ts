/** Texts of labels and their sheet. */
import type { LabelKind } from '../../ward/labels/label.ts';

export interface LabelWords {
  title: string;
  kinds: Record<LabelKind, string>;
  note: string;
}

export const LABEL_WORDS: Record<'en' | 'es', LabelWords> = {
  en: {
    title: 'Labels',
    kinds: { child: 'Child', bottle: 'Bottle', sleeve: 'Sleeve' },
    note: 'Print at 100 %. For bottles that are washed: polyester film with a permanent adhesive, printed by laser or thermal transfer, on the outside and away from the marks of the scale; paper only under clear tape, for a day (common practice, no source). Print a new one when its letters fade. The code says nothing of the child; keep names off labels that leave the room.',
  },
  es: {
    title: 'Etiquetas',
    kinds: { child: 'Bebé', bottle: 'Biberón', sleeve: 'Funda' },
    note: 'Imprima al 100 %. Para biberones que se lavan: película de poliéster con adhesivo permanente, impresa con láser o transferencia térmica, por fuera y lejos de las marcas de la escala; papel solo bajo cinta transparente y por un día (práctica común, sin fuente). Imprima otra cuando las letras se borren. El código no dice nada del bebé; no ponga nombres en etiquetas que salen de la sala.',
  },
};
