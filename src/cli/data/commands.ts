/** The commands about all stored data: backup, restore, archive, forget. */
import type { Given, Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { simulated } from '../options.ts';

const VERBS = {
  'data backup': {
    about: 'Save all kept data, captures too, as one file; also while a feed is recorded.',
    '--out <file>': 'file to make (tar); without it ebbline-backup-, the day and .tar',
    also: [simulated],
  },
  'data restore': {
    about: 'Restore a backup; the present data stays beside it.',
    '<file>': 'file made by "ebbline data backup"',
    '--replace': 'put the backup in place of the present data',
    also: [simulated],
  },
  'data move': {
    about:
      'Copy all kept data from a folder to a database, or back, unchanged; run it again if it was interrupted.',
    '--from <place>': option.needed('data folder, or postgres://USER@HOST/NAME?site=SITE'),
    '--to <place>': option.needed('the same; it must be empty'),
    also: [option.databaseSite, option.databaseAccess],
  },
  'data archive': {
    about: 'Move captures of old feeds elsewhere, or delete them; everything else of the feeds stays.',
    '--older-than <age>': option.ageDays('such as 90d, 26w, 18m or 2y; without it the present rule is shown'),
    '--into <folder>': 'where they go; it must be there',
    '--remove': 'remove them for good',
    '--from-now-on': 'keep this as a rule, applied at each start',
    '--stop': 'no such rule any more',
    also: [simulated],
  },
  'data check': {
    about:
      'Check the kept data: database, captures, access rights; lost feeds can be made again from captures.',
    '--rebuild': 'make feeds again from captures without one',
    '--json': 'what was found, as JSON',
    also: [simulated],
  },
  'data time-zone': {
    about: 'Show the time zone of all days and times, or choose it.',
    '[zone]': 'its IANA name, such as America/Chicago',
    also: [simulated],
  },
  'data forget': {
    about: 'Delete a baby and all that belongs to it, for good. Asks twice.',
    '<baby>': 'name of the baby',
    '--yes': 'do not ask',
    also: [simulated],
  },
} as const satisfies Verbs;

export type DataRuns = Runs<typeof VERBS>;
export type DataGiven<P extends keyof typeof VERBS> = Given<(typeof VERBS)[P]>;

export const DATA: Part<typeof VERBS> = {
  nouns: { data: 'All that is kept: save, bring back, put away, forget.' },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
