/** The command line: each command's file is loaded only when it is called, so that commands start fast. */
import { Argument, type Command, CommanderError } from 'commander';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { candidatesFor, SCRIPTS, SHELLS, type Shell } from './completion.ts';
import { addDataCommands } from './data/commands.ts';
import { addFeedCommands } from './feeds/commands.ts';
import { addNippleCommands } from './nipple/commands.ts';
import { isNotInDatabase, notInDatabase } from './not-in-database.ts';
import { spelledAsNow } from './old-spellings.ts';
import * as option from './options.ts';
import { addPackingCommands } from './packing/commands.ts';
import { warn } from './print-out.ts';
import { addSleeveCommands } from './sleeve/commands.ts';
import { addStudyCommands } from './study/commands.ts';
import { addWardCommands } from './ward/commands.ts';
import { addWatchCommands } from './watch-commands.ts';

const EXIT_BAD_INPUT = 2;

const ABOUT = `Feed-rate timer of a bottle sleeve: weighs the bottle while a baby drinks, and cues whoever holds it to keep a gentle pace.
Not a medical device or an alarm. Watch the baby, not the sleeve.`;

const FIRST_STEPS = `
First time? Run
  ebbline start
with nothing plugged in: a simulated baby drinks, the page shows the cues, and the feed is kept.
Then
  ebbline feeds --simulated                           lists the simulated feeds that were kept
  ebbline feeds graph --simulated --out feed.png      draws the latest of them
Feeds of a real sleeve are kept apart from those: leave --simulated out.
To look at what is kept, without a sleeve:
  ebbline open
For Tab to complete commands:  eval "$(ebbline completion bash)"`;

/** In the order of the help. */
const PARTS = [
  addWatchCommands,
  addWardCommands,
  addFeedCommands,
  addDays,
  addPackingCommands,
  addSleeveCommands,
  addDataCommands,
  addNippleCommands,
  addStudyCommands,
  addReplay,
  addCompletion,
  addHidden,
];

function program(): option.Verb {
  const ebbline = new option.Verb('ebbline')
    .description(ABOUT)
    .version(SOFTWARE_VERSION, '--version', 'print the version of this program')
    .showHelpAfterError('Run the command with --help to see how it is used.')
    .addHelpText('after', FIRST_STEPS)
    .exitOverride();
  for (const add of PARTS) add(ebbline);
  for (const leaf of leavesOf(ebbline)) {
    const works = IN_DATABASE.test(pathOf(leaf));
    const hasSite = leaf.options.some(({ long }) => long === '--site');
    if (works || isNotInDatabase(pathOf(leaf)))
      for (const one of option.databaseOptions({ hasSite, isShown: works })) leaf.addOption(one);
  }
  ebbline.hook('preAction', async (_all, command) => {
    if (command.opts().database === undefined) return;
    if (isNotInDatabase(pathOf(command))) throw notInDatabase(pathOf(command));
    if (IN_DATABASE.test(pathOf(command))) (await import('./with-store.ts')).chooseDatabase(command.opts());
  });
  // The help of `ebbline` names every verb; the help of a noun names its own.
  const shown = ebbline.createHelp();
  ebbline.configureHelp({
    visibleCommands: (command) =>
      command === ebbline ? shown.visibleCommands(ebbline).flatMap(leavesOf) : shown.visibleCommands(command),
    subcommandTerm: pathOf,
  });
  return ebbline;
}

/** Commands that work on a database as well as on the data folder. */
const IN_DATABASE =
  /^(feeds .*|day|week|plan|milk .*|print .*|data (time-zone|archive|check|forget)|sleeve calibrations|open|board|labels|ward .*|nipple .*|study (?!example|size).*)$/;

const leavesOf = (command: Command): Command[] =>
  command.commands.length === 0 ? [command] : command.commands.flatMap(leavesOf);

