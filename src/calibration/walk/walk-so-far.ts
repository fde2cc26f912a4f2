/** Intermediate results of a walk: steps, fits, what is determined. */
import { emptyBaseline } from '../check/mass-faults.ts';
import { type AccelerometerFit, feltDirection, fitEllipsoid, orient } from '../fit/accelerometer.ts';
import { type BalanceFit, type BalanceObservation, fitBalance } from '../fit/balance.ts';
import { type Determinacy, determinacyOf } from '../fit/determinacy.ts';
import type { Hold } from './hold.ts';
import { type PoseStep, planOf, type Step } from './plan.ts';
import { EXAMPLE_DESIGN, POSES, type SleeveDesign, USUAL_TOLERANCE } from './sleeve-design.ts';
import type { WalkState } from './walk-state.ts';

export const designOf = ({ design }: WalkState): SleeveDesign => design ?? EXAMPLE_DESIGN;

export const stepsOf = (walk: WalkState): Step[] => planOf(walk.plan);

/** Holds of the load part of the walk so far, in the order of the walk. */
export function poseHolds(walk: WalkState): { step: PoseStep; hold: Hold }[] {
  return stepsOf(walk).flatMap((step) => {
    const hold = walk.holds[step.id];
    return step.kind === 'pose' && hold ? [{ step, hold }] : [];
  });
}

/** Observations of the load fit: poses whose mass, if any, has been typed in. */
export function observationsOf(walk: WalkState): BalanceObservation[] {
  return poseHolds(walk).flatMap(({ step, hold }): BalanceObservation[] => {
    if (!step.placed) return [{ hold, pose: step.pose, placed: null }];
    const massGrams = walk.massesGrams[step.placed.stack];
    return massGrams === undefined ? [] : [{ hold, pose: step.pose, placed: { ...step.placed, massGrams } }];
  });
}

/** Null until the six poses of the empty sleeve are measured. @throws PlainError when they contradict each other */
export function accelerometerSoFar(walk: WalkState): AccelerometerFit | null {
  const poses = poseHolds(walk);
  if (poses.filter(({ step }) => !step.placed).length < 6) return null;
  const leans = stepsOf(walk).flatMap((step) =>
    step.kind === 'lean' && walk.holds[step.id] ? [walk.holds[step.id]!] : [],
  );
  const fit = fitEllipsoid(
    [...poses.map(({ hold }) => hold), ...leans].map(({ accelerometer }) => accelerometer),
  );
  return orient(
    fit,
    poses.map(({ step, hold }) => ({ reading: hold.accelerometer, sleeve: POSES[step.pose].f })),
  );
}

export function baselineSoFar(walk: WalkState, accelerometer: AccelerometerFit) {
  const empties = poseHolds(walk).filter(({ step }) => !step.placed);
  return emptyBaseline(
    empties.map(({ hold }) => ({ hold, felt: feltDirection(accelerometer, hold.accelerometer) })),
    designOf(walk),
  );
}

export function determinacySoFar(walk: WalkState): Determinacy {
  return determinacyOf(observationsOf(walk));
}

export function balanceSoFar(walk: WalkState, accelerometer: AccelerometerFit): BalanceFit | null {
  const observations = observationsOf(walk);
  return observations.length === 0
    ? null
    : fitBalance(observations, accelerometer, USUAL_TOLERANCE, designOf(walk));
}
