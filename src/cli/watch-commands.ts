/** The commands that serve a page or watch a sleeve. Definitions only; the work is loaded when it is called. */
import { type Command, Option } from 'commander';
import {
  addBrokerOptions,
  jsonOption,
  numberOption,
  portNumber,
  positive,
  simulatedOption,
  sleeveNumber,
  wholeNumber,
} from './options.ts';

const pagePortOption = () =>
  numberOption('--page-port <number>', 'where the page is served on this computer', portNumber).default(4140);
const shareOption = () =>
  new Option(
    '--share [address]',
    'let devices of the home network show the page, each with a one-time code; the address only where there are several',
  );
export function addStart(ebbline: Command): void {
  const start = ebbline
    .command('start')
    .description(
      'Watch a feed: read a sleeve (simulated without --port), cue, keep the feed, serve the page.',
    )
    .option(
      '--port <device>',
      'serial port of a sleeve, such as /dev/ttyUSB0; without it a simulated sleeve is used',
    )
    .option(
      '--calibration <file>',
      'calibration of the sleeve and bottle; kept for the next time under the sleeve’s number',
    )
    .addOption(pagePortOption())
    .option('--bottle <name>', 'the bottle in the sleeve, where several were calibrated; else the last one')
    .option('--replace-calibration', 'accept a calibration with another sleeve number than before')
    .addOption(
      new Option(
        '--sleeve <kind>',
        'without --port: a model of the sleeve, or its program on an emulated chip',
      )
        .choices(['simulated', 'emulated'])
        .default('simulated'),
    )
    .option('--scenario <name>', 'simulated sleeve: what happens in the feed (see --list-scenarios)')
    .option('--list-scenarios', 'list the simulated feeds and end')
    .addOption(
      numberOption('--seed <number>', 'simulated sleeve: same seed, same feed', portNumber).default(1),
    )
    .addOption(
      numberOption(
        '--speed <times>',
        'simulated sleeve: this many times faster than real time',
        positive,
      ).default(1),
    )
    .option('--ignore-cues', 'simulated sleeve: the caregiver does not follow the cues')
    .addOption(
      numberOption('--sleeve-number <number>', 'with --broker: which of the room’s sleeves', sleeveNumber),
    )
    .option('--practice', 'with a doll and water: the same cues; stored apart from real feeds')
    .addOption(shareOption())
    .option('--quiet', 'no line of numbers in the terminal')
    .addOption(jsonOption('with --list-scenarios: as JSON'))
    .action(async (options) => (await import('./start.ts')).start(options));
  addBrokerOptions(start, false);
}
export function addRelay(ebbline: Command): void {
  const relay = ebbline
    .command('relay')
    .description('Send the bytes of the sleeves at this computer to a broker, for many sleeves in a house.')
    .requiredOption('--port <device...>', 'serial ports of the sleeves')
    .action(async (options) => (await import('./relay.ts')).relayCommand(options));
  addBrokerOptions(relay, true);
}
export function addOpen(ebbline: Command): void {
  ebbline
    .command('open')
    .description('Serve the page for the kept feeds, without a sleeve.')
    .addOption(pagePortOption())
    .addOption(shareOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./open.ts')).openCommand(options));
}

export function addWork(ebbline: Command): void {
  const work = ebbline
    .command('work')
    .description('Guide the sleeves of a house through a broker; several workers share the sleeves.')
    .requiredOption('--database <where>', 'where feeds are kept: a folder, or postgres://USER@HOST/NAME')
    .option('--database-password-file <file>', 'file of its password; else EBBLINE_DATABASE_PASSWORD')
    .option('--database-ca <file>', 'certificate of its authority; else EBBLINE_DATABASE_CA or the system’s')
    .option('--database-plain', 'allow a database over a network without TLS')
    .addOption(simulatedOption())
    .addOption(
      numberOption(
        '--most-sleeves <number>',
        'most sleeves of this worker; the rest is left to other workers',
        wholeNumber,
      ).default(200),
    )
    .addOption(
      numberOption('--health-port <number>', 'where /health and /metrics are served', portNumber).default(
        4150,
      ),
    )
    .addOption(
      new Option('--health-address <address>', 'address to serve it on; default: this computer only').default(
        '127.0.0.1',
      ),
    )
    .action(async (options) => (await import('./work.ts')).workCommand(options));
  addBrokerOptions(work, true);
}
