/** Guides a person through a calibration: announces each step, measures it, shows the intermediate fit, and reports what went wrong. */

import { PlainError } from '../../base/errors.ts';
import { fitSoFar } from '../../calibration/check/fit-so-far.ts';
import { neededWords } from '../../calibration/fit/determinacy.ts';
import { enterFill, enterMass, gramsFromText } from '../../calibration/walk/entries.ts';
import { type Step, stepWords } from '../../calibration/walk/plan.ts';
import { MARKS } from '../../calibration/walk/sleeve-design.ts';
import { stepsOf } from '../../calibration/walk/walk-so-far.ts';
import {
  nextStep,
  progressOf,
  repeatPoses,
  repeatStep,
  skipStep,
  takeHold,
  type WalkState,
} from '../../calibration/walk/walk-state.ts';
import type { HoldSource } from './hold-source.ts';

/** A terminal, or a script in tests. */
export interface Talk {
  say(text: string): void;
  /** @returns what was typed; null at the end of input */
  ask(question: string): Promise<string | null>;
}

/** The simulated person takes every step; only what was found wrong is told. */
export function byItself(tell: (text: string) => void): Talk {
  let answers = 0;
  return {
    say: (text) => {
      if (text.startsWith('!')) tell(text);
    },
    // Each step is tried, and a refused one tried again; a walk that goes in circles ends.
    ask: async (question) => (question.startsWith('Enter') && answers++ < 500 ? '' : null),
  };
}

export interface GuidedWalk {
  walk: WalkState;
  source: HoldSource;
  talk: Talk;
  /** Called after every change. */
  keep(walk: WalkState): void;
}

const inches = (mm: number): string => (mm / 25.4).toFixed(1);

/** Explains the marks for the masses; said once. */
export const MARKS_TEXT = [
  `Masses go at two marks on the bottle’s axis: ${inches(MARKS.base.zMm)} in (${MARKS.base.zMm} mm) and ${inches(MARKS.nipple.zMm)} in (${MARKS.nipple.zMm} mm) above the bottom of the bottle’s place.`,
  'A stiff, light tube that sits in the cup as the bottle does, with both heights drawn on it, holds them: tape each mass so that its middle is at the mark.',
  'Weigh the empty tube, give it with --holder-grams, and leave it in whenever the sleeve is to be empty, until the bottle is asked for.',
].join('\n');

export const HELP = [
  'Enter takes the step. Or type:',
  '  s          skip this step            b          back: repeat the step before',
  '  repeat ID  repeat any step           poses      take all poses again, after a plug was changed',
  '                                       weigh X    type in the weight of mass or filling X again',
  '  anyway     keep the last hold in spite of what was found',
  '  show       how the fit stands        q          stop here; everything entered is kept',
].join('\n');

/** @returns the walk with all steps done or skipped, or null if the person stopped */
export async function walkThrough(guided: GuidedWalk): Promise<WalkState | null> {
  let { walk } = guided;
  const { talk, source } = guided;
  const change = (next: WalkState): void => {
    walk = next;
    guided.keep(walk);
  };
  let before: Step | null = null;
  for (let step = nextStep(walk); step; step = nextStep(walk)) {
    const weighed = await weightFor(walk, step, talk, source);
    if (weighed === null) return null;
    if (weighed !== walk) change(weighed);
    const { done, of } = progressOf(walk);
    talk.say(
      `\n[${done + 1}/${of}] ${step.id}\n${stepWords(step, before, amountsOf(walk), walk.holderGrams !== undefined)}`,
    );
    const answer = await talk.ask('Enter when it is still (? for help): ');
    if (answer === null || answer === 'q') return null;
    try {
      const next = await obey(walk, step, before, answer.trim(), { talk, source });
      if (next !== walk) {
        if (next.holds[step.id]) before = step;
        change(next);
      }
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(error.text);
    }
  }
  return walk;
}

