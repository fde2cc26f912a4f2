/** What the trail of a house tells, for people. */
import type { Language } from '../../pacing/cues/words.ts';
import type { Deed } from '../../ward/people/deeds.ts';

export interface TrailWords {
  deeds: Record<Deed, string>;
  /** As the trail has them; of the computer itself "computer". */
  roles: Record<string, string>;
}

export const TRAIL_WORDS: Record<Language, TrailWords> = {
  en: {
    deeds: {
      'opened-board': 'opened the board',
      'looked-at-children': 'looked at who is here',
      'looked-at-feeds': 'looked at the feeds',
      'looked-at-trail': 'looked at this list',
      'compared-trail': 'compared this list',
      'looked-at-study': 'looked at studies',
      filled: 'filled a bottle',
      bound: 'bound for a feed',
      stopped: 'was stopped',
      released: 'released a sleeve',
      arrived: 'put in a cot',
      left: 'wrote down that it left',
      labelled: 'printed a label',
      'entered-milk': 'wrote down milk',
      'said-next-feeds': 'said what feeds begin with',
      'consent-given': 'wrote down a consent',
      'consent-ended': 'took a consent back',
    },
    roles: {
      hold: 'holds bottles',
      lead: 'leads',
      parent: 'parent',
      researcher: 'researcher',
      computer: 'at the computer',
    },
  },
  es: {
    deeds: {
      'opened-board': 'abrió el tablero',
      'looked-at-children': 'miró quién está aquí',
      'looked-at-feeds': 'miró las tomas',
      'looked-at-trail': 'miró esta lista',
      'compared-trail': 'comparó esta lista',
      'looked-at-study': 'miró estudios',
      filled: 'llenó un biberón',
      bound: 'asignó para una toma',
      stopped: 'fue detenido',
      released: 'liberó una funda',
      arrived: 'puso en una cuna',
      left: 'anotó que se fue',
      labelled: 'imprimió una etiqueta',
      'entered-milk': 'anotó leche',
      'said-next-feeds': 'dijo con qué empiezan las tomas',
      'consent-given': 'anotó un consentimiento',
      'consent-ended': 'retiró un consentimiento',
    },
    roles: {
      hold: 'da biberones',
      lead: 'dirige',
      parent: 'familia',
      researcher: 'investiga',
      computer: 'en la computadora',
    },
  },
};
