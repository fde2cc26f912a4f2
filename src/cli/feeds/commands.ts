/** The commands about feeds. Definitions only; the work is loaded when it is called. */
import { Argument, Option } from 'commander';
import * as option from '../options.ts';

export function addFeedCommands(ebbline: option.Verb): void {
  const feeds = ebbline
    .command('feeds')
    .description('Kept feeds: list, draw, write in by hand, take out and in.');
  addReading(feeds);
  addWriting(feeds);
  addExchange(feeds);
}

function addReading(feeds: option.Verb): void {
  feeds
    .command('list', { isDefault: true })
    .refuseOtherVerbs()
    .description('List the kept feeds, the newest first. "ebbline feeds" alone does the same.')
    .option('--page <number>', 'which page; 1 is the newest', option.wholeNumber)
    .option('--per-page <number>', 'feeds on a page', option.wholeNumber, 20)
    .option('--discarded', 'also those that were marked as not a feed')
    .with(option.json, option.simulated)
    .action(async (options) => (await import('./list.ts')).listCommand(options));
  feeds
    .command('graph')
    .description('Draw a kept feed; or write it as a page or a PDF to hand on.')
    .argument('[feed]', 'the feed’s name as listed by "ebbline feeds"; without it the latest one')
    .option(
      '--out <file>',
      'ending in .svg, .png, .html or .pdf; "-" is standard output (SVG); without it feed-NAME.svg',
    )
    .with(option.force)
    .option('--note <text>', 'a note for the page or PDF; without it the one kept beside the feed')
    .option('--names', 'name the baby and whoever fed, in the page or PDF')
    .with(option.language, option.unit, option.simulated)
    .action(async (feed, options) => (await import('./graph.ts')).graphCommand(feed, options));
  feeds
    .command('again')
    .description('Compute a kept feed again, and say whether its cues are the same.')
    .argument('<feed>', 'the feed’s name as listed by "ebbline feeds"')
    .with(option.json, option.simulated)
    .action(async (feed, options) => (await import('./again.ts')).againCommand(feed, options));
}

function addWriting(feeds: option.Verb): void {
  feeds
    .command('add')
    .description('Enter a feed that no sleeve measured.')
    .addArgument(new Argument('<kind>', 'how').choices(['breast', 'bottle', 'refused']))
    .with(option.day('today'))
    .requiredOption('--at <time>', 'when it began, HH:MM')
    .option('--again', 'in the night when clocks go back: the second time that the clock showed it')
    .option('--minutes <number>', 'how long it took', option.notNegative)
    .with(
      ...inTwoUnits('offered', 'milk in the bottle before'),
      ...inTwoUnits('left', 'milk left in it after'),
    )
    .with(new Option('--side <side>', 'at the breast').choices(['left', 'right', 'both']), option.baby)
    .option('--by <initials>', 'who fed')
    .option('--note <text>', 'in your own words')
    .with(option.simulated)
    .action(async (kind, options) => (await import('./add.ts')).addCommand(kind, options));
  feeds
    .command('whose')
    .description('List feeds whose baby is not certain, or say whose they are.')
    .argument('[feeds]', 'the name that they stand under, as listed')
    .option('--baby <name>', 'the baby that they are of: name or number')
    .option('--another', 'they are of a baby that is not in the list')
    .with(option.json, option.simulated)
    .action(async (feeds, options) => (await import('./whose.ts')).whoseCommand(feeds, options));
}

const inTwoUnits = (name: string, what: string): Option[] => [
  new Option(`--${name}-ml <number>`, `${what}, mL`).argParser(option.notNegative),
  new Option(`--${name}-fl-oz <number>`, 'the same in US fl oz')
    .argParser(option.notNegative)
    .conflicts(`${name}Ml`),
];

function addExchange(feeds: option.Verb): void {
  feeds
    .command('export')
    .description('Write everything that is kept as JSON and CSV into a folder of its own.')
    .option('--out <folder>', 'folder to make; without it ebbline-export- and the day')
    .option('--from <date>', 'only feeds from this day on, YYYY-MM-DD', option.dayText)
    .option('--to <date>', 'only feeds up to this day, which is in it', option.dayText)
    .option('--baby <name>', 'only feeds of this baby')
    .option('--captures', 'the captures too, as the sleeve sent them (gzip)')
    .with(option.simulated)
    .action(async (options) => (await import('./export.ts')).exportCommand(options));
  feeds
    .command('import')
    .description('Read an export back in; feeds that are kept already are left as they are.')
    .argument('<file>', 'folder of an export, its ebbline.jsonl, or a table like its hand-feeds.csv')
    .with(option.simulated)
    .action(async (file, options) => (await import('./export.ts')).importCommand(file, options));
}
