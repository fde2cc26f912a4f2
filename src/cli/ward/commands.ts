/** Commands of a house with many: the board of a room. */
import type { Command } from 'commander';
import { numberOption, portNumber, wholeNumber } from '../options.ts';

/** Beside a feed's own page on one computer. */
const BOARD_PORT = 4141;

export function addWardCommands(ebbline: Command): void {
  ebbline
    .command('board')
    .description('Serve one page for a tablet: all running feeds of a room, who needs a hand first.')
    .option('--demo', 'with invented cots, to try it without sleeves or a broker')
    .addOption(
      numberOption('--cots <number>', 'with --demo: how many invented cots', wholeNumber).default(12),
    )
    .addOption(
      numberOption('--page-port <number>', 'where the page is served on this computer', portNumber).default(
        BOARD_PORT,
      ),
    )
    .action(async (options) => (await import('./board.ts')).boardCommand(options));
}
