/** The commands about what is kept: out and in, saved and brought back, put away, forgotten. */
import type { Command } from 'commander';
import { dayEndMs, dayStartMs } from './day.ts';

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
}
