/** Commands of a ward: the board of a room, labels, children in their cots, consents, the audit trail. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import {
  addBrokerOptions,
  dayOption,
  forceOption,
  jsonOption,
  languageOption,
  notNegative,
  numberOption,
  portNumber,
  simulatedOption,
  sleeveNumber,
  wholeNumber,
} from '../options.ts';

/** Differs from the port of `start`, so that both can run on one computer. */
const BOARD_PORT = 4141;

const sleeves = (text: string, before: number[] = []): number[] => [...before, sleeveNumber(text)];
const httpsOnly = (text: string): string => {
  if (URL.canParse(text) && new URL(text).protocol === 'https:') return new URL(text).origin;
  throw new InvalidArgumentError('It must be an address such as https://board.example.');
};
const whatOption = () =>
  new Option('--what <what>', 'what is allowed').choices(['parent', 'research']).default('parent');

export function addWardCommands(ebbline: Command): void {
  addBoard(ebbline);
  ebbline
    .command('labels')
    .description('Print a PDF of labels for children, bottles and sleeves. Earlier labels become invalid.')
    .requiredOption('--out <file>', 'PDF to write')
    .option('--child <name...>', 'for these children, who are in a cot here')
    .addOption(numberOption('--bottles <number>', 'for so many bottles', notNegative).default(0))
    .option('--sleeve <number...>', 'for these sleeves', sleeves)
    .addOption(new Option('--paper <size>', 'size of the sheet').choices(['letter', 'a4']).default('letter'))
    .option('--names', 'children’s names beside their codes; else the cot')
    .addOption(languageOption())
    .addOption(forceOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./arrange.ts')).labelsCommand(options));
  const ward = ebbline.command('ward').description('Children in their cots, consents, the next shift.');
  ward
    .command('arrive')
    .description('Enter that a child is in a cot here now.')
    .argument('<child>', 'name or number of the child')
    .requiredOption('--cot <name>', 'which cot')
    .addOption(simulatedOption())
    .action(async (child, options) => (await import('./arrange.ts')).arriveCommand(child, options));
  ward
    .command('leave')
    .description('Enter that a child has left: its label becomes invalid.')
    .argument('<child>', 'name or number of the child')
    .addOption(simulatedOption())
    .action(async (child, options) => (await import('./arrange.ts')).leaveCommand(child, options));
  addChild(ward);
  ward
    .command('consent')
    .description('Allow a parent to see the own child, or a study to use its feeds; or take that back.')
    .argument('<child>', 'name or number of the child')
    .addOption(whatOption())
    .option('--person <id>', 'of a parent: her id at the sign-in service')
    .addOption(dayOption('until it is taken back'))
    .option('--end', 'take it back')
    .addOption(simulatedOption())
    .action(async (child, options) => (await import('./arrange.ts')).consentCommand(child, options));
  ward
    .command('handover')
    .description('Print the sheet for the next shift: feeds, milk left over and its time limit, notes.')
    .requiredOption('--out <file>', 'file to write, ending in .pdf or .html')
    .addOption(numberOption('--hours <number>', 'of so many hours', wholeNumber).default(8))
    .addOption(languageOption())
    .addOption(forceOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./arrange.ts')).handoverCommand(options));
  ward
    .command('trail')
    .description('Show who looked at or changed children’s data, and whether that list is complete.')
    .option(
      '--mark <mark>',
      'mark printed on an earlier sheet for the next shift: checks that the list is unchanged up to there',
    )
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./arrange.ts')).trailCommand(options));
}

function addChild(ward: Command): void {
  ward
    .command('child')
    .description('Set the nipple of a child, and the study that it takes part in.')
    .argument('<child>', 'name or number of the child')
    .option('--nipple <name>', 'the nipple, as it was measured')
    .option('--no-nipple', 'none any more')
    .option('--study <code>', 'study that its feeds are sessions of, while research is allowed')
    .option('--participant <code>', 'as which participant of it')
    .option('--no-study', 'none any more')
    .addOption(simulatedOption())
    .action(async (child, options) => (await import('./arrange.ts')).childCommand(child, options));
}

function addBoard(ebbline: Command): void {
  const board = ebbline
    .command('board')
    .description('Serve one page for a tablet: all running feeds of a room, the most urgent first.')
    .option('--demo', 'with invented cots, to try it without sleeves or a broker')
    .addOption(
      numberOption('--cots <number>', 'with --demo: how many invented cots', wholeNumber).default(12),
    )
    .addOption(
      numberOption('--page-port <number>', 'where the page is served on this computer', portNumber).default(
        BOARD_PORT,
      ),
    )
    .option(
      '--address <address>',
      'where people reach it by TLS, such as https://board.example; with --sign-in',
      httpsOnly,
    )
    .option(
      '--certificate <file>',
      'with --address: certificate of that name; else a server before it speaks TLS',
    )
    .option('--key <file>', 'key of the certificate')
    .option('--listen <ip>', 'address of this computer; with a certificate all of them, else 127.0.0.1')
    .addOption(
      numberOption(
        '--health-port <number>',
        'serve /health and /metrics there, for this computer',
        portNumber,
      ),
    )
    .option('--sign-in <issuer>', 'OpenID Connect provider by which staff and parents sign in')
    .option('--sign-in-client <id>', 'as which client', 'ebbline')
    .option('--sign-in-secret-file <file>', 'file of its secret; else EBBLINE_SIGN_IN_SECRET')
    .option('--roles-claim <name>', 'claim in which the provider names roles', 'ebbline_roles')
    .action(async (options) => (await import('./board.ts')).boardCommand(options));
  addBrokerOptions(board, false);
}
