/** The commands of what happened: graphs and files to hand on, days, weeks, feeds written in by hand. Work is loaded when called. */
import { Argument, type Command, InvalidArgumentError, Option } from 'commander';

const SIMULATED = ['--simulated', 'look among the feeds of the simulated sleeve'] as const;
const language = () =>
  new Option('--language <language>', 'in which language').choices(['en', 'es']).default('en');
const unit = () =>
  new Option('--unit <unit>', 'which unit stands first').choices(['fl-oz', 'ml']).default('fl-oz');

function amount(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= 0) || !Number.isFinite(value))
    throw new InvalidArgumentError('It must be a number, 0 or more.');
  return value;
}

export function addReviewCommands(ebbline: Command): void {
  ebbline
    .command('graph')
    .description('Draw the session graph of a kept feed; or write it as a page or a PDF to hand on.')
    .argument('[feed]', 'the feed’s name as listed by "ebbline feeds"; without it the latest one')
    .option(...SIMULATED)
    .option(
      '--out <file>',
      'file to write, ending in .svg, .png, .html or .pdf; without it SVG goes to standard output',
    )
    .option('--note <text>', 'a note for the page or PDF; without it the one kept beside the feed')
    .option('--names', 'name the baby and whoever fed, in the page or PDF')
    .addOption(language())
    .addOption(unit())
    .action(async (feed, options) => (await import('../graph.ts')).graphCommand(feed, options));

  ebbline
    .command('day')
    .description('Tell a day: milk from bottles, feeds of all kinds; or write it as a page to hand on.')
    .argument('[day]', 'YYYY-MM-DD; today without it')
    .option('--baby <name>', 'which baby, where feeds of several are kept')
    .option('--out <file>', 'page to write, ending in .html')
    .option('--note <text>', 'a note for the page')
    .option('--names', 'name whoever fed')
    .addOption(language())
    .addOption(unit())
    .option(...SIMULATED)
    .action(async (day, options) => (await import('./tell.ts')).dayCommand(day, options));

  ebbline
    .command('week')
    .description('Tell seven days up to a day, and the seven before.')
    .argument('[day]', 'the last of them, YYYY-MM-DD; today without it')
    .option('--baby <name>', 'which baby, where feeds of several are kept')
    .addOption(language())
    .addOption(unit())
    .option(...SIMULATED)
    .action(async (day, options) => (await import('./tell.ts')).weekCommand(day, options));

  ebbline
    .command('time-zone')
    .description('Say in which time zone days and times are told, or choose it.')
    .argument('[zone]', 'its IANA name, such as America/Chicago')
    .option(...SIMULATED)
    .action(async (zone, options) => (await import('./tell.ts')).timeZoneCommand(zone, options));

  ebbline
    .command('whose')
    .description('List feeds of which it is not certain whose they are, or say whose.')
    .argument('[feeds]', 'the name that they stand under, as listed')
    .option('--baby <name>', 'the baby that they are of: name or number')
    .option('--another', 'they are of a baby that is not in the list')
    .option(...SIMULATED)
    .action(async (feeds, options) => (await import('./whose.ts')).whoseCommand(feeds, options));

  ebbline
    .command('write-feed')
    .description(
      'Write in a feed that no sleeve measured: at the breast, from a bottle, or a bottle hardly taken.',
    )
    .addArgument(new Argument('<kind>', 'how').choices(['breast', 'bottle', 'refused']))
    .option('--day <date>', 'YYYY-MM-DD; today without it')
    .requiredOption('--at <time>', 'when it began, HH:MM')
    .option('--again', 'in the night when clocks go back: the second time that the clock showed it')
    .option('--minutes <number>', 'how long it took', amount)
    .option('--offered-ml <number>', 'milk in the bottle before, mL', amount)
    .option('--left-ml <number>', 'milk left in it after, mL', amount)
    .addOption(new Option('--side <side>', 'at the breast').choices(['left', 'right', 'both']))
    .option('--baby <name>', 'which baby')
    .option('--by <initials>', 'who fed')
    .option('--note <text>', 'in your own words')
    .option(...SIMULATED)
    .action(async (kind, options) => (await import('./tell.ts')).writeFeedCommand(kind, options));
}
