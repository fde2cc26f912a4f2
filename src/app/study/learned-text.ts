/** Result of the learning test in plain words. */
import type { WhatIsLearned } from './what-is-learned.ts';

const times = (learned: WhatIsLearned['length']): string =>
  `${learned.ratio.toFixed(2)} times (95 %: ${learned.low.toFixed(2)} to ${learned.high.toFixed(2)})`;

const OTHERS = [
  ['pouredShare', 'milk that flowed faster than the band'],
  ['sucksPerBurst', 'sucks from pause to pause'],
] as const;

export const learnedText = (found: WhatIsLearned | { missingFeeds: number }): string[] =>
  'missingFeeds' in found
    ? [
        `Too early to say: ${found.missingFeeds} more feeds without cues are needed. It is looked at once, so that looking often finds nothing that is not there.`,
      ]
    : [
        found.length.isLearned
          ? 'You now pace without it: feeds without cues have become longer, more than chance explains.'
          : 'Not shown: feeds without cues have not become longer by more than chance explains.',
        `The later seven feeds without cues, beside the first seven:`,
        `  length: ${times(found.length)}, one-sided p = ${found.length.p.toFixed(3)}`,
        ...OTHERS.map(([key, name]) => `  ${name}: ${found[key] ? times(found[key]) : 'not known'}`),
        ...(found.length.isLearned
          ? ['Cues can be made fewer: on the page about the baby, or with “Cues off” in a feed.']
          : []),
      ];
