/** From a walk to its outcome, as often as it takes, and what is said at the end. */

import { PlainError } from '../../base/errors.ts';
import { Random } from '../../base/random.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { gyroscopeWords } from '../../calibration/fit/gyroscope.ts';
import { nextCheckDueOf } from '../../calibration/walk/noted.ts';
import { type Outcome, outcomeOf } from '../../calibration/walk/outcome.ts';
import { GENERIC_PROFILE_MM } from '../../calibration/walk/profile.ts';
import { stepsOf } from '../../calibration/walk/walk-so-far.ts';
import { repeatStep, type WalkState } from '../../calibration/walk/walk-state.ts';
import { BUILT_ACCELEROMETER_MM } from '../sleeve/built-sleeve.ts';
import { type Talk, walkThrough } from './guided-walk.ts';
import type { HoldSource } from './hold-source.ts';
import { teatTipFor } from './teat-tip-asked.ts';

/** Continues the walk until a result can be computed; steps that the last fit finds wrong can be repeated. */
export async function madeOutcome(
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

export function closingWords(
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
    `Next check due: ${nextCheckDueOf(calibration)}`,
    `Written: ${files.join(', ')}`,
  ].join('\n');
}
