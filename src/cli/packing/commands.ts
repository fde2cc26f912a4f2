/** The parent's commands: what to pack, the milk list, the printed sheets. Definitions only. */
import { Option } from 'commander';
import type { MilkStep } from '../../app/packing/milk-asked.ts';
import type { Place } from '../../planning/milk/places.ts';
import * as option from '../options.ts';

const PLACES: readonly Place[] = ['fridge', 'freezer', 'deep-freezer', 'cooler', 'room', 'sleeve'];

export function addPackingCommands(ebbline: option.Verb): void {
  addPlan(ebbline);
  addMilk(ebbline);
  addPrint(ebbline);
}

function addPlan(ebbline: option.Verb): void {
  ebbline
    .command('plan')
    .description('Say which bottles to pack for a day away, from kept feeds and the milk on hand.')
    .option('--away <hours>', 'from when to when, such as 08:30-17:30; without it your usual hours')
    .with(option.day('tomorrow'))
    .option('--feeds <number>', 'feeds that will be missed; without it as on other days', option.wholeNumber)
    .with(option.baby)
    .option('--born <date>', 'birth date, YYYY-MM-DD, where it was not entered')
    .option('--milk <file>', 'containers as JSON; without it those of the milk list')
    .option('--short-days <number>', 'of 100 days, how many may run short', option.shortDays)
    .option('--most-bottles <number>', 'bottles at the most, the spare too', option.wholeNumber)
    .with(option.json, option.simulated)
    .action(async (options) => (await import('./plan.ts')).planCommand(options));
}

const amount = new Option('--amount <amount>', 'such as "3 fl oz" or "90 mL"');
const place = new Option('--place <place>', 'where it is').choices(PLACES);
const kind = option.choice('--kind <kind>', 'kind of milk', ['expressed', 'formula', 'mixed']);
const label = new Option('--label <label>', 'what stands on the lid; without it the next number');

/** Each verb of the milk list: what it says of itself, its arguments, its own options. */
const MILK_VERBS: readonly [MilkStep, string, args: readonly string[], ...Option[]][] = [
  ['add', 'Enter milk that was pumped or made.', ['[label]'], amount, place, kind, label],
  ['move', 'Enter that milk was moved.', ['<label>'], place],
  ['thaw', 'Enter that milk was taken out to thaw.', ['<label>']],
  ['warm', 'Enter that milk was warmed.', ['<label>']],
  ['hold', 'Keep milk back from plans.', ['<label>']],
  ['release', 'Let plans use milk that was kept back.', ['<label>']],
  ['discard', 'Enter that milk was thrown away.', ['<label>']],
  ['fed', 'Say which milk a kept feed was.', ['<feed>', '<label>']],
  ['take-back', 'Take an entry back.', ['<number>']],
];

function addMilk(ebbline: option.Verb): void {
  const milk = ebbline.command('milk').description('The milk on hand, and what happens to it.');
  milk
    .command('list', { isDefault: true })
    .refuseOtherVerbs()
    .description('List the milk in the order to use it, with the published times.')
    .with(option.json, option.simulated)
    .action(async (options) => (await import('./milk.ts')).milkCommand('list', [], options));
  for (const [verb, description, args, ...options] of MILK_VERBS) {
    const command = milk.command(verb).description(description);
    for (const arg of args) command.argument(arg);
    command
      .with(...options, option.day('today'))
      .option('--at <time>', 'when, HH:MM; now without it')
      .with(option.json, option.simulated)
      .action(async (...given) => {
        const names = given.slice(0, args.length).filter((name) => name !== undefined);
        await (await import('./milk.ts')).milkCommand(verb, names, given[args.length]);
      });
  }
}

function addPrint(ebbline: option.Verb): void {
  const print = ebbline.command('print').description('Pages for whoever feeds the baby, PDF or HTML.');
  const sheet = (name: 'feeding-plan' | 'day-sheet', description: string) =>
    print
      .command(name)
      .description(description)
      .option('--out <file>', `file to write, ending in .pdf or .html; without it ${name}.pdf`)
      .with(option.force, option.language, option.baby, option.day('none is printed'), option.simulated)
      .action(async (options) => (await import('./print.ts')).printCommand(name, options));
  sheet('feeding-plan', 'Print the feeding plan: one page.')
    .option('--born <date>', 'birth date, YYYY-MM-DD, where it was not entered')
    .option('--call <person>', 'whom to call: "Name, number"; kept on the page, else needed')
    .option('--or-call <person>', 'whom else: "Name, number"')
    .option('--leftover-rule <text>', 'the center’s own rule about what is left in a bottle')
    .option('--note <text...>', 'up to three lines of your own')
    .option('--without-sleeve', 'leave out what the light means');
  sheet('day-sheet', 'Print the sheet that comes back with the bottles: one page.').option(
    '--filled',
    'write the kept feeds of that day in',
  );
}
