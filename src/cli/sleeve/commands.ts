/** The commands about a sleeve: calibrate it, list its calibrations, check a built one. */
import type { Given, Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { baby, force, json } from '../options.ts';

const PORT = 'serial port of the sleeve, such as /dev/ttyUSB0';
const portNeeded = { '--port <device>': option.needed(PORT) } as const;

const VERBS = {
  'sleeve calibrate': {
    about: 'Calibrate sleeve and bottle step by step; writes the calibration file and a certificate.',
    '--port <device>': PORT,
    '--simulated': 'try the walk with a simulated sleeve',
    '--by-itself': 'simulated sleeve: the simulated person takes every step, nothing is asked',
    '--seed <number>': option.portNumber('simulated sleeve: same seed, same sleeve', 1),
    '--out <file>':
      'calibration file to write, the certificate beside it; without it sleeve-calibration.json',
    ...force,
    '--bottle <name>': option.text('what the bottle is called', 'bottle'),
    '--way <way>': option.choice('how the inside of the bottle is found', [
      'thorough',
      'two-minutes',
      'outline',
    ]),
    '--sleeve-from <file>':
      'another bottle: take the sleeve from this calibration of it, and only the bottle anew',
    '--outline <file>':
      'drawn outline: height and inner radius in mm, one point a line; without it the generic profile',
    '--placements <number>': option.wholeNumber('how often a mass is put on', 12),
    '--holder-grams <number>': option.positive(
      'weight of the tube that carries the masses and stays in the sleeve while they are put on',
    ),
    '--air-celsius <number>': option.anyNumber('air temperature, noted on the certificate'),
    '--fresh': 'begin anew, whatever was entered before',
  },
  'sleeve alone on': {
    about:
      'Let the sleeve guide alone: for one baby whose questions are answered, with its pace and the kept calibration.',
    ...portNeeded,
    ...baby,
    '--sound': 'soft notes as well',
  },
  'sleeve alone off': { about: 'Stop the sleeve from guiding alone.', ...portNeeded },
  'sleeve alone feeds': {
    about: 'Fetch the latest ten feeds that the sleeve stored, minute by minute.',
    ...portNeeded,
    '--forget': 'delete them from the sleeve once they were fetched',
    ...json,
  },
  'sleeve calibrations': {
    about: 'List the kept calibrations with what later feeds found and corrected.',
    '--undo <sleeve>': 'undo the last correction by feeds for the bottle of this sleeve',
    '--bottle <name>': 'with --undo: which bottle, where there are several',
    '--all': 'with --undo: all corrections by feeds',
    '--keep <file>': 'keep this calibration of a sleeve, as a walk wrote it',
    ...json,
  },
  'sleeve check': {
    about: 'Check a newly built sleeve by the bring-up checklist, step by step.',
    ...portNeeded,
    '--calibration <file>': 'its calibration; without it the kitchen check is left out',
    '--out <file>': 'write the page of results as HTML',
    ...force,
  },
} as const satisfies Verbs;

export type SleeveRuns = Runs<typeof VERBS>;
export type SleeveGiven<P extends keyof typeof VERBS> = Given<(typeof VERBS)[P]>;

export const SLEEVE: Part<typeof VERBS> = {
  nouns: {
    sleeve: 'The sleeve itself: calibrate it, check it.',
    'sleeve alone':
      'Whether the sleeve guides by itself, by light, while no host does. Off until you turn it on.',
  },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
