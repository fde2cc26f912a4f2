/** Intermediate result of a walk: what is determined, what is left over, which placements look wrong. */
import type { Determinacy } from '../fit/determinacy.ts';
import { accelerometerSoFar, balanceSoFar, determinacySoFar, poseHolds } from '../walk/walk-so-far.ts';
import { progressOf, type WalkState } from '../walk/walk-state.ts';

/** Intermediate result, for the live view. */
export interface FitSoFar {
  progress: { done: number; of: number };
  determinacy: Determinacy;
  /** By step, the largest residual of the three cells, g; empty until the fit can be made. */
  residualGrams: { id: string; grams: number }[];
  /** Placements that look further off their mark than the tolerance allows. */
  suspect: { placement: string; stepId: string; offMm: number }[];
}

const SUSPECT_SIGMAS = 4;

export function fitSoFar(walk: WalkState): FitSoFar {
  const determinacy = determinacySoFar(walk);
  const progress = progressOf(walk);
  const accelerometer = accelerometerSoFar(walk);
  const balance = accelerometer && determinacy.determined ? balanceSoFar(walk, accelerometer) : null;
  if (!balance) return { progress, determinacy, residualGrams: [], suspect: [] };
  const fitted = poseHolds(walk).filter(
    ({ step }) => !step.placed || walk.massesGrams[step.placed.stack] !== undefined,
  );
  // Least squares spreads one gross error over its neighbors, so only the worst are named.
  const worst = Math.max(0, ...balance.placements.map(({ sigmas }) => sigmas));
  return {
    progress,
    determinacy,
    residualGrams: fitted.map(({ step }, k) => ({
      id: step.id,
      grams: Math.max(...balance.residualGrams[k]!.map(Math.abs)),
    })),
    suspect: balance.placements
      .filter(({ sigmas }) => sigmas > Math.max(SUSPECT_SIGMAS, 0.6 * worst))
      .map(({ placement, offXMm, offZMm }) => ({
        placement,
        stepId: fitted.find(({ step }) => step.placed?.placement === placement)!.step.id,
        offMm: Math.hypot(offXMm, offZMm),
      })),
  };
}
