/** The research commands: a study, its participants and sessions, its export. Work is loaded when called. */
import type { Command } from 'commander';
import { jsonOption, numberOption, positive, simulatedOption } from '../options.ts';

export function addStudyCommands(ebbline: Command): void {
  const study = ebbline
    .command('study')
    .description('Research: feeds of coded participants, exported with units and uncertainty.');
  addParticipants(study);
  addComputing(study);
  addEnding(study);
}

const load = () => import('./study.ts');
const loadCompute = () => import('./compute.ts');

function addParticipants(study: Command): void {
  study
    .command('new')
    .description('Begin a study from its protocol.')
    .argument('<protocol>', 'protocol file (JSON)')
    .addOption(simulatedOption())
    .action(async (file, options) => (await load()).newCommand(file, options));
  study
    .command('example')
    .description('Print a protocol to start from.')
    .action(async () => (await load()).exampleCommand());
  study
    .command('list')
    .description('List the studies, and how far each is.')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (options) => (await load()).listCommand(options));
  study
    .command('enroll')
    .description('Enroll participants by code; the arm of each is drawn at random at that moment.')
    .argument('<study>', 'code of the study')
    .argument('<participant...>', 'codes of participants, such as F07; never a name')
    .option('--stratum <code>', 'stratum of the protocol', 'all')
    .addOption(simulatedOption())
    .action(async (code, participants, options) => (await load()).enrollCommand(code, participants, options));
  study
    .command('bind')
    .description('Assign kept feeds to a participant, as sessions of the study.')
    .argument('<study>', 'code of the study')
    .argument('<participant>', 'code of the participant')
    .argument('<feed...>', 'names of feeds as "ebbline feeds" lists them')
    .addOption(simulatedOption())
    .action(async (code, participant, feeds, options) =>
      (await load()).bindCommand(code, participant, feeds, options),
    );
}

function addComputing(study: Command): void {
  study
    .command('export')
    .description(
      'Write tables (CSV and Parquet), dictionary and methods of all sessions, computed from their raw counts.',
    )
    .argument('<study>', 'code of the study')
    .option('--out <folder>', 'folder to make; without it one named after the study and the day')
    .option('--raw', 'the raw counts too, one Parquet file a session (about 0.1 MB a minute)')
    .addOption(simulatedOption())
    .action(async (code, options) => (await loadCompute()).exportCommand(code, options));
  study
    .command('recompute')
    .description('Compute all sessions again with this version, and say which results changed.')
    .argument('<study>', 'code of the study')
    .addOption(simulatedOption())
    .action(async (code, options) => (await loadCompute()).recomputeCommand(code, options));
  study
    .command('figures')
    .description(
      'Draw the curves of the arms and forest plots, as SVG and PDF, with all comparisons as a table.',
    )
    .argument('<study>', 'code of the study')
    .option('--out <folder>', 'folder to make; without it one named after the study and the day')
    .addOption(simulatedOption())
    .action(async (code, options) => (await loadCompute()).figuresCommand(code, options));
  study
    .command('size')
    .description('Compute how many participants each of two arms needs for an interval of a given width.')
    .addOption(
      numberOption(
        '--sd <number>',
        'standard deviation between participants',
        positive,
      ).makeOptionMandatory(),
    )
    .addOption(
      numberOption(
        '--half <number>',
        'half of the interval of 95 %, in the same unit',
        positive,
      ).makeOptionMandatory(),
    )
    .action(async (options) => (await loadCompute()).sizeCommand(options));
  study
    .command('learned')
    .description(
      'Say whether a caregiver now paces without cues; answered once, after 14 feeds without them.',
    )
    .argument('<study>', 'code of the study')
    .argument('<participant>', 'code of the participant')
    .addOption(simulatedOption())
    .action(async (code, participant, options) => (await load()).learnedCommand(code, participant, options));
}

function addEnding(study: Command): void {
  study
    .command('close')
    .description('End a study: exports and figures then name the arms, and nobody can join any more.')
    .argument('<study>', 'code of the study')
    .addOption(simulatedOption())
    .action(async (code, options) => (await load()).closeCommand(code, options));
  study
    .command('audit')
    .description('List all changes to a study, with their times.')
    .argument('<study>', 'code of the study')
    .addOption(jsonOption())
    .addOption(simulatedOption())
    .action(async (code, options) => (await load()).auditCommand(code, options));
  study
    .command('withdraw')
    .description('Remove a participant from a study for good; the family keeps its feeds.')
    .argument('<study>', 'code of the study')
    .argument('<participant>', 'code of the participant')
    .addOption(simulatedOption())
    .action(async (code, participant, options) => (await load()).withdrawCommand(code, participant, options));
}
