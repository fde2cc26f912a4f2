/** The commands that serve a page or watch a sleeve. Definitions only; the work is loaded when it is called. */
import { Option } from 'commander';
import * as option from './options.ts';

const share = new Option(
  '--share [address]',
  'let devices of the home network show the page, each with a one-time code; the address only where there are several',
);
const PAGE_PORT = [
  '--page-port <number>',
  'where the page is served on this computer',
  option.portNumber,
] as const;

export function addWatchCommands(ebbline: option.Verb): void {
  addStart(ebbline);
  ebbline
    .command('open')
    .description('Serve the page for the kept feeds, without a sleeve.')
    .option(...PAGE_PORT, 4140)
    .with(share, option.simulated)
    .action(async (options) => (await import('./open.ts')).openCommand(options));
  ebbline
    .command('relay')
    .description('Send the bytes of the sleeves at this computer to a broker, for many sleeves in a house.')
    .requiredOption('--port <device...>', 'serial ports of the sleeves')
    .with(...option.broker(true))
    .action(async (options) => (await import('./relay.ts')).relayCommand(options));
  addWork(ebbline);
}

function addStart(ebbline: option.Verb): void {
  ebbline
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
    .option(...PAGE_PORT, 4140)
    .option('--bottle <name>', 'the bottle in the sleeve, where several were calibrated; else the last one')
    .option('--replace-calibration', 'accept a calibration with another sleeve number than before')
    .with(
      option.choice(
        '--sleeve <kind>',
        'without --port: a model of the sleeve, or its program on an emulated chip',
        ['simulated', 'emulated'],
      ),
    )
    .option('--scenario <name>', 'simulated sleeve: what happens in the feed (see --list-scenarios)')
    .option('--list-scenarios', 'list the simulated feeds and end')
    .option('--seed <number>', 'simulated sleeve: same seed, same feed', option.portNumber, 1)
    .option('--speed <times>', 'simulated sleeve: this many times faster than real time', option.positive, 1)
    .option('--ignore-cues', 'simulated sleeve: the caregiver does not follow the cues')
    .option('--sleeve-number <number>', 'with --broker: which of the room’s sleeves', option.sleeveNumber)
    .option('--practice', 'with a doll and water: the same cues; stored apart from real feeds')
    .with(share)
    .option('--quiet', 'no line of numbers in the terminal')
    .option('--json', 'with --list-scenarios: as JSON')
    .with(...option.broker())
    .action(async (options) => (await import('./start.ts')).start(options));
}

function addWork(ebbline: option.Verb): void {
  ebbline
    .command('work')
    .description('Guide the sleeves of a house through a broker; several workers share the sleeves.')
    .requiredOption('--database <where>', 'where feeds are kept: a folder, or postgres://USER@HOST/NAME')
    .with(...option.databaseAccess(), option.simulated)
    .option(
      '--most-sleeves <number>',
      'most sleeves of this worker; the rest is left to other workers',
      option.wholeNumber,
      200,
    )
    .option('--health-port <number>', 'where /health and /metrics are served', option.portNumber, 4150)
    .option('--health-address <address>', 'address to serve it on; default: this computer only', '127.0.0.1')
    .with(...option.broker(true))
    .action(async (options) => (await import('./work.ts')).workCommand(options));
}
