/** The commands about a sleeve: calibrate it, list its calibrations, check a built one. */
import { Option } from 'commander';
import * as option from '../options.ts';

const port = new Option('--port <device>', 'serial port of the sleeve, such as /dev/ttyUSB0');
const portNeeded = new Option(port.flags, port.description).makeOptionMandatory();

export function addSleeveCommands(ebbline: option.Verb): void {
  const sleeve = ebbline.command('sleeve').description('The sleeve itself: calibrate it, check it.');
  addCalibrate(sleeve);
  addAlone(sleeve);
  sleeve
    .command('calibrations')
    .description('List the kept calibrations with what later feeds found and corrected.')
    .option('--undo <sleeve>', 'undo the last correction by feeds for the bottle of this sleeve')
    .option('--bottle <name>', 'with --undo: which bottle, where there are several')
    .option('--all', 'with --undo: all corrections by feeds')
    .option('--keep <file>', 'keep this calibration of a sleeve, as a walk wrote it')
    .with(option.json)
    .action(async (options) => (await import('./calibrations.ts')).calibrationsCommand(options));
  sleeve
    .command('check')
    .description('Check a newly built sleeve by the bring-up checklist, step by step.')
    .with(portNeeded)
    .option('--calibration <file>', 'its calibration; without it the kitchen check is left out')
    .option('--out <file>', 'write the page of results as HTML')
    .with(option.force)
    .action(async (options) => (await import('./check.ts')).checkSleeve(options));
}

function addAlone(sleeve: option.Verb): void {
  const alone = sleeve
    .command('alone')
    .description(
      'Whether the sleeve guides by itself, by light, while no host does. Off until you turn it on.',
    );
  const load = () => import('./alone.ts');
  alone
    .command('on')
    .description(
      'Let the sleeve guide alone: for one baby whose questions are answered, with its pace and the kept calibration.',
    )
    .with(portNeeded, option.baby)
    .option('--sound', 'soft notes as well')
    .action(async (options) => (await load()).aloneOn(options));
  alone
    .command('off')
    .description('Stop the sleeve from guiding alone.')
    .with(portNeeded)
    .action(async (options) => (await load()).aloneOff(options));
  alone
    .command('feeds')
    .description('Fetch the latest ten feeds that the sleeve stored, minute by minute.')
    .with(portNeeded)
    .option('--forget', 'delete them from the sleeve once they were fetched')
    .with(option.json)
    .action(async (options) => (await load()).aloneKept(options));
}

function addCalibrate(sleeve: option.Verb): void {
  sleeve
    .command('calibrate')
    .description('Calibrate sleeve and bottle step by step; writes the calibration file and a certificate.')
    .with(port)
    .option('--simulated', 'try the walk with a simulated sleeve')
    .option('--by-itself', 'simulated sleeve: the simulated person takes every step, nothing is asked')
    .option('--seed <number>', 'simulated sleeve: same seed, same sleeve', option.portNumber, 1)
    .option(
      '--out <file>',
      'calibration file to write, the certificate beside it; without it sleeve-calibration.json',
    )
    .with(option.force)
    .option('--bottle <name>', 'what the bottle is called', 'bottle')
    .with(
      option.choice('--way <way>', 'how the inside of the bottle is found', [
        'thorough',
        'two-minutes',
        'outline',
      ]),
    )
    .option(
      '--sleeve-from <file>',
      'another bottle: take the sleeve from this calibration of it, and only the bottle anew',
    )
    .option(
      '--outline <file>',
      'drawn outline: height and inner radius in mm, one point a line; without it the generic profile',
    )
    .option('--placements <number>', 'how often a mass is put on', option.wholeNumber, 12)
    .option(
      '--holder-grams <number>',
      'weight of the tube that carries the masses and stays in the sleeve while they are put on',
      option.positive,
    )
    .option('--air-celsius <number>', 'air temperature, noted on the certificate', option.anyNumber)
    .option('--fresh', 'begin anew, whatever was entered before')
    .action(async (options) => (await import('./calibrate.ts')).calibrateCommand(options));
}
