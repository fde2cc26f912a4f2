/** The command line: each command's file is loaded only when it is called, so that commands start fast. */
import { Command, CommanderError } from 'commander';
import { PlainError } from '../base/errors.ts';
import { SOFTWARE_VERSION } from '../base/version.ts';
import { addFlags, addPart } from './add-part.ts';
import { DATA } from './data/commands.ts';
import { FEEDS } from './feeds/commands.ts';
import { NIPPLE } from './nipple/commands.ts';
import { isNotInDatabase, notInDatabase } from './not-in-database.ts';
import { spelledAsNow } from './old-spellings.ts';
import * as option from './options.ts';
import { otherCommands } from './other-commands.ts';
import { PACKING } from './packing/commands.ts';
import { warn } from './print-out.ts';
import { SLEEVE } from './sleeve/commands.ts';
import { STUDIES } from './study/commands.ts';
import { WARD } from './ward/commands.ts';
import { WATCH } from './watch-commands.ts';

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

function program(): Command {
  const ebbline = new Command('ebbline')
    .description(ABOUT)
    .version(SOFTWARE_VERSION, '--version', 'print the version of this program')
    .showHelpAfterError('Run the command with --help to see how it is used.')
    .addHelpText('after', FIRST_STEPS)
    .exitOverride();
  // In the order of the help.
  addPart(ebbline, WATCH);
  addPart(ebbline, WARD);
  addPart(ebbline, FEEDS);
  addPart(ebbline, PACKING);
  addPart(ebbline, SLEEVE);
  addPart(ebbline, DATA);
  addPart(ebbline, NIPPLE);
  addPart(ebbline, STUDIES);
  addPart(ebbline, otherCommands(ebbline));
  for (const leaf of leavesOf(ebbline)) {
    const works = IN_DATABASE.test(pathOf(leaf));
    if (works || isNotInDatabase(pathOf(leaf))) addDatabase(leaf, works);
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

/** @returns the command without the program's name, such as "feeds list" */
const pathOf = (command: Command): string =>
  command.parent?.parent ? `${pathOf(command.parent)} ${command.name()}` : command.name();

/** @param isShown  false: understood, so that it can be refused with a reason, but not in the help */
function addDatabase(command: Command, isShown: boolean): void {
  const hasSite = command.options.some(({ long }) => long === '--site');
  const before = command.options.length;
  addFlags(command, option.database, hasSite ? {} : option.databaseSite, option.databaseAccess);
  for (const one of command.options.slice(before)) one.hideHelp(!isShown);
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
