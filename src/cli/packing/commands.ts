/** The parent's commands: what to pack, the milk list, the printed sheets. Definitions only. */
import { type Command, Option } from 'commander';
import type { MilkStep } from '../../app/packing/milk-asked.ts';
import type { Place } from '../../planning/milk/places.ts';
import {
  babyOption,
  dayOption,
  forceOption,
  jsonOption,
  languageOption,
  numberOption,
  refuseOtherVerbs,
  shortDays,
  simulatedOption,
  wholeNumber,
} from '../options.ts';

const PLACES: readonly Place[] = ['fridge', 'freezer', 'deep-freezer', 'cooler', 'room', 'sleeve'];

export function addPackingCommands(ebbline: Command): void {
  addPlan(ebbline);
  addMilk(ebbline);
  addPrint(ebbline);
}

function addPlan(ebbline: Command): void {
  ebbline
    .command('plan')
    .description('Say which bottles to pack for a day away, from kept feeds and the milk on hand.')
    .option('--away <hours>', 'from when to when, such as 08:30-17:30; without it your usual hours')
    .addOption(dayOption('tomorrow'))
    .addOption(
      numberOption('--feeds <number>', 'feeds that will be missed; without it as on other days', wholeNumber),
    )
    .addOption(babyOption())
    .option('--born <date>', 'birth date, YYYY-MM-DD, where it was not entered')
    .option('--milk <file>', 'containers as JSON; without it those of the milk list')
    .addOption(numberOption('--short-days <number>', 'of 100 days, how many may run short', shortDays))
    .addOption(numberOption('--most-bottles <number>', 'bottles at the most, the spare too', wholeNumber))
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./plan.ts')).planCommand(options));
}

/** Each verb of the milk list: its description, arguments and options. */
const MILK_VERBS: readonly [
  MilkStep,
  string,
  args: readonly string[],
  options?: readonly (() => Option)[],
][] = [
  [
    'add',
    'Enter milk that was pumped or made.',
    ['[label]'],
    [amountOption, placeOption, kindOption, labelOption],
  ],
  ['move', 'Enter that milk was moved.', ['<label>'], [placeOption]],
  ['thaw', 'Enter that milk was taken out to thaw.', ['<label>']],
  ['warm', 'Enter that milk was warmed.', ['<label>']],
  ['hold', 'Keep milk back from plans.', ['<label>']],
  ['release', 'Let plans use milk that was kept back.', ['<label>']],
  ['discard', 'Enter that milk was thrown away.', ['<label>']],
  ['fed', 'Say which milk a kept feed was.', ['<feed>', '<label>']],
  ['take-back', 'Take an entry back.', ['<number>']],
];

function amountOption(): Option {
  return new Option('--amount <amount>', 'such as "3 fl oz" or "90 mL"');
}

function placeOption(): Option {
  return new Option('--place <place>', 'where it is').choices(PLACES);
}

function kindOption(): Option {
  return new Option('--kind <kind>', 'kind of milk')
    .choices(['expressed', 'formula', 'mixed'])
    .default('expressed');
}

function labelOption(): Option {
  return new Option('--label <label>', 'what stands on the lid; without it the next number');
}

function addMilk(ebbline: Command): void {
  const milk = ebbline.command('milk').description('The milk on hand, and what happens to it.');
  refuseOtherVerbs(milk.command('list', { isDefault: true }))
    .description('List the milk in the order to use it, with the published times.')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./milk.ts')).milkCommand('list', [], options));
  for (const [verb, description, args, options = []] of MILK_VERBS) {
    const command = milk.command(verb).description(description);
    for (const arg of args) command.argument(arg);
    for (const option of options) command.addOption(option());
    command
      .addOption(dayOption('today'))
      .option('--at <time>', 'when, HH:MM; now without it')
      .addOption(jsonOption())
      .addOption(simulatedOption())
      .action(async (...given) => {
        const names = given.slice(0, args.length).filter((name) => name !== undefined);
        await (await import('./milk.ts')).milkCommand(verb, names, given[args.length]);
      });
  }
}

function addPrint(ebbline: Command): void {
  const print = ebbline.command('print').description('Pages for whoever feeds the baby, PDF or HTML.');
  for (const [name, description] of [
    ['feeding-plan', 'Print the feeding plan: one page.'],
    ['day-sheet', 'Print the sheet that comes back with the bottles: one page.'],
  ] as const) {
    const command = print
      .command(name)
      .description(description)
      .option('--out <file>', `file to write, ending in .pdf or .html; without it ${name}.pdf`)
      .addOption(forceOption())
      .addOption(languageOption())
      .addOption(babyOption())
      .addOption(dayOption('none is printed'))
      .addOption(simulatedOption());
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
