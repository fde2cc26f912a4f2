/** `ebbline calibrate`: walks a person through the calibration of a sleeve and its bottle, and writes the file and its certificate. */
import { createInterface } from 'node:readline';
import { HELP, MARKS_TEXT, type Talk, teatTipFor, walkThrough } from '../../app/calibration/guided-walk.ts';
import { type HoldSource, serialHolds, simulatedHolds } from '../../app/calibration/hold-source.ts';
import {
  finishedWalk,
  forgetProgress,
  keepProgress,
  outlineFrom,
  progressFrom,
  writeOutcome,
} from '../../app/calibration/walk-files.ts';
import { BUILT_ACCELEROMETER_MM, BUILT_DESIGN } from '../../app/sleeve/built-sleeve.ts';
import { PlainError } from '../../base/errors.ts';
import { Random } from '../../base/random.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { gyroscopeWords } from '../../calibration/fit/gyroscope.ts';
import { withAnotherBottle } from '../../calibration/walk/another-bottle.ts';
import { type Outcome, outcomeOf } from '../../calibration/walk/outcome.ts';
import { type BottleWay, USUAL_PLAN } from '../../calibration/walk/plan.ts';
import { GENERIC_PROFILE_MM } from '../../calibration/walk/profile.ts';
import {
  repeatStep,
  requireSameSleeve,
  startWalk,
  stepsOf,
  type WalkState,
} from '../../calibration/walk/walk-state.ts';
import { DEFAULT_BOTTLE } from '../../simulation/bottle.ts';

export interface CalibrateOptions {
  port?: string;
  simulated?: boolean;
  seed: number;
  byItself?: boolean;
  out: string;
  bottle: BottleWay;
  bottleName: string;
  outline?: string;
  /** A calibration of this sleeve with another bottle, as this command wrote it. */
  sleeveFrom?: string;
  placements: number;
  airCelsius?: number;
  /** Weight of what carries the masses and stays in while they are put on. */
  holderGrams?: number;
  fresh?: boolean;
}

export async function calibrateCommand(options: CalibrateOptions): Promise<void> {
  if ((options.port === undefined) === !options.simulated) {
    throw new PlainError(
      'calibrate-sleeve',
      'Which sleeve is to be calibrated?',
      'Give its port with --port DEVICE, or try the walk with --simulated.',
    );
  }
  if (options.byItself && !options.simulated) {
    throw new PlainError('calibrate-hands', 'A real sleeve needs real hands.', 'Leave out --by-itself.');
  }
  const progressPath = `${options.out}.walk`;
  if (options.fresh) forgetProgress(progressPath);
  const begun = progressFrom(progressPath);
  const outlineMm = options.outline === undefined ? null : outlineFrom(options.outline);
  const before = options.sleeveFrom === undefined ? null : finishedWalk(options.sleeveFrom);
  const source = options.simulated
    ? await simulatedHolds(options.seed, begun ?? before, options.seed + (before ? 1 : 0))
    : await serialHolds(options.port as string);
  const { talk, close } = options.byItself ? silentTalk() : terminalTalk();
  try {
    const walk = begun
      ? takenUp(begun, source, talk)
      : before
        ? anotherBottle(before, options, source, outlineMm)
        : begin(options, source, outlineMm);
    if (!begun && !before) talk.say(MARKS_TEXT);
    talk.say(`${options.simulated ? 'In simulation: no real sleeve is calibrated. ' : ''}${HELP}`);
    const made = await madeOutcome(walk, source, talk, (next) => keepProgress(progressPath, next));
    if (!made) {
      talk.say(`\nStopped. Run the same command to go on; the walk so far is in ${progressPath}.`);
      return;
    }
    const files = await writeOutcome(options.out, made.walk, made.outcome);
    forgetProgress(progressPath);
    process.stdout.write(`\n${closingWords(made.walk, made.outcome, files)}\n`);
  } finally {
    close();
    await source.close();
  }
}

function begin(
  options: CalibrateOptions,
  source: HoldSource,
  outlineMm: [number, number][] | null,
): WalkState {
  const walk = startWalk({
    sleeveId: source.simulated ? `simulated-${options.seed}` : String(source.sleeveNumber),
    sleeveNumber: source.sleeveNumber,
    simulated: source.simulated,
    startedAt: new Date().toISOString(),
    plan: { ...USUAL_PLAN, placements: options.placements, bottle: options.bottle },
  });
  return {
    ...walk,
    ...(source.simulated ? {} : { design: BUILT_DESIGN }),
    ...(options.holderGrams === undefined ? {} : { holderGrams: options.holderGrams }),
    bottleName: options.bottleName,
    ambientCelsius: options.airCelsius ?? null,
    outlineMm: outlineMm ?? (source.simulated ? DEFAULT_BOTTLE.innerProfileMm.map(([z, r]) => [z, r]) : null),
    fillToleranceGrams: fillTolerance(options.bottle),
  };
}

/** Marks on a bottle are read to a few mL; a kitchen scale does better. */
const fillTolerance = (way: BottleWay): number => (way === 'two-minutes' ? 3 : 0.1);

