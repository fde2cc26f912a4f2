/** Another bottle for a sleeve that was calibrated before: its load matrix is reused, its zeros and the bottle are measured again. */
import { PlainError } from '../../base/errors.ts';
import { type BottleWay, planOf } from './plan.ts';
import type { WalkState } from './walk-state.ts';

export interface AnotherBottle {
  name: string;
  way: BottleWay;
  outlineMm: [number, number][] | null;
  fillToleranceGrams: number;
}

/**
 * @param done a finished walk with any bottle; it is not changed
 * @returns a walk of which only the empty sleeve in three poses and the bottle still have to be measured
 * @throws PlainError walk-unfinished
 */
export function withAnotherBottle(done: WalkState, bottle: AnotherBottle): WalkState {
  const plan = { ...done.plan, bottle: bottle.way, anew: true };
  const again = new Set(
    planOf(plan).flatMap(({ id, kind }) => (kind === 'bottle' || id.startsWith('return-') ? [id] : [])),
  );
  const kept = planOf(plan).filter(({ id }) => !again.has(id));
  const open = kept.filter(({ id }) => !done.holds[id] && !done.skipped.includes(id));
  if (open.length > 0) {
    throw new PlainError(
      'walk-unfinished',
      `The calibration of sleeve ${done.sleeveId} was not finished: ${open.length} steps are still open.`,
      'Finish it first, then calibrate the other bottle.',
    );
  }
  const steps = new Set(kept.map(({ id }) => id));
  return {
    ...done,
    plan,
    holds: Object.fromEntries(Object.entries(done.holds).filter(([id]) => steps.has(id))),
    skipped: done.skipped.filter((id) => steps.has(id)),
    fillsGrams: {},
    fillToleranceGrams: bottle.fillToleranceGrams,
    outlineMm: bottle.outlineMm,
    bottleName: bottle.name,
    teatTipZMm: null,
  };
}
