/** The commands about all stored data: backup, restore, archive, forget. */
import * as option from '../options.ts';

export function addDataCommands(ebbline: option.Verb): void {
  const data = ebbline.command('data').description('All that is kept: save, bring back, put away, forget.');
  addBackup(data);
  addLookingAfter(data);
}

function addBackup(data: option.Verb): void {
  data
    .command('backup')
    .description('Save all kept data, captures too, as one file; also while a feed is recorded.')
    .option('--out <file>', 'file to make (tar); without it ebbline-backup-, the day and .tar')
    .with(option.simulated)
    .action(async (options) => (await import('./backup.ts')).backupCommand(options));
  data
    .command('restore')
    .description('Restore a backup; the present data stays beside it.')
    .argument('<file>', 'file made by "ebbline data backup"')
    .option('--replace', 'put the backup in place of the present data')
    .with(option.simulated)
    .action(async (file, options) => (await import('./backup.ts')).restoreCommand(file, options));
  data
    .command('move')
    .description(
      'Copy all kept data from a folder to a database, or back, unchanged; run it again if it was interrupted.',
    )
    .requiredOption('--from <place>', 'data folder, or postgres://USER@HOST/NAME?site=SITE')
    .requiredOption('--to <place>', 'the same; it must be empty')
    .with(option.databaseSite(), ...option.databaseAccess())
    .action(async (options) => (await import('./backup.ts')).moveCommand(options));
}

function addLookingAfter(data: option.Verb): void {
  data
    .command('archive')
    .description('Move captures of old feeds elsewhere, or delete them; everything else of the feeds stays.')
    .option(
      '--older-than <age>',
      'such as 90d, 26w, 18m or 2y; without it the present rule is shown',
      option.ageDays,
    )
    .option('--into <folder>', 'where they go; it must be there')
    .option('--remove', 'remove them for good')
    .option('--from-now-on', 'keep this as a rule, applied at each start')
    .option('--stop', 'no such rule any more')
    .with(option.simulated)
    .action(async (options) => (await import('./archive.ts')).archiveCommand(options));
  data
    .command('check')
    .description(
      'Check the kept data: database, captures, access rights; lost feeds can be made again from captures.',
    )
    .option('--rebuild', 'make feeds again from captures without one')
    .option('--json', 'what was found, as JSON')
    .with(option.simulated)
    .action(async (options) => (await import('./check-store.ts')).checkStoreCommand(options));
  data
    .command('time-zone')
    .description('Show the time zone of all days and times, or choose it.')
    .argument('[zone]', 'its IANA name, such as America/Chicago')
    .with(option.simulated)
    .action(async (zone, options) => (await import('./time-zone.ts')).timeZoneCommand(zone, options));
  data
    .command('forget')
    .description('Delete a baby and all that belongs to it, for good. Asks twice.')
    .argument('<baby>', 'name of the baby')
    .option('--yes', 'do not ask')
    .with(option.simulated)
    .action(async (baby, options) => (await import('./forget.ts')).forgetCommand(baby, options));
}
