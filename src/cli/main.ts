/** The command line: thin. Each command's own file is loaded only when it is called, so that every one starts at once. */
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { addKeptCommands } from './kept/commands.ts';
import { addPackingCommands } from './packing/commands.ts';
import { addReviewCommands } from './review/commands.ts';
import { addStudyCommands } from './study/commands.ts';

const EXIT_BAD_INPUT = 2;

function positiveNumber(text: string): number {
  const value = Number(text);
  if (!(value > 0) || !Number.isFinite(value))
    throw new InvalidArgumentError('It must be a number above zero.');
  return value;
}

function portNumber(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0 || value > 65535) {
    throw new InvalidArgumentError('It must be a whole number from 0 to 65535.');
  }
  return value;
}

function program(): Command {
  const ebbline = new Command('ebbline')
    .description(
      'Feed-rate timer of a bottle sleeve: weighs the bottle while a baby drinks, and cues whoever holds it to keep a gentle pace.\n' +
        'Not a medical device or an alarm. Watch the baby, not the sleeve.',
    )
    .version(SOFTWARE_VERSION, '--version', 'say the version of this program')
    .showHelpAfterError('Run the command with --help to see how it is used.')
    .addHelpText(
      'after',
      `
First time? Run
  ebbline start
with nothing plugged in: a simulated baby drinks, the page shows the cues, and the feed is kept.
Then
  ebbline feeds --simulated                     lists the simulated feeds that were kept
  ebbline graph --simulated --out feed.png      draws the latest of them
Feeds of a real sleeve are kept apart from those: leave --simulated out.`,
    );

  ebbline
    .command('start')
    .description(
      'Watch a feed: read a sleeve (simulated unless --port is given), cue, keep the feed, serve the page.',
    )
    .option(
      '--port <device>',
      'serial port of a sleeve, such as /dev/ttyUSB0; without it a simulated sleeve is used',
    )
    .option(
      '--calibration <file>',
      'calibration of the sleeve and bottle; kept for the next time under the sleeve’s number',
    )
    .addOption(
      new Option('--page-port <number>', 'where the page is served on this computer')
        .argParser(portNumber)
        .default(4140),
    )
    .option(
      '--bottle <name>',
      'the bottle in the sleeve, of those whose calibrations are kept; else the last one',
    )
    .option('--replace-calibration', 'take a calibration that names the sleeve otherwise than before')
    .addOption(
      new Option(
        '--sleeve <kind>',
        'without --port: a model of the sleeve, or its very program on an emulated chip',
      )
        .choices(['simulated', 'emulated'])
        .default('simulated'),
    )
    .option('--scenario <name>', 'simulated sleeve: what happens in the feed (see --list-scenarios)')
    .option('--list-scenarios', 'list the simulated feeds and end')
    .addOption(
      new Option('--seed <number>', 'simulated sleeve: same seed, same feed')
        .argParser(portNumber)
        .default(1),
    )
    .addOption(
      new Option('--speed <times>', 'simulated sleeve: so many times faster than life')
        .argParser(positiveNumber)
        .default(1),
    )
    .option('--ignore-cues', 'simulated sleeve: the caregiver does not follow the cues')
    .option('--practice', 'with a doll and water: the same cues, kept apart from real feeds')
    .option(
      '--share [address]',
      'let devices of the home network show the page, each with a one-time code; the address only where there are several',
    )
    .option('--quiet', 'no line of numbers in the terminal')
    .action(async (options) => (await import('./start.ts')).start(options));

  ebbline
    .command('replay')
    .description('Run a capture through the same steps as a live feed, as fast as possible.')
    .argument('<capture>', 'capture file (.cap, .cap.gz or .cap.cols)')
    .requiredOption('--calibration <file>', 'calibration file of the sleeve and bottle (JSON)')
    .addOption(
      new Option(
        '--portion-ml <number>',
        'planned portion, mL; only the change of sides rests on it',
      ).argParser(positiveNumber),
    )
    .option('--json', 'write the whole result as one JSON object')
    .action(async (capture, options) => (await import('./replay.ts')).replayCommand(capture, options));

  ebbline
    .command('again')
    .description('Run a kept feed again as it ran: with its own profile, guidance and presses.')
    .argument('<feed>', 'the feed’s name as listed by "ebbline feeds"')
    .option('--simulated', 'look among the feeds of the simulated sleeve')
    .option('--json', 'write the whole result as one JSON object')
    .action(async (feed, options) => (await import('./again.ts')).againCommand(feed, options));

  ebbline
    .command('feeds')
    .description('List the feeds that were kept.')
    .option('--simulated', 'those of the simulated sleeve')
    .option('--discarded', 'also those that were marked as not a feed')
    .option('--json', 'write the list as JSON')
    .action(async (options) => (await import('./feeds.ts')).feedsCommand(options));

  addReviewCommands(ebbline);

  ebbline
    .command('calibrate')
    .description(
      'Walk through the calibration of a sleeve and its bottle, and write the file and a certificate.',
    )
    .option('--port <device>', 'serial port of the sleeve, such as /dev/ttyUSB0')
    .option('--simulated', 'try the walk with a simulated sleeve')
    .option('--by-itself', 'simulated sleeve: the simulated person takes every step, nothing is asked')
    .addOption(
      new Option('--seed <number>', 'simulated sleeve: same seed, same sleeve')
        .argParser(portNumber)
        .default(1),
    )
    .option('--out <file>', 'calibration file to write; page and PDF go beside it', 'sleeve-calibration.json')
    .addOption(
      new Option('--bottle <way>', 'how the inside of the bottle is found')
        .choices(['thorough', 'two-minutes', 'outline'])
        .default('thorough'),
    )
    .option('--bottle-name <name>', 'what the bottle is called', 'bottle')
    .option(
      '--sleeve-from <file>',
      'another bottle: take the sleeve from this calibration of it, and only the bottle anew',
    )
    .option(
      '--outline <file>',
      'drawn outline: height and inner radius in mm, one point a line; without it the generic profile',
    )
    .addOption(
      new Option('--placements <number>', 'how often a mass is put on').argParser(positiveNumber).default(12),
    )
    .addOption(
      new Option(
        '--holder-grams <number>',
        'weight of the tube that carries the masses and stays in the sleeve while they are put on',
      ).argParser(positiveNumber),
    )
    .option('--air-celsius <number>', 'air temperature, noted on the certificate', Number)
    .option('--fresh', 'begin anew, whatever was entered before')
    .action(async (options) => (await import('./calibrate/calibrate.ts')).calibrateCommand(options));

  ebbline
    .command('calibrations')
    .description(
      'Show the kept calibrations, what the checks at feeds have found since, and what feeds have taught about the bottle.',
    )
    .option('--undo <sleeve>', 'undo the last thing that feeds have taught about the bottle of this sleeve')
    .option('--bottle <name>', 'with --undo: which bottle, where there are several')
    .option('--all', 'with --undo: everything that feeds have taught')
    .action(async (options) =>
      (await import('./calibrate/calibration-notes.ts')).calibrationsCommand(options),
    );

  ebbline
    .command('check-sleeve')
    .description('Walk through the bring-up checklist of a built sleeve, step by step, on the real thing.')
    .requiredOption('--port <device>', 'serial port of the sleeve, such as /dev/ttyUSB0')
    .option('--calibration <file>', 'its calibration; without it the kitchen check is left out')
    .action(async (options) => (await import('./calibrate/check-sleeve.ts')).checkSleeve(options));

  addKeptCommands(ebbline);
  addPackingCommands(ebbline);
  addStudyCommands(ebbline);

  for (const command of [ebbline, ...ebbline.commands]) command.exitOverride();
  return ebbline;
}

async function main(): Promise<void> {
  // A reader that closes the pipe early (head, less) is no error.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    throw error;
  });
  try {
    await program().parseAsync();
  } catch (error) {
    if (error instanceof CommanderError) {
      process.exitCode = error.exitCode === 0 ? 0 : EXIT_BAD_INPUT;
    } else if (error instanceof PlainError) {
      process.stderr.write(`ebbline: ${error.text}\n`);
      process.exitCode = EXIT_BAD_INPUT;
    } else throw error;
  }
}

await main();
