/** The research commands: a study, its participants and sessions, its export. */
import type { Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { json, simulated } from '../options.ts';

const STUDY = { '<study>': 'code of the study' } as const;
const PARTICIPANT = { '<participant>': 'code of the participant' } as const;
const OUT = { '--out <folder>': 'folder to make; without it one named after the study and the day' } as const;

const VERBS = {
  'study new': {
    about: 'Begin a study from its protocol.',
    '<protocol>': 'protocol file (JSON)',
    also: [simulated],
  },
  'study example': { about: 'Print a protocol to start from.' },
  'study list': { about: 'List the studies, and how far each is.', also: [json, simulated] },
  'study enroll': {
    about: 'Enroll participants by code; the arm of each is drawn at random at that moment.',
    ...STUDY,
    '<participant...>': 'codes of participants, such as F07; never a name',
    '--stratum <code>': option.text('stratum of the protocol', 'all'),
    also: [simulated],
  },
  'study bind': {
    about: 'Assign kept feeds to a participant, as sessions of the study.',
    ...STUDY,
    ...PARTICIPANT,
    '<feed...>': 'names of feeds as "ebbline feeds" lists them',
    also: [simulated],
  },
  'study export': {
    about:
      'Write tables (CSV and Parquet), dictionary and methods of all sessions, computed from their raw counts.',
    ...STUDY,
    ...OUT,
    '--raw': 'the raw counts too, one Parquet file a session (about 0.1 MB a minute)',
    also: [simulated],
  },
  'study recompute': {
    about: 'Compute all sessions again with this version, and say which results changed.',
    also: [STUDY, simulated],
  },
  'study figures': {
    about: 'Draw the curves of the arms and forest plots, as SVG and PDF, with all comparisons as a table.',
    also: [STUDY, OUT, simulated],
  },
  'study size': {
    about: 'Compute how many participants each of two arms needs for an interval of a given width.',
    '--sd <number>': option.needed(option.positive('standard deviation between participants')),
    '--half <number>': option.needed(option.positive('half of the interval of 95 %, in the same unit')),
  },
  'study learned': {
    about: 'Say whether a caregiver now paces without cues; answered once, after 14 feeds without them.',
    also: [STUDY, PARTICIPANT, simulated],
  },
  'study close': {
    about: 'End a study: exports and figures then name the arms, and nobody can join any more.',
    also: [STUDY, simulated],
  },
  'study audit': {
    about: 'List all changes to a study, with their times.',
    also: [STUDY, json, simulated],
  },
  'study withdraw': {
    about: 'Remove a participant from a study for good; the family keeps its feeds.',
    also: [STUDY, PARTICIPANT, simulated],
  },
} as const satisfies Verbs;

export type StudyRuns = Runs<typeof VERBS>;

export const STUDIES: Part<typeof VERBS> = {
  nouns: { study: 'Research: feeds of coded participants, exported with units and uncertainty.' },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
