/** Commands about nipples. Work is loaded when called. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import { jsonOption, numberOption, positive, refuseOtherVerbs, simulatedOption } from '../options.ts';

function volumes(text: string): number[] {
  const all = text.split(',').map(Number);
  if (all.some((ml) => !Number.isFinite(ml) || ml < 0))
    throw new InvalidArgumentError('They must be numbers with commas between, such as 11,12,10.5.');
  return all;
}

export function addNippleCommands(ebbline: Command): void {
  const nipple = ebbline
    .command('nipple')
    .description('How fast a nipple runs, measured with water and a clock, since packages do not say it.');
  const load = () => import('./nipple.ts');
  refuseOtherVerbs(
    nipple
      .command('list', { isDefault: true })
      .description('List the nipples that were measured.')
      .addOption(jsonOption())
      .addOption(simulatedOption())
      .action(async (options) => (await load()).listCommand(options)),
  );
  nipple
    .command('measure')
    .description('Enter measured trials: bottle tipped, nipple down, water caught and weighed (1 g is 1 mL).')
    .requiredOption('--name <name>', 'the nipple, in your own words')
    .addOption(
      new Option(
        '--shown <grams>',
        'what the scale showed after each trial, the cup left on it: 11,22,33 (three trials of a minute give 5 % from 5 mL/min on)',
      ).argParser(volumes),
    )
    .addOption(
      new Option('--ml <volumes>', 'instead: mL of each trial, three at least: 11,12,10.5').argParser(
        volumes,
      ),
    )
    .addOption(numberOption('--scale-step <grams>', 'smallest step of the scale', positive).default(1))
    .addOption(numberOption('--sec <seconds>', 'how long each trial took', positive).default(60))
    .addOption(numberOption('--tilt <degrees>', 'how far the nipple pointed down', positive).default(30))
    .addOption(numberOption('--head <mm>', 'height of water above the hole', positive).default(50))
    .addOption(
      new Option('--liquid <liquid>', 'what was in it')
        .choices(['water', 'formula', 'milk'])
        .default('water'),
    )
    .addOption(
      numberOption('--suction <mmHg>', 'under a pump; without it the nipple drips by itself', positive),
    )
    .addOption(simulatedOption())
    .action(async (options) => (await load()).measureCommand(options));
}
