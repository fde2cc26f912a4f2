/** The commands of the parent's side: what to pack, the milk list, the printed sheets. Definitions only; work is loaded when called. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Place } from '../../planning/milk/places.ts';
import type { MilkStep } from './milk.ts';

const PLACES: readonly Place[] = ['fridge', 'freezer', 'deep-freezer', 'cooler', 'room', 'sleeve'];

const STEPS: readonly MilkStep[] = [
  'list',
  'add',
  'move',
  'thaw',
  'warm',
  'hold',
  'release',
  'discard',
  'fed',
  'take-back',
];

function wholeNumber(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1)
    throw new InvalidArgumentError('It must be a whole number above zero.');
  return value;
}

function days(text: string): number {
  const value = Number(text);
  if (!(value >= 1 && value <= 50)) throw new InvalidArgumentError('It must be a number from 1 to 50.');
  return value;
}

const SIMULATED = ['--simulated', 'with the feeds and the milk of the simulated sleeve'] as const;

export function addPackingCommands(ebbline: Command): void {
  ebbline
    .command('plan')
    .description('Say which bottles to pack for a day away, from kept feeds and the milk on hand.')
    .option('--away <hours>', 'from when to when, such as 08:30-17:30; without it your usual hours')
    .option('--day <date>', 'the day, YYYY-MM-DD; tomorrow without it')
    .addOption(
      new Option('--feeds <number>', 'feeds that will be missed; without it as on other days').argParser(
        wholeNumber,
      ),
    )
    .option('--baby <name>', 'which baby, where feeds of several are kept')
    .option('--born <date>', 'birth date, YYYY-MM-DD, where it was not entered')
    .option('--milk <file>', 'containers as JSON; without it those of the milk list')
    .addOption(new Option('--short-days <number>', 'of 100 days, how many may run short').argParser(days))
    .addOption(new Option('--bottles <number>', 'bottles at the most, the spare too').argParser(wholeNumber))
    .option('--json', 'write the whole answer as JSON')
    .option(...SIMULATED)
    .action(async (options) => (await import('./plan.ts')).planCommand(options));

  ebbline
    .command('milk')
    .description('List the milk on hand with its published times, or enter what happened to it.')
    .argument('[step]', `${STEPS.join(', ')}`, stepOf, 'list')
    .argument(
      '[names...]',
      'label of the container; for "fed" the feed and the label; for "take-back" the entry’s number',
    )
    .option('--amount <amount>', 'add: such as "3 fl oz" or "90 mL"')
    .addOption(new Option('--place <place>', 'add, move: where it is').choices(PLACES))
    .addOption(
      new Option('--kind <kind>', 'add: kind of milk')
        .choices(['expressed', 'formula', 'mixed'])
        .default('expressed'),
    )
    .option('--label <label>', 'add: what stands on the lid; without it the next number')
    .option('--at <time>', 'when it happened: 07:30 for today, or "2026-05-12 07:30"; now without it')
    .option('--json', 'write the list as JSON')
    .option(...SIMULATED)
    .action(async (step, names, options) => (await import('./milk.ts')).milkCommand(step, names, options));

  for (const [name, description] of [
    ['feeding-plan', 'Print the feeding plan for whoever feeds the baby: one page, PDF or HTML.'],
    ['day-sheet', 'Print the day sheet that comes back with the bottles: one page, PDF or HTML.'],
  ] as const) {
    const command = ebbline
      .command(name)
      .description(description)
      .requiredOption('--out <file>', 'file to write, ending in .pdf or .html')
      .addOption(new Option('--language <language>', 'of the page').choices(['en', 'es']).default('en'))
      .option('--baby <name>', 'which baby, where feeds of several are kept')
      .option('--day <date>', 'the day, YYYY-MM-DD, where it is for one day')
      .option(...SIMULATED);
    if (name === 'day-sheet') command.option('--filled', 'write the kept feeds of that day in');
    else
      command
        .option('--born <date>', 'birth date, YYYY-MM-DD, where it was not entered')
        .option('--call <person>', 'whom to call: "Name, number"; kept on the page, else needed')
        .option('--or-call <person>', 'whom else: "Name, number"')
        .option('--leftover-rule <text>', 'the center’s own rule about what is left in a bottle')
        .option('--note <text...>', 'up to three lines of your own')
        .option('--without-sleeve', 'leave out what the light means');
    command.action(async (options) => (await import('./print.ts')).printCommand(name, options));
  }
}

function stepOf(text: string): MilkStep {
  const step = STEPS.find((one) => one === text);
  if (!step) throw new InvalidArgumentError(`It must be one of ${STEPS.join(', ')}.`);
  return step;
}
