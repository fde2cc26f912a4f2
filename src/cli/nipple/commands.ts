/** The commands about nipples: how fast one runs. */
import { InvalidArgumentError } from 'commander';
import type { Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { json, simulated } from '../options.ts';

const volumes = option.readBy((text) => {
  const all = text.split(',').map(Number);
  if (all.every((ml) => Number.isFinite(ml) && ml >= 0)) return all;
  throw new InvalidArgumentError('They must be numbers with commas between, such as 11,12,10.5.');
});

const VERBS = {
  'nipple list': { about: 'List the nipples that were measured.', also: [json, simulated], isDefault: true },
  'nipple measure': {
    about: 'Enter measured trials: bottle tipped, nipple down, water caught and weighed (1 g is 1 mL).',
    '--name <name>': option.needed('the nipple, in your own words'),
    '--shown <grams>': volumes(
      'what the scale showed after each trial, the cup left on it: 11,22,33 (three trials of a minute give 5 % from 5 mL/min on)',
    ),
    '--ml <volumes>': volumes('instead: mL of each trial, three at least: 11,12,10.5'),
    '--scale-step <grams>': option.positive('smallest step of the scale', 1),
    '--sec <seconds>': option.positive('how long each trial took', 60),
    '--tilt <degrees>': option.positive('how far the nipple pointed down', 30),
    '--head <mm>': option.positive('height of water above the hole', 50),
    '--liquid <liquid>': option.choice('what was in it', ['water', 'formula', 'milk']),
    '--suction <mmHg>': option.positive('under a pump; without it the nipple drips by itself'),
    also: [simulated],
  },
} as const satisfies Verbs;

export type NippleRuns = Runs<typeof VERBS>;

export const NIPPLE: Part<typeof VERBS> = {
  nouns: {
    nipple: 'How fast a nipple runs, measured with water and a clock, since packages do not say it.',
  },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
