/** The commands about nipples: how fast one runs. */
import { InvalidArgumentError } from 'commander';
import * as option from '../options.ts';

function volumes(text: string): number[] {
  const all = text.split(',').map(Number);
  if (all.every((ml) => Number.isFinite(ml) && ml >= 0)) return all;
  throw new InvalidArgumentError('They must be numbers with commas between, such as 11,12,10.5.');
}

const load = () => import('./nipple.ts');

export function addNippleCommands(ebbline: option.Verb): void {
  const nipple = ebbline
    .command('nipple')
    .description('How fast a nipple runs, measured with water and a clock, since packages do not say it.');
  nipple
    .command('list', { isDefault: true })
    .refuseOtherVerbs()
    .description('List the nipples that were measured.')
    .with(option.json, option.simulated)
    .action(async (options) => (await load()).listCommand(options));
  nipple
    .command('measure')
    .description('Enter measured trials: bottle tipped, nipple down, water caught and weighed (1 g is 1 mL).')
    .requiredOption('--name <name>', 'the nipple, in your own words')
    .option(
      '--shown <grams>',
      'what the scale showed after each trial, the cup left on it: 11,22,33 (three trials of a minute give 5 % from 5 mL/min on)',
      volumes,
    )
    .option('--ml <volumes>', 'instead: mL of each trial, three at least: 11,12,10.5', volumes)
    .option('--scale-step <grams>', 'smallest step of the scale', option.positive, 1)
    .option('--sec <seconds>', 'how long each trial took', option.positive, 60)
    .option('--tilt <degrees>', 'how far the nipple pointed down', option.positive, 30)
    .option('--head <mm>', 'height of water above the hole', option.positive, 50)
    .with(option.choice('--liquid <liquid>', 'what was in it', ['water', 'formula', 'milk']))
    .option('--suction <mmHg>', 'under a pump; without it the nipple drips by itself', option.positive)
    .with(option.simulated)
    .action(async (options) => (await load()).measureCommand(options));
}
