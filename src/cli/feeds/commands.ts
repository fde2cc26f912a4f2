/** The commands about feeds. Definitions only; the work is loaded when it is called. */
import { Argument, type Command, Option } from 'commander';
import {
  babyOption,
  dayOption,
  dayText,
  forceOption,
  jsonOption,
  languageOption,
  notNegative,
  numberOption,
  refuseOtherVerbs,
  simulatedOption,
  unitOption,
  wholeNumber,
} from '../options.ts';

export function addFeedCommands(ebbline: Command): void {
  const feeds = ebbline
    .command('feeds')
    .description('Kept feeds: list, draw, write in by hand, take out and in.');
  addReading(feeds);
  addWriting(feeds);
  addExchange(feeds);
}

function addReading(feeds: Command): void {
  refuseOtherVerbs(feeds.command('list', { isDefault: true }))
    .description('List the kept feeds, the newest first. "ebbline feeds" alone does the same.')
    .addOption(numberOption('--page <number>', 'which page; 1 is the newest', wholeNumber))
    .addOption(numberOption('--per-page <number>', 'feeds on a page', wholeNumber).default(20))
    .option('--discarded', 'also those that were marked as not a feed')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (options) => (await import('./list.ts')).listCommand(options));

  feeds
    .command('graph')
    .description('Draw a kept feed; or write it as a page or a PDF to hand on.')
    .argument('[feed]', 'the feed’s name as listed by "ebbline feeds"; without it the latest one')
    .option(
      '--out <file>',
      'ending in .svg, .png, .html or .pdf; "-" is standard output (SVG); without it feed-NAME.svg',
    )
    .addOption(forceOption())
    .option('--note <text>', 'a note for the page or PDF; without it the one kept beside the feed')
    .option('--names', 'name the baby and whoever fed, in the page or PDF')
    .addOption(languageOption())
    .addOption(unitOption())
    .addOption(simulatedOption())
    .action(async (feed, options) => (await import('./graph.ts')).graphCommand(feed, options));

  feeds
    .command('again')
    .description('Compute a kept feed again, and say whether its cues are the same.')
    .argument('<feed>', 'the feed’s name as listed by "ebbline feeds"')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (feed, options) => (await import('./again.ts')).againCommand(feed, options));
}

function addWriting(feeds: Command): void {
  feeds
    .command('add')
    .description('Enter a feed that no sleeve measured.')
    .addArgument(new Argument('<kind>', 'how').choices(['breast', 'bottle', 'refused']))
    .addOption(dayOption('today'))
    .requiredOption('--at <time>', 'when it began, HH:MM')
    .option('--again', 'in the night when clocks go back: the second time that the clock showed it')
    .addOption(numberOption('--minutes <number>', 'how long it took', notNegative))
    .addOption(numberOption('--offered-ml <number>', 'milk in the bottle before, mL', notNegative))
    .addOption(
      numberOption('--offered-fl-oz <number>', 'the same in US fl oz', notNegative).conflicts('offeredMl'),
    )
    .addOption(numberOption('--left-ml <number>', 'milk left in it after, mL', notNegative))
    .addOption(numberOption('--left-fl-oz <number>', 'the same in US fl oz', notNegative).conflicts('leftMl'))
    .addOption(new Option('--side <side>', 'at the breast').choices(['left', 'right', 'both']))
    .addOption(babyOption())
    .option('--by <initials>', 'who fed')
    .option('--note <text>', 'in your own words')
    .addOption(simulatedOption())
    .action(async (kind, options) => (await import('./add.ts')).addCommand(kind, options));

  feeds
    .command('whose')
    .description('List feeds whose baby is not certain, or say whose they are.')
    .argument('[feeds]', 'the name that they stand under, as listed')
    .addOption(babyOption('the baby that they are of: name or number'))
    .option('--another', 'they are of a baby that is not in the list')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (feeds, options) => (await import('./whose.ts')).whoseCommand(feeds, options));
}

function addExchange(feeds: Command): void {
  feeds
    .command('export')
    .description('Write everything that is kept as JSON and CSV into a folder of its own.')
    .option('--out <folder>', 'folder to make; without it ebbline-export- and the day')
    .addOption(new Option('--from <date>', 'only feeds from this day on, YYYY-MM-DD').argParser(dayText))
    .addOption(new Option('--to <date>', 'only feeds up to this day, which is in it').argParser(dayText))
    .addOption(babyOption('only feeds of this baby'))
    .option('--captures', 'the captures too, as the sleeve sent them (gzip)')
    .addOption(simulatedOption())
    .action(async (options) => (await import('./export.ts')).exportCommand(options));

  feeds
    .command('import')
    .description('Read an export back in; feeds that are kept already are left as they are.')
    .argument('<file>', 'folder of an export, its ebbline.jsonl, or a table like its hand-feeds.csv')
    .addOption(simulatedOption())
    .action(async (file, options) => (await import('./export.ts')).importCommand(file, options));
}
