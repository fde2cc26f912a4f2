/** Walks a person through a calibration: says each step, takes it, shows how the fit stands, names what went wrong. */

import type { HoldSource } from '../../app/calibration/hold-source.ts';
import { PlainError } from '../../base/errors.ts';
import { standingOf } from '../../calibration/check/standing.ts';
import { neededWords } from '../../calibration/fit/determinacy.ts';
import { type TeatTipFit, teatTipFromPushes } from '../../calibration/fit/teat-tip.ts';
import { enterFill, enterMass, gramsFromText } from '../../calibration/walk/entries.ts';
import { type Fits, fitsOf } from '../../calibration/walk/outcome.ts';
import { type Step, stepWords } from '../../calibration/walk/plan.ts';
import {
  nextStep,
  progressOf,
  repeatPoses,
  repeatStep,
  type Session,
  skipStep,
  stepsOf,
  takeHold,
} from '../../calibration/walk/session.ts';
import { MARKS } from '../../calibration/walk/sleeve-design.ts';

/** The terminal, or a script in its place. */
export interface Talk {
  say(text: string): void;
  /** @returns what was typed; null at the end of input */
  ask(question: string): Promise<string | null>;
}

export interface Walk {
  session: Session;
  source: HoldSource;
  talk: Talk;
  /** Called after every change. */
  keep(session: Session): void;
}

const inches = (mm: number): string => (mm / 25.4).toFixed(1);

/** What the masses are put on, said once. */
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

/** @returns the session with all steps done or skipped, or null when the person stopped */
export async function walkThrough(walk: Walk): Promise<Session | null> {
  let { session } = walk;
  const { talk, source } = walk;
  const change = (next: Session): void => {
    session = next;
    walk.keep(session);
  };
  let before: Step | null = null;
  for (let step = nextStep(session); step; step = nextStep(session)) {
    const weighed = await weightFor(session, step, talk, source);
    if (weighed === null) return null;
    if (weighed !== session) change(weighed);
    const { done, of } = progressOf(session);
    talk.say(
      `\n[${done + 1}/${of}] ${step.id}\n${stepWords(step, before, amountsOf(session), session.holderGrams !== undefined)}`,
    );
    const answer = await talk.ask('Enter when it is still (? for help): ');
    if (answer === null || answer === 'q') return null;
    try {
      const next = await obey(session, step, before, answer.trim(), { talk, source });
      if (next !== session) {
        if (next.holds[step.id]) before = step;
        change(next);
      }
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(error.text);
    }
  }
  return session;
}

async function obey(
  session: Session,
  step: Step,
  before: Step | null,
  answer: string,
  { talk, source }: Pick<Walk, 'talk' | 'source'>,
): Promise<Session> {
  const [word, ...rest] = answer.split(/\s+/);
  switch (word) {
    case '':
    case 'anyway':
      return taken(session, step, { talk, source }, word === 'anyway');
    case 's':
      talk.say(`Skipped; it can still be taken: repeat ${step.id}`);
      return skipStep(session, step.id);
    case 'b':
      return before ? repeatStep(session, before.id) : session;
    case 'repeat':
      if (!stepsOf(session).some(({ id }) => id === rest[0])) {
        talk.say(`There is no step "${rest[0] ?? ''}".`);
        return session;
      }
      return repeatStep(session, rest[0]!);
    case 'poses':
      return repeatPoses(session);
    case 'weigh':
      return weighAgain(session, rest[0] ?? '', talk);
    case 'show':
      showStanding(session, talk);
      return session;
    default:
      talk.say(HELP);
      return session;
  }
}

async function taken(
  session: Session,
  step: Step,
  { talk, source }: Pick<Walk, 'talk' | 'source'>,
  anyway: boolean,
): Promise<Session> {
  const hold = await source.take(step, session);
  const { session: next, faults } = takeHold(session, step, hold, { anyway });
  for (const { text, remedy } of faults) talk.say(`! ${text}\n  ${remedy}`);
  if (next === session) return session;
  const { determinacy, residualGrams, suspect } = standingOf(next);
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

function showStanding(session: Session, talk: Talk): void {
  const { determinacy, residualGrams } = standingOf(session);
  talk.say(
    determinacy.determined
      ? `The load matrix is determined (condition number ${determinacy.conditionNumber.toFixed(1)}).`
      : `Not enough yet: ${determinacy.lacking}. Most helpful next: ${neededWords(determinacy.needed!)}.`,
  );
  for (const { id, grams } of residualGrams) talk.say(`  ${id.padEnd(24)} ${grams.toFixed(2)} g`);
}

const amountsOf = (session: Session): Record<string, string> =>
  Object.fromEntries(
    [...Object.entries(session.massesGrams), ...Object.entries(session.fillsGrams)].map(([name, grams]) => [
      name,
      `${grams.toFixed(1)} g`,
    ]),
  );

/** What a step needs to have been weighed before it. @returns null when the person stopped */
async function weightFor(
  session: Session,
  step: Step,
  talk: Talk,
  source: HoldSource,
): Promise<Session | null> {
  const mass = step.kind === 'pose' ? step.placed?.stack : undefined;
  const fill = step.kind === 'bottle' ? step.fill : null;
  if (mass && session.massesGrams[mass] === undefined) {
    if (source.simulated) return enterMass(session, mass, 200);
    return askWeight(`Weight of mass ${mass} on the kitchen scale (about 200 g): `, talk, (grams) =>
      enterMass(session, mass, grams),
    );
  }
  if (fill && session.fillsGrams[fill] === undefined) {
    if (source.simulated || session.plan.bottle === 'two-minutes')
      return enterFill(session, fill, Number(fill));
    return askWeight(`Weight of about ${fill} mL of water, without the bottle: `, talk, (grams) =>
      enterFill(session, fill, grams),
    );
  }
  return session;
}

async function weighAgain(session: Session, name: string, talk: Talk): Promise<Session> {
  const enter = /^\d+$/.test(name) ? enterFill : enterMass;
  const next = await askWeight(`Weight of ${name}: `, talk, (grams) => enter(session, name, grams));
  return next ?? session;
}

async function askWeight(
  question: string,
  talk: Talk,
  enter: (grams: number) => Session,
): Promise<Session | null> {
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

/**
 * Height of the nipple's tip: typed in, or found by pushing at it.
 * @returns null when the person stopped
 */
export async function teatTipFor({
  session,
  source,
  talk,
}: Omit<Walk, 'keep'>): Promise<TeatTipFit | number | null> {
  if (session.teatTipZMm !== null) return session.teatTipZMm;
  if (source.teatTipZMm !== null) return source.teatTipZMm;
  const { balance, bottle }: Fits = fitsOf(session);
  for (;;) {
    const answer = await talk.ask(
      'Height of the nipple’s tip over the bottom of the bottle’s place, mm (or "push"): ',
    );
    if (answer === null || answer.trim() === 'q') return null;
    const typed = Number(answer);
    if (typed >= 60 && typed <= 300) return typed;
    if (answer.trim() !== 'push') {
      talk.say('Type a height of 60 to 300 mm, or "push".');
      continue;
    }
    const pushes = [];
    for (let i = 1; i <= 3; i++) {
      await talk.ask(
        `Push ${i} of 3: empty bottle, level, one finger pressing the tip upwards. Enter when it is steady: `,
      );
      pushes.push(await source.takePush(session));
    }
    try {
      return teatTipFromPushes(balance, pushes, {
        massGrams: bottle.emptyMassGrams,
        centreZMm: bottle.emptyCentreZMm,
      });
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      talk.say(error.text);
    }
  }
}
