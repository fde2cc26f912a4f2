/** The commands about feeds and days. */
import type { Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { baby, force, json, language, simulated, unit } from '../options.ts';

const FEED = 'the feed’s name as listed by "ebbline feeds"';

const VERBS = {
  'feeds list': {
    about: 'List the kept feeds, the newest first. "ebbline feeds" alone does the same.',
    '--page <number>': option.wholeNumber('which page; 1 is the newest'),
    '--per-page <number>': option.wholeNumber('feeds on a page', 20),
    '--discarded': 'also those that were marked as not a feed',
    also: [json, simulated],
    isDefault: true,
  },
  'feeds graph': {
    about: 'Draw a kept feed; or write it as a page or a PDF to hand on.',
    '[feed]': `${FEED}; without it the latest one`,
    '--out <file>':
      'ending in .svg, .png, .html or .pdf; "-" is standard output (SVG); without it feed-NAME.svg',
    ...force,
    '--note <text>': 'a note for the page or PDF; without it the one kept beside the feed',
    '--names': 'name the baby and whoever fed, in the page or PDF',
    also: [language, unit, simulated],
  },
  'feeds again': {
    about: 'Compute a kept feed again, and say whether its cues are the same.',
    '<feed>': FEED,
    also: [json, simulated],
  },
  'feeds add': {
    about: 'Enter a feed that no sleeve measured.',
    '<kind>': option.oneOf('how', ['breast', 'bottle', 'refused']),
    ...option.day('today'),
    '--at <time>': option.needed('when it began, HH:MM'),
    '--again': 'in the night when clocks go back: the second time that the clock showed it',
    '--minutes <number>': option.notNegative('how long it took'),
    '--offered-ml <number>': option.notNegative('milk in the bottle before, mL'),
    '--offered-fl-oz <number>': { ...option.notNegative('the same in US fl oz'), excludes: 'offeredMl' },
    '--left-ml <number>': option.notNegative('milk left in it after, mL'),
    '--left-fl-oz <number>': { ...option.notNegative('the same in US fl oz'), excludes: 'leftMl' },
    '--side <side>': option.oneOf('at the breast', ['left', 'right', 'both']),
    ...baby,
    '--by <initials>': 'who fed',
    '--note <text>': 'in your own words',
    also: [simulated],
  },
  'feeds whose': {
    about: 'List feeds whose baby is not certain, or say whose they are.',
    '[feeds]': 'the name that they stand under, as listed',
    '--baby <name>': 'the baby that they are of: name or number',
    '--another': 'they are of a baby that is not in the list',
    also: [json, simulated],
  },
  'feeds export': {
    about: 'Write everything that is kept as JSON and CSV into a folder of its own.',
    '--out <folder>': 'folder to make; without it ebbline-export- and the day',
    '--from <date>': option.dayText('only feeds from this day on, YYYY-MM-DD'),
    '--to <date>': option.dayText('only feeds up to this day, which is in it'),
    '--baby <name>': 'only feeds of this baby',
    '--captures': 'the captures too, as the sleeve sent them (gzip)',
    also: [simulated],
  },
  'feeds import': {
    about: 'Read an export back in; feeds that are kept already are left as they are.',
    '<file>': 'folder of an export, its ebbline.jsonl, or a table like its hand-feeds.csv',
    also: [simulated],
  },
  day: {
    about: 'Show a day: milk from bottles, feeds of all kinds; or write it as a page to hand on.',
    ...option.day('today'),
    ...baby,
    '--out <file>': 'page to write, ending in .html',
    ...force,
    '--note <text>': 'a note for the page',
    '--names': 'name whoever fed',
    also: [language, unit, json, simulated],
  },
  week: {
    about: 'Show seven days up to a day, and the seven before.',
    also: [option.day('today'), baby, language, unit, json, simulated],
  },
} as const satisfies Verbs;

export type FeedRuns = Runs<typeof VERBS>;

export const FEEDS: Part<typeof VERBS> = {
  nouns: { feeds: 'Kept feeds: list, draw, write in by hand, take out and in.' },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
