/** The assumptions of a plan, each with its source. */
import { CURVE_SOURCE, DAY_TO_DAY_SOURCE, SPREAD_SOURCE } from '../intake/daily-intake.ts';
import { BOTTLE_SIZE_SOURCE } from '../intake/portion.ts';
import { LED_SOURCE } from '../intake/seen-feed.ts';
import { SPELLS_SOURCE } from '../intake/spells.ts';

/** An assumption by name, with its source. */
export interface Assumption {
  id:
    | 'own-feeds'
    | 'curve'
    | 'between-babies'
    | 'day-to-day'
    | 'spells'
    | 'feed-to-feed'
    | 'refused'
    | 'emptied'
    | 'poured'
    | 'bottle-price'
    | 'rule-of-thumb'
    | 'sizes'
    | 'left-over'
    | 'close';
  source: string;
}

const OWN = 'assumption of this program, no source';

export const ASSUMPTIONS: readonly Assumption[] = [
  { id: 'own-feeds', source: 'feeds kept on this computer; a day counts half every 14 days (own choice)' },
  { id: 'curve', source: CURVE_SOURCE },
  { id: 'between-babies', source: SPREAD_SOURCE },
  { id: 'day-to-day', source: DAY_TO_DAY_SOURCE },
  { id: 'spells', source: SPELLS_SOURCE },
  { id: 'feed-to-feed', source: OWN },
  { id: 'refused', source: 'common practice, no source' },
  { id: 'emptied', source: OWN },
  { id: 'poured', source: LED_SOURCE },
  { id: 'bottle-price', source: OWN },
  { id: 'rule-of-thumb', source: 'common practice, no source' },
  { id: 'sizes', source: BOTTLE_SIZE_SOURCE },
  {
    id: 'left-over',
    source:
      'strictest of the usual center rules: common practice, no source; published times stand in the milk list',
  },
  { id: 'close', source: OWN },
];