function anotherBottle(
  before: WalkState,
  { bottle, bottleName, airCelsius }: CalibrateOptions,
  source: HoldSource,
  outlineMm: [number, number][] | null,
): WalkState {
  requireSameSleeve(before, source.sleeveNumber);
  const walk = withAnotherBottle(before, {
    name: bottleName,
    way: bottle,
    outlineMm,
    fillToleranceGrams: fillTolerance(bottle),
  });
  return { ...walk, ambientCelsius: airCelsius ?? null };
}

function takenUp(begun: WalkState, source: HoldSource, talk: Talk): WalkState {
  requireSameSleeve(begun, source.sleeveNumber);
  talk.say(`Going on with the calibration begun on ${begun.startedAt.slice(0, 10)}.`);
  return begun;
}

/** Walks until an outcome can be made: what the last fit finds wrong can be repeated, too. */
async function madeOutcome(
  start: WalkState,
  source: HoldSource,
  talk: Talk,
  keep: (walk: WalkState) => void,
): Promise<{ walk: WalkState; outcome: Outcome } | null> {
  let walk = start;
  const random = new Random(1, 'certificate');
  for (;;) {
    const walked = await walkThrough({ walk, source, talk, keep });
    if (!walked) return null;
    walk = walked;
    try {
      const tip = await teatTipFor({ walk, source, talk });
      if (tip === null) return null;
      const pushed = typeof tip === 'number' ? {} : { teatTip: tip };
      if (typeof tip === 'number') walk = { ...walk, teatTipZMm: tip };
      const outcome = outcomeOf(walk, {
        finishedAt: new Date().toISOString(),
        softwareVersion: SOFTWARE_VERSION,
        uniform01: () => random.uniform(),
        ...(source.simulated ? {} : { accelerometerPositionMm: BUILT_ACCELEROMETER_MM }),
        ...pushed,
      });
      return { walk, outcome };
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(`\n! ${error.text}`);
      const again = await talk.ask(
        'Type a step to repeat (its ID, or "bottle", or "generic" for the generic profile), or q: ',
      );
      if (again === null || again.trim() === 'q') {
        if (again === null) throw error;
        return null;
      }
      walk = afterAnswer(walk, again.trim());
      keep(walk);
    }
  }
}

function afterAnswer(walk: WalkState, answer: string): WalkState {
  if (answer === 'generic') return { ...walk, outlineMm: null };
  const steps = stepsOf(walk).filter(({ id, kind }) => id === answer || kind === answer);
  const reopened = steps.reduce((left, { id }) => repeatStep(left, id), walk);
  return answer === 'bottle' ? { ...reopened, fillsGrams: {} } : reopened;
}

function closingWords(
  walk: WalkState,
  { budgets, calibration, gyroscope }: Outcome,
  files: string[],
): string {
  const figures = budgets.map(
    ({ title, unit, digits, budget }) => `  ${title}: ± ${budget.expanded.toFixed(digits)} ${unit}`,
  );
  const generic =
    walk.outlineMm === null
      ? [
          walk.plan.bottle === 'outline'
            ? 'The inside of the bottle: a generic profile, not fitted. Its larger error is stated.'
            : `The inside of the bottle: a generic profile of ${GENERIC_PROFILE_MM.length} points, fitted to the fillings. Its larger error is stated.`,
        ]
      : [];
  return [
    'Calibrated. Expanded uncertainty (k = 2), sleeve at rest, in simulation until a kitchen check has shown it:',
    ...figures,
    ...generic,
    ...(gyroscope.kind === 'none' ? [] : [`Gyroscope: ${gyroscopeWords(gyroscope)}.`]),
    `Next check due: ${(calibration as { nextCheckDue?: string }).nextCheckDue}`,
    `Written: ${files.join(', ')}`,
  ].join('\n');
}

/** The simulated person takes every step; only what was found wrong is said. */
function silentTalk(): { talk: Talk; close: () => void } {
  let answers = 0;
  return {
    talk: {
      say: (text) => {
        if (text.startsWith('!')) process.stderr.write(`${text}\n`);
      },
      // Each step is tried, and a refused one tried again; a walk that goes in circles ends.
      ask: async (question) => (question.startsWith('Enter') && answers++ < 500 ? '' : null),
    },
    close: () => {},
  };
}

function terminalTalk(): { talk: Talk; close: () => void } {
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const waiting: ((line: string | null) => void)[] = [];
  const typed: string[] = [];
  let ended = false;
  lines.on('line', (line) => {
    const next = waiting.shift();
    if (next) next(line);
    else typed.push(line);
  });
  lines.on('close', () => {
    ended = true;
    for (const next of waiting.splice(0)) next(null);
  });
  return {
    talk: {
      say: (text) => process.stdout.write(`${text}\n`),
      ask: (question) => {
        process.stdout.write(question);
        if (typed.length > 0) return Promise.resolve(typed.shift()!);
        return ended ? Promise.resolve(null) : new Promise((resolve) => waiting.push(resolve));
      },
    },
    close: () => lines.close(),
  };
}
