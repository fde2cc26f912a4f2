/** The commands that serve a page or watch a sleeve. */
import type { Given, Part, Verbs } from './definition.ts';
import * as option from './options.ts';
import { simulated } from './options.ts';

const share = {
  '--share [address]':
    'let devices of the home network show the page, each with a one-time code; the address only where there are several',
} as const;

const VERBS = {
  start: {
    about: 'Watch a feed: read a sleeve (simulated without --port), cue, keep the feed, serve the page.',
    '--port <device>': 'serial port of a sleeve, such as /dev/ttyUSB0; without it a simulated sleeve is used',
    '--calibration <file>':
      'calibration of the sleeve and bottle; kept for the next time under the sleeve’s number',
    ...option.pagePort(4140),
    '--bottle <name>': 'the bottle in the sleeve, where several were calibrated; else the last one',
    '--replace-calibration': 'accept a calibration with another sleeve number than before',
    '--sleeve <kind>': option.choice(
      'without --port: a model of the sleeve, or its program on an emulated chip',
      ['simulated', 'emulated'],
    ),
    '--scenario <name>': 'simulated sleeve: what happens in the feed (see --list-scenarios)',
    '--list-scenarios': 'list the simulated feeds and end',
    '--seed <number>': option.portNumber('simulated sleeve: same seed, same feed', 1),
    '--speed <times>': option.positive('simulated sleeve: this many times faster than real time', 1),
    '--ignore-cues': 'simulated sleeve: the caregiver does not follow the cues',
    '--sleeve-number <number>': option.sleeveNumber('with --broker: which of the room’s sleeves'),
    '--practice': 'with a doll and water: the same cues; stored apart from real feeds',
    ...share,
    '--quiet': 'no line of numbers in the terminal',
    '--json': 'with --list-scenarios: as JSON',
    ...option.broker,
  },
  open: {
    about: 'Serve the page for the kept feeds, without a sleeve.',
    also: [option.pagePort(4140), share, simulated],
  },
  relay: {
    about: 'Send the bytes of the sleeves at this computer to a broker, for many sleeves in a house.',
    '--port <device...>': option.needed<string[]>('serial ports of the sleeves'),
    ...option.brokerNeeded,
  },
  work: {
    about: 'Guide the sleeves of a house through a broker; several workers share the sleeves.',
    '--database <where>': option.needed('where feeds are kept: a folder, or postgres://USER@HOST/NAME'),
    ...option.databaseAccess,
    ...simulated,
    '--most-sleeves <number>': option.wholeNumber(
      'most sleeves of this worker; the rest is left to other workers',
      200,
    ),
    '--health-port <number>': option.portNumber('where /health and /metrics are served', 4150),
    '--health-address <address>': option.text(
      'address to serve it on; default: this computer only',
      '127.0.0.1',
    ),
    ...option.brokerNeeded,
  },
} as const satisfies Verbs;

export type WatchGiven<P extends keyof typeof VERBS> = Given<(typeof VERBS)[P]>;

export const WATCH: Part<typeof VERBS> = {
  verbs: VERBS,
  load: async () => ({
    runs: {
      start: async (given) => (await import('./start.ts')).start(given),
      open: async (given) => (await import('./open.ts')).openPage(given),
      relay: async (given) => (await import('./relay.ts')).relaySleeves(given),
      work: async (given) => (await import('./work.ts')).guideSleeves(given),
    },
  }),
};
