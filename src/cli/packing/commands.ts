/** The parent's commands: what to pack, the milk list, the printed sheets. */
import type { Place } from '../../planning/milk/places.ts';
import type { Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { baby, force, json, language, simulated } from '../options.ts';

/** In the order of the help. */
const PLACES: readonly Place[] = ['fridge', 'freezer', 'deep-freezer', 'cooler', 'room', 'sleeve'];
const PLACE = { '--place <place>': option.oneOf('where it is', PLACES) } as const;
const WHEN = [
  option.day('today'),
  { '--at <time>': 'when, HH:MM; now without it' },
  json,
  simulated,
] as const;
const BORN = { '--born <date>': 'birth date, YYYY-MM-DD, where it was not entered' } as const;
const SHEET = {
  ...force,
  ...language,
  ...baby,
  ...option.day('none is printed'),
  ...simulated,
} as const;

const VERBS = {
  plan: {
    about: 'Say which bottles to pack for a day away, from kept feeds and the milk on hand.',
    '--away <hours>': 'from when to when, such as 08:30-17:30; without it your usual hours',
    ...option.day('tomorrow'),
    '--feeds <number>': option.wholeNumber('feeds that will be missed; without it as on other days'),
    ...baby,
    ...BORN,
    '--milk <file>': 'containers as JSON; without it those of the milk list',
    '--short-days <number>': option.shortDays('of 100 days, how many may run short'),
    '--most-bottles <number>': option.wholeNumber('bottles at the most, the spare too'),
    also: [json, simulated],
  },
  'milk list': {
    about: 'List the milk in the order to use it, with the published times.',
    also: [json, simulated],
    isDefault: true,
  },
  'milk add': {
    about: 'Enter milk that was pumped or made.',
    '[label]': '',
    '--amount <amount>': 'such as "3 fl oz" or "90 mL"',
    ...PLACE,
    '--kind <kind>': option.choice('kind of milk', ['expressed', 'formula', 'mixed']),
    '--label <label>': 'what stands on the lid; without it the next number',
    also: WHEN,
  },
  'milk move': { about: 'Enter that milk was moved.', '<label>': '', ...PLACE, also: WHEN },
  'milk thaw': { about: 'Enter that milk was taken out to thaw.', '<label>': '', also: WHEN },
  'milk warm': { about: 'Enter that milk was warmed.', '<label>': '', also: WHEN },
  'milk hold': { about: 'Keep milk back from plans.', '<label>': '', also: WHEN },
  'milk release': { about: 'Let plans use milk that was kept back.', '<label>': '', also: WHEN },
  'milk discard': { about: 'Enter that milk was thrown away.', '<label>': '', also: WHEN },
  'milk fed': { about: 'Say which milk a kept feed was.', '<feed>': '', '<label>': '', also: WHEN },
  'milk take-back': { about: 'Take an entry back.', '<number>': '', also: WHEN },
  'print feeding-plan': {
    about: 'Print the feeding plan: one page.',
    '--out <file>': 'file to write, ending in .pdf or .html; without it feeding-plan.pdf',
    ...SHEET,
    ...BORN,
    '--call <person>': 'whom to call: "Name, number"; kept on the page, else needed',
    '--or-call <person>': 'whom else: "Name, number"',
    '--leftover-rule <text>': 'the center’s own rule about what is left in a bottle',
    '--note <text...>': 'up to three lines of your own',
    '--without-sleeve': 'leave out what the light means',
  },
  'print day-sheet': {
    about: 'Print the sheet that comes back with the bottles: one page.',
    '--out <file>': 'file to write, ending in .pdf or .html; without it day-sheet.pdf',
    ...SHEET,
    '--filled': 'write the kept feeds of that day in',
  },
} as const satisfies Verbs;

export type PackingRuns = Runs<typeof VERBS>;

export const PACKING: Part<typeof VERBS> = {
  nouns: {
    milk: 'The milk on hand, and what happens to it.',
    print: 'Pages for whoever feeds the baby, PDF or HTML.',
  },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
