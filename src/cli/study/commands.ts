/** The research commands: a study, its participants and sessions, its export. Work is loaded when called. */
import * as option from '../options.ts';

const load = () => import('./study.ts');
const loadCompute = () => import('./compute.ts');

export function addStudyCommands(ebbline: option.Verb): void {
  const study = ebbline
    .command('study')
    .description('Research: feeds of coded participants, exported with units and uncertainty.');
  /** A verb about one study. */
  const about = (verb: string, description: string) =>
    study.command(verb).description(description).argument('<study>', 'code of the study');
  addParticipants(study, about);
  addComputing(study, about);
  addEnding(about);
}

type About = (verb: string, description: string) => option.Verb;
const PARTICIPANT = ['<participant>', 'code of the participant'] as const;
const OUT = ['--out <folder>', 'folder to make; without it one named after the study and the day'] as const;

function addParticipants(study: option.Verb, about: About): void {
  study
    .command('new')
    .description('Begin a study from its protocol.')
    .argument('<protocol>', 'protocol file (JSON)')
    .with(option.simulated)
    .action(async (file, options) => (await load()).newCommand(file, options));
  study
    .command('example')
    .description('Print a protocol to start from.')
    .action(async () => (await load()).exampleCommand());
  study
    .command('list')
    .description('List the studies, and how far each is.')
    .with(option.json, option.simulated)
    .action(async (options) => (await load()).listCommand(options));
  about('enroll', 'Enroll participants by code; the arm of each is drawn at random at that moment.')
    .argument('<participant...>', 'codes of participants, such as F07; never a name')
    .option('--stratum <code>', 'stratum of the protocol', 'all')
    .with(option.simulated)
    .action(async (code, participants, options) => (await load()).enrollCommand(code, participants, options));
  about('bind', 'Assign kept feeds to a participant, as sessions of the study.')
    .argument(...PARTICIPANT)
    .argument('<feed...>', 'names of feeds as "ebbline feeds" lists them')
    .with(option.simulated)
    .action(async (...given) => (await load()).bindCommand(given[0], given[1], given[2], given[3]));
}

function addComputing(study: option.Verb, about: About): void {
  about(
    'export',
    'Write tables (CSV and Parquet), dictionary and methods of all sessions, computed from their raw counts.',
  )
    .option(...OUT)
    .option('--raw', 'the raw counts too, one Parquet file a session (about 0.1 MB a minute)')
    .with(option.simulated)
    .action(async (code, options) => (await loadCompute()).exportCommand(code, options));
  about('recompute', 'Compute all sessions again with this version, and say which results changed.')
    .with(option.simulated)
    .action(async (code, options) => (await loadCompute()).recomputeCommand(code, options));
  about(
    'figures',
    'Draw the curves of the arms and forest plots, as SVG and PDF, with all comparisons as a table.',
  )
    .option(...OUT)
    .with(option.simulated)
    .action(async (code, options) => (await loadCompute()).figuresCommand(code, options));
  study
    .command('size')
    .description('Compute how many participants each of two arms needs for an interval of a given width.')
    .requiredOption('--sd <number>', 'standard deviation between participants', option.positive)
    .requiredOption('--half <number>', 'half of the interval of 95 %, in the same unit', option.positive)
    .action(async (options) => (await loadCompute()).sizeCommand(options));
  about(
    'learned',
    'Say whether a caregiver now paces without cues; answered once, after 14 feeds without them.',
  )
    .argument(...PARTICIPANT)
    .with(option.simulated)
    .action(async (code, participant, options) => (await load()).learnedCommand(code, participant, options));
}

function addEnding(about: About): void {
  about('close', 'End a study: exports and figures then name the arms, and nobody can join any more.')
    .with(option.simulated)
    .action(async (code, options) => (await load()).closeCommand(code, options));
  about('audit', 'List all changes to a study, with their times.')
    .with(option.json, option.simulated)
    .action(async (code, options) => (await load()).auditCommand(code, options));
  about('withdraw', 'Remove a participant from a study for good; the family keeps its feeds.')
    .argument(...PARTICIPANT)
    .with(option.simulated)
    .action(async (code, participant, options) => (await load()).withdrawCommand(code, participant, options));
}