/** @returns the command without the program's name, such as 's name, such as ' or ' or ' */
const pathOf = (command: Command): string =>
  command.parent?.parent ? `${pathOf(command.parent)} ${command.name()}` : command.name();

function addDays(ebbline: option.Verb): void {
  ebbline
    .command('day')
    .description('Show a day: milk from bottles, feeds of all kinds; or write it as a page to hand on.')
    .with(option.day('today'), option.baby)
    .option('--out <file>', 'page to write, ending in .html')
    .with(option.force)
    .option('--note <text>', 'a note for the page')
    .option('--names', 'name whoever fed')
    .with(option.language, option.unit, option.json, option.simulated)
    .action(async (options) => (await import('./days.ts')).dayCommand(options));
  ebbline
    .command('week')
    .description('Show seven days up to a day, and the seven before.')
    .with(option.day('today'), option.baby, option.language, option.unit, option.json, option.simulated)
    .action(async (options) => (await import('./days.ts')).weekCommand(options));
}

function addReplay(ebbline: option.Verb): void {
  ebbline
    .command('replay')
    .description('Run a capture file through the same steps as a live feed, as fast as possible.')
    .argument('<capture>', 'capture file (.cap, .cap.gz or .cap.cols)')
    .requiredOption('--calibration <file>', 'calibration file of the sleeve and bottle (JSON)')
    .option(
      '--portion-ml <number>',
      'planned portion, mL; only the change of sides rests on it',
      option.positive,
    )
    .with(option.json)
    .action(async (capture, options) => (await import('./replay.ts')).replayCommand(capture, options));
}

function addCompletion(ebbline: option.Verb): void {
  ebbline
    .command('completion')
    .description('Print the shell script that completes commands with Tab.')
    .addArgument(new Argument('<shell>', 'which shell').choices(SHELLS))
    .action((shell: Shell) => void process.stdout.write(SCRIPTS[shell]));
  ebbline
    .command('complete', { hidden: true })
    .argument('[words...]')
    .action((words: string[]) => {
      for (const { word, about } of candidatesFor(ebbline, words))
        process.stdout.write(`${word}\t${about}\n`);
    });
}

/** What the program starts by itself. */
function addHidden(ebbline: option.Verb): void {
  ebbline
    .command('aside', { hidden: true })
    .description('Heavy work for "ebbline start", which starts this by itself.')
    .addArgument(new Argument('<mode>', 'what to do').choices(['serve', 'export']))
    .argument('<folder>', 'folder of what is kept')
    .action(async (mode: 'serve' | 'export', folder: string) => {
      const { exportAside, serveAside } = await import('../app/aside/aside-process.ts');
      return mode === 'serve' ? serveAside(folder) : exportAside(folder);
    });
  ebbline
    .command('store-thread', { hidden: true })
    .description('Stores feeds for "ebbline work", which starts this by itself.')
    .action(async () => (await import('../app/work/storing/store-thread.ts')).serveStoreThread());
  ebbline
    .command('jobs-thread', { hidden: true })
    .description('Computes for studies in "ebbline work", which starts this by itself.')
    .action(async () => (await import('../app/work/jobs/start-jobs.ts')).serveJobsThread());
  ebbline
    .command('study-thread', { hidden: true })
    .description('Computes sessions for "ebbline study", which starts this by itself.')
    .action(async () => (await import('../app/study/crew/study-thread.ts')).serveStudyThread());
}

// A reader that closes the pipe early (head, less) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});
const { args, changes } = spelledAsNow(process.argv.slice(2));
if (changes.length > 0) warn(`${changes.join(' ')} The old spelling works until the next version.`);
try {
  await program().parseAsync(args, { from: 'user' });
} catch (error) {
  if (error instanceof PlainError) warn(error.text);
  else if (!(error instanceof CommanderError)) throw error;
  process.exitCode = error instanceof CommanderError && error.exitCode === 0 ? 0 : EXIT_BAD_INPUT;
}
