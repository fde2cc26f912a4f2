/** Commands of a ward: the board of a room, labels, children in their cots, consents, the audit trail. */
import { InvalidArgumentError } from 'commander';
import * as option from '../options.ts';

/** Differs from the port of `start`, so that both can run on one computer. */
const BOARD_PORT = 4141;

const sleeves = (text: string, before: number[] = []): number[] => [...before, option.sleeveNumber(text)];
const httpsOnly = (text: string): string => {
  if (URL.canParse(text) && new URL(text).protocol === 'https:') return new URL(text).origin;
  throw new InvalidArgumentError('It must be an address such as https://board.example.');
};

const load = () => import('./arrange.ts');

export function addWardCommands(ebbline: option.Verb): void {
  addBoard(ebbline);
  ebbline
    .command('labels')
    .description('Print a PDF of labels for children, bottles and sleeves. Earlier labels become invalid.')
    .requiredOption('--out <file>', 'PDF to write')
    .option('--child <name...>', 'for these children, who are in a cot here')
    .option('--bottles <number>', 'for so many bottles', option.notNegative, 0)
    .option('--sleeve <number...>', 'for these sleeves', sleeves)
    .with(option.choice('--paper <size>', 'size of the sheet', ['letter', 'a4']))
    .option('--names', 'children’s names beside their codes; else the cot')
    .with(option.language, option.force, option.simulated)
    .action(async (options) => (await load()).labelsCommand(options));
  const ward = ebbline.command('ward').description('Children in their cots, consents, the next shift.');
  addChildren(ward);
  ward
    .command('handover')
    .description('Print the sheet for the next shift: feeds, milk left over and its time limit, notes.')
    .requiredOption('--out <file>', 'file to write, ending in .pdf or .html')
    .option('--hours <number>', 'of so many hours', option.wholeNumber, 8)
    .with(option.language, option.force, option.simulated)
    .action(async (options) => (await load()).handoverCommand(options));
  ward
    .command('trail')
    .description('Show who looked at or changed children’s data, and whether that list is complete.')
    .option(
      '--mark <mark>',
      'mark printed on an earlier sheet for the next shift: checks that the list is unchanged up to there',
    )
    .with(option.json, option.simulated)
    .action(async (options) => (await load()).trailCommand(options));
}

function addChildren(ward: option.Verb): void {
  const ofChild = (verb: string, description: string) =>
    ward.command(verb).description(description).argument('<child>', 'name or number of the child');
  ofChild('arrive', 'Enter that a child is in a cot here now.')
    .requiredOption('--cot <name>', 'which cot')
    .with(option.simulated)
    .action(async (child, options) => (await load()).arriveCommand(child, options));
  ofChild('leave', 'Enter that a child has left: its label becomes invalid.')
    .with(option.simulated)
    .action(async (child, options) => (await load()).leaveCommand(child, options));
  ofChild('child', 'Set the nipple of a child, and the study that it takes part in.')
    .option('--nipple <name>', 'the nipple, as it was measured')
    .option('--no-nipple', 'none any more')
    .option('--study <code>', 'study that its feeds are sessions of, while research is allowed')
    .option('--participant <code>', 'as which participant of it')
    .option('--no-study', 'none any more')
    .with(option.simulated)
    .action(async (child, options) => (await load()).childCommand(child, options));
  ofChild('consent', 'Allow a parent to see the own child, or a study to use its feeds; or take that back.')
    .with(option.choice('--what <what>', 'what is allowed', ['parent', 'research']))
    .option('--person <id>', 'of a parent: her id at the sign-in service')
    .with(option.day('until it is taken back'))
    .option('--end', 'take it back')
    .with(option.simulated)
    .action(async (child, options) => (await load()).consentCommand(child, options));
}

function addBoard(ebbline: option.Verb): void {
  ebbline
    .command('board')
    .description('Serve one page for a tablet: all running feeds of a room, the most urgent first.')
    .option('--demo', 'with invented cots, to try it without sleeves or a broker')
    .option('--cots <number>', 'with --demo: how many invented cots', option.wholeNumber, 12)
    .option(
      '--page-port <number>',
      'where the page is served on this computer',
      option.portNumber,
      BOARD_PORT,
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
    .option(
      '--health-port <number>',
      'serve /health and /metrics there, for this computer',
      option.portNumber,
    )
    .option('--sign-in <issuer>', 'OpenID Connect provider by which staff and parents sign in')
    .option('--sign-in-client <id>', 'as which client', 'ebbline')
    .option('--sign-in-secret-file <file>', 'file of its secret; else EBBLINE_SIGN_IN_SECRET')
    .option('--roles-claim <name>', 'claim in which the provider names roles', 'ebbline_roles')
    .with(...option.broker())
    .action(async (options) => (await import('./board.ts')).boardCommand(options));
}