async function obey(
  walk: WalkState,
  step: Step,
  before: Step | null,
  answer: string,
  { talk, source }: Pick<GuidedWalk, 'talk' | 'source'>,
): Promise<WalkState> {
  const [word, ...rest] = answer.split(/\s+/);
  switch (word) {
    case '':
    case 'anyway':
      return taken(walk, step, { talk, source }, word === 'anyway');
    case 's':
      talk.say(`Skipped; it can still be taken: repeat ${step.id}`);
      return skipStep(walk, step.id);
    case 'b':
      return before ? repeatStep(walk, before.id) : walk;
    case 'repeat':
      if (!stepsOf(walk).some(({ id }) => id === rest[0])) {
        talk.say(`There is no step "${rest[0] ?? ''}".`);
        return walk;
      }
      return repeatStep(walk, rest[0]!);
    case 'poses':
      return repeatPoses(walk);
    case 'weigh':
      return weighAgain(walk, rest[0] ?? '', talk);
    case 'show':
      showFit(walk, talk);
      return walk;
    default:
      talk.say(HELP);
      return walk;
  }
}

async function taken(
  walk: WalkState,
  step: Step,
  { talk, source }: Pick<GuidedWalk, 'talk' | 'source'>,
  anyway: boolean,
): Promise<WalkState> {
  const hold = await source.take(step, walk);
  const { walk: next, faults } = takeHold(walk, step, hold, { anyway });
  for (const { text, remedy } of faults) talk.say(`! ${text}\n  ${remedy}`);
  if (next === walk) return walk;
  const { determinacy, residualGrams, suspect } = fitSoFar(next);
  const mine = residualGrams.find(({ id }) => id === step.id);
  if (mine) {
    const largest = residualGrams.reduce((most, one) => (one.grams > most.grams ? one : most));
    talk.say(
      `  taken; residual ${mine.grams.toFixed(2)} g, largest so far ${largest.grams.toFixed(2)} g (${largest.id})`,
    );
  } else if (determinacy.needed && step.kind === 'pose') {
    talk.say(
      `  taken; not enough yet: ${determinacy.lacking}. Most helpful next: ${neededWords(determinacy.needed)}.`,
    );
  } else talk.say('  taken');
  for (const { stepId, offMm } of suspect) {
    talk.say(
      `! The mass of step ${stepId} seems to have been ${offMm.toFixed(1)} mm off its mark. Type: repeat ${stepId}`,
    );
  }
  return next;
}

function showFit(walk: WalkState, talk: Talk): void {
  const { determinacy, residualGrams } = fitSoFar(walk);
  talk.say(
    determinacy.determined
      ? `The load matrix is determined (condition number ${determinacy.conditionNumber.toFixed(1)}).`
      : `Not enough yet: ${determinacy.lacking}. Most helpful next: ${neededWords(determinacy.needed!)}.`,
  );
  for (const { id, grams } of residualGrams) talk.say(`  ${id.padEnd(24)} ${grams.toFixed(2)} g`);
}

const amountsOf = (walk: WalkState): Record<string, string> =>
  Object.fromEntries(
    [...Object.entries(walk.massesGrams), ...Object.entries(walk.fillsGrams)].map(([name, grams]) => [
      name,
      `${grams.toFixed(1)} g`,
    ]),
  );

/** Asks for the weight that a step needs. @returns null when the person stopped */
async function weightFor(
  walk: WalkState,
  step: Step,
  talk: Talk,
  source: HoldSource,
): Promise<WalkState | null> {
  const mass = step.kind === 'pose' ? step.placed?.stack : undefined;
  const fill = step.kind === 'bottle' ? step.fill : null;
  if (mass && walk.massesGrams[mass] === undefined) {
    if (source.simulated) return enterMass(walk, mass, 200);
    return askWeight(`Weight of mass ${mass} on the kitchen scale (about 200 g): `, talk, (grams) =>
      enterMass(walk, mass, grams),
    );
  }
  if (fill && walk.fillsGrams[fill] === undefined) {
    if (source.simulated || walk.plan.bottle === 'two-minutes') return enterFill(walk, fill, Number(fill));
    return askWeight(`Weight of about ${fill} mL of water, without the bottle: `, talk, (grams) =>
      enterFill(walk, fill, grams),
    );
  }
  return walk;
}

async function weighAgain(walk: WalkState, name: string, talk: Talk): Promise<WalkState> {
  const enter = /^\d+$/.test(name) ? enterFill : enterMass;
  const next = await askWeight(`Weight of ${name}: `, talk, (grams) => enter(walk, name, grams));
  return next ?? walk;
}

async function askWeight(
  question: string,
  talk: Talk,
  enter: (grams: number) => WalkState,
): Promise<WalkState | null> {
  for (;;) {
    const answer = await talk.ask(question);
    if (answer === null || answer.trim() === 'q') return null;
    try {
      return enter(gramsFromText(answer));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(error.text);
    }
  }
}
