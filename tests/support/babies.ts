/** Invented babies. */
import type { BabyEntry } from '../../src/feed/baby.ts';

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
  choices: {
    burp: 'half-ounce',
    suckRhythm: false,
    otherSideByTime: true,
    cover: true,
    littleComing: true,
    longFeed: true,
    after: false,
  },
  pace: 'usual',
  usualFeedMl: null,
  breastfed: true,
  breast: null,
  ...part,
});
