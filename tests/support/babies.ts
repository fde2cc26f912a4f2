/** Invented babies. */
import type { BabyEntry } from '../../src/feed/record/baby.ts';
import { FAMILY_SWITCHES } from '../../src/pacing/cues/family-switches.ts';

export const NO_TO_ALL: BabyEntry['answers'] = {
  'born-early': false,
  'newborn-or-slow-gain': false,
  jaundice: false,
  'tongue-tie': false,
  cleft: false,
  'heart-or-lung': false,
  thickened: false,
};

export const babyEntry = (part: Partial<BabyEntry> = {}): BabyEntry => ({
  name: 'Wren',
  birthDate: '2025-09-02',
  answers: NO_TO_ALL,
  plan: null,
  choices: { burp: 'half-ounce', ...FAMILY_SWITCHES },
  pace: 'usual',
  usualFeedMl: null,
  breastfed: true,
  breast: null,
  ...part,
});
