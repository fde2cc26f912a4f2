/** The commands about what is kept: out and in, saved and brought back, put away, forgotten. */
import { type Command, Option } from 'commander';
import { ageDays, dayEndMs, dayStartMs } from './day.ts';

export function addKeptCommands(ebbline: Command): void {
  ebbline
    .command('export')
    .description('Write everything that is kept as JSON and CSV into a folder of its own.')
    .option('--out <folder>', 'folder to make; without it ebbline-export- and the day')
    .option('--from <day>', 'only feeds from this day on, YYYY-MM-DD', dayStartMs)
    .option('--to <day>', 'only feeds up to this day, which is in it', dayEndMs)
    .option('--baby <name>', 'only feeds of this baby')
    .option('--captures', 'the captures too, as the sleeve sent them (gzip)')
    .option('--simulated', 'feeds of the simulated sleeve')
    .action(async (options) => (await import('./export.ts')).exportCommand(options));

  ebbline
    .command('import')
    .description('Read an export back in; feeds that are kept already are left as they are.')
    .argument('<file>', 'folder of an export, its ebbline.jsonl, or a table like its hand-feeds.csv')
    .option('--simulated', 'into the feeds of the simulated sleeve')
    .action(async (file, options) => (await import('./export.ts')).importCommand(file, options));

  ebbline
    .command('backup')
    .description('Save all that is kept, captures too, as one file (tar); also while a feed is recorded.')
    .requiredOption('--out <file>', 'file to make, ending in .tar')
    .option('--simulated', 'the feeds of the simulated sleeve')
    .action(async (options) => (await import('./backup.ts')).backupCommand(options));

  ebbline
    .command('restore')
    .description('Bring a backup back; what is kept now stays beside it.')
    .argument('<file>', 'file made by "ebbline backup"')
    .option('--replace', 'put the backup in the place of what is kept now')
    .option('--simulated', 'into the feeds of the simulated sleeve')
    .action(async (file, options) => (await import('./backup.ts')).restoreCommand(file, options));

  ebbline
    .command('archive')
    .description('Put captures of old feeds away, or remove them; all else of the feeds stays.')
    .addOption(
      new Option('--older-than <age>', 'such as 90d, 26w, 18m or 2y; without it the rule is told').argParser(
        ageDays,
      ),
    )
    .option('--to <folder>', 'where they go; it must be there')
    .option('--remove', 'remove them for good')
    .option('--from-now-on', 'keep this as a rule, applied at each start')
    .option('--stop', 'no such rule any more')
    .option('--simulated', 'feeds of the simulated sleeve')
    .action(async (options) => (await import('./archive.ts')).archiveCommand(options));

  ebbline
    .command('check-store')
    .description(
      'Look over what is kept: database, captures, rights; lost feeds can be made anew from captures.',
    )
    .option('--rebuild', 'make feeds anew from captures that have none')
    .option('--simulated', 'the feeds of the simulated sleeve')
    .action(async (options) => (await import('./check-store.ts')).checkStoreCommand(options));

  ebbline
    .command('forget')
    .description('Delete a baby and all that belongs to it, for good. Asks twice.')
    .argument('<baby>', 'name of the baby')
    .option('--yes', 'do not ask')
    .option('--simulated', 'only among the feeds of the simulated sleeve; without it everywhere')
    .action(async (baby, options) => (await import('./forget.ts')).forgetCommand(baby, options));
}
