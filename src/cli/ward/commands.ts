/** Commands of a ward: the board of a room, labels, children in their cots, consents, the audit trail. */
import { InvalidArgumentError } from 'commander';
import type { Given, Part, Runs, Verbs } from '../definition.ts';
import * as option from '../options.ts';
import { force, json, language, simulated } from '../options.ts';

/** Differs from the port of `start`, so that both can run on one computer. */
const BOARD_PORT = 4141;

const httpsOnly = option.readBy((text) => {
  if (URL.canParse(text) && new URL(text).protocol === 'https:') return new URL(text).origin;
  throw new InvalidArgumentError('It must be an address such as https://board.example.');
});

const CHILD = { '<child>': 'name or number of the child' } as const;

const VERBS = {
  board: {
    about: 'Serve one page for a tablet: all running feeds of a room, the most urgent first.',
    '--demo': 'with invented cots, to try it without sleeves or a broker',
    '--cots <number>': option.wholeNumber('with --demo: how many invented cots', 12),
    ...option.pagePort(BOARD_PORT),
    '--address <address>': httpsOnly(
      'where people reach it by TLS, such as https://board.example; with --sign-in',
    ),
    '--certificate <file>': 'with --address: certificate of that name; else a server before it speaks TLS',
    '--key <file>': 'key of the certificate',
    '--listen <ip>': 'address of this computer; with a certificate all of them, else 127.0.0.1',
    '--health-port <number>': option.portNumber('serve /health and /metrics there, for this computer'),
    '--sign-in <issuer>': 'OpenID Connect provider by which staff and parents sign in',
    '--sign-in-client <id>': option.text('as which client', 'ebbline'),
    '--sign-in-secret-file <file>': 'file of its secret; else EBBLINE_SIGN_IN_SECRET',
    '--roles-claim <name>': option.text('claim in which the provider names roles', 'ebbline_roles'),
    ...option.broker,
  },
  labels: {
    about: 'Print a PDF of labels for children, bottles and sleeves. Earlier labels become invalid.',
    '--out <file>': option.needed('PDF to write'),
    '--child <name...>': 'for these children, who are in a cot here',
    '--bottles <number>': option.notNegative('for so many bottles', 0),
    '--sleeve <number...>': option.sleeveNumbers('for these sleeves'),
    '--paper <size>': option.choice('size of the sheet', ['letter', 'a4']),
    '--names': 'children’s names beside their codes; else the cot',
    also: [language, force, simulated],
  },
  'ward arrive': {
    about: 'Enter that a child is in a cot here now.',
    ...CHILD,
    '--cot <name>': option.needed('which cot'),
    also: [simulated],
  },
  'ward leave': {
    about: 'Enter that a child has left: its label becomes invalid.',
    ...CHILD,
    also: [simulated],
  },
  'ward child': {
    about: 'Set the nipple of a child, and the study that it takes part in.',
    ...CHILD,
    '--nipple <name>': 'the nipple, as it was measured',
    '--no-nipple': 'none any more',
    '--study <code>': 'study that its feeds are sessions of, while research is allowed',
    '--participant <code>': 'as which participant of it',
    '--no-study': 'none any more',
    also: [simulated],
  },
  'ward consent': {
    about: 'Allow a parent to see the own child, or a study to use its feeds; or take that back.',
    ...CHILD,
    '--what <what>': option.choice('what is allowed', ['parent', 'research']),
    '--person <id>': 'of a parent: her id at the sign-in service',
    ...option.day('until it is taken back'),
    '--end': 'take it back',
    also: [simulated],
  },
  'ward handover': {
    about: 'Print the sheet for the next shift: feeds, milk left over and its time limit, notes.',
    '--out <file>': option.needed('file to write, ending in .pdf or .html'),
    '--hours <number>': option.wholeNumber('of so many hours', 8),
    also: [language, force, simulated],
  },
  'ward trail': {
    about: 'Show who looked at or changed children’s data, and whether that list is complete.',
    '--mark <mark>':
      'mark printed on an earlier sheet for the next shift: checks that the list is unchanged up to there',
    also: [json, simulated],
  },
} as const satisfies Verbs;

export type WardRuns = Runs<typeof VERBS>;
export type WardGiven<P extends keyof typeof VERBS> = Given<(typeof VERBS)[P]>;

export const WARD: Part<typeof VERBS> = {
  nouns: { ward: 'Children in their cots, consents, the next shift.' },
  verbs: VERBS,
  load: () => import('./runs.ts'),
};
