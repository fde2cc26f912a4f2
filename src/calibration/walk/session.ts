/**
 * The guided walk as a state machine: plain data in, plain data out. Everything entered stays, also across a restart; every step can be
 * taken again without starting over.
 */
import { PlainError } from '../../base/errors.ts';
import {
  emptyBottleFault,
  type Fault,
  faultsOfHold,
  fillFault,
  leavesNothing,
  missingBottleFault,
  poseFault,
  stillCellFault,
} from '../check/faults.ts';
import { emptyBaseline, leftFault, massFault } from '../check/mass-faults.ts';
import { type AccelerometerFit, feltDirection, fitEllipsoid, orient } from '../fit/accelerometer.ts';
import { type BalanceFit, type BalanceObservation, fitBalance } from '../fit/balance.ts';
import { weightOf } from '../fit/bottle.ts';
import { type Determinacy, determinacyOf } from '../fit/determinacy.ts';
import type { Hold, Triple } from './hold.ts';
import {
  askedDirection,
  type BottleStep,
  type PlanOptions,
  type PoseStep,
  planOf,
  type Step,
  USUAL_PLAN,
} from './plan.ts';
import { EXAMPLE_DESIGN, POSES, type SleeveDesign, USUAL_TOLERANCE } from './sleeve-design.ts';

export interface Session {
  version: 1;
  sleeveId: string;
  sleeveNumber: number | null;
  simulated: boolean;
  /** What is expected of it; left out: the contract's example. */
  design?: SleeveDesign;
  startedAt: string;
  plan: PlanOptions;
  /** Stacks, g, as weighed. */
  massesGrams: Record<string, number>;
  /** Fillings, g of water as weighed, by their nominal mL; and how far they may be off. */
  fillsGrams: Record<string, number>;
  fillToleranceGrams: number;
  /** Weight, g, of what carries the masses: it stays in whenever the sleeve is to be empty. Left out: nothing does. */
  holderGrams?: number;
  /** Drawn inner outline; null: the generic one. */
  outlineMm: [number, number][] | null;
  bottleName: string;
  teatTipZMm: number | null;
  ambientCelsius: number | null;
  holds: Record<string, Hold>;
  skipped: string[];
}

export interface SessionStart {
  sleeveId: string;
  sleeveNumber?: number | null;
  simulated?: boolean;
  startedAt: string;
  plan?: PlanOptions;
}

export function startSession({
  sleeveId,
  sleeveNumber = null,
  simulated = false,
  startedAt,
  plan = USUAL_PLAN,
}: SessionStart): Session {
  return {
    version: 1,
    sleeveId,
    sleeveNumber,
    simulated,
    startedAt,
    plan,
    massesGrams: {},
    fillsGrams: {},
    fillToleranceGrams: 0.1,
    outlineMm: null,
    bottleName: 'bottle',
    teatTipZMm: null,
    ambientCelsius: null,
    holds: {},
    skipped: [],
  };
}

/** A walk that was begun with another sleeve must not go on with this one. @throws PlainError session-other-sleeve */
export function requireSameSleeve(session: Session, sleeveNumber: number | null): void {
  if (session.sleeveNumber === null || sleeveNumber === null || session.sleeveNumber === sleeveNumber) return;
  throw new PlainError(
    'session-other-sleeve',
    `This calibration was begun with sleeve ${session.sleeveNumber}, but sleeve ${sleeveNumber} is connected.`,
    'Connect the first sleeve again, or begin a new calibration for this one.',
  );
}

const designOf = ({ design }: Session): SleeveDesign => design ?? EXAMPLE_DESIGN;

export const stepsOf = (session: Session): Step[] => planOf(session.plan);

/** @returns the next step wanted, or null when all are taken or skipped */
export function nextStep(session: Session): Step | null {
  return stepsOf(session).find(({ id }) => !session.holds[id] && !session.skipped.includes(id)) ?? null;
}

export function progressOf(session: Session): { done: number; of: number } {
  const steps = stepsOf(session);
  return {
    done: steps.filter(({ id }) => session.holds[id] || session.skipped.includes(id)).length,
    of: steps.length,
  };
}

export interface Taken {
  /** With the hold in it when there are no faults; unchanged otherwise. */
  session: Session;
  faults: Fault[];
}

/**
 * Takes one hold for one step; with a fault it is not kept and the step stays open.
 * @param anyway keep it in spite of its faults: the person insists
 */
export function takeHold(session: Session, step: Step, hold: Hold, { anyway = false } = {}): Taken {
  const faults = faultsOfHold(hold, designOf(session));
  if (faults.length === 0) faults.push(...faultsInPlace(session, step, hold));
  if (faults.length > 0 && (!anyway || faults.some(leavesNothing))) return { session, faults };
  const next: Session = {
    ...session,
    holds: { ...session.holds, [step.id]: hold },
    skipped: session.skipped.filter((id) => id !== step.id),
  };
  return { session: next, faults };
}

export const skipStep = (session: Session, id: string): Session => ({
  ...session,
  skipped: [...session.skipped, id],
});

/** Opens a step again; with a mass, all holds of the same putting on. */
export function repeatStep(session: Session, id: string): Session {
  const step = stepsOf(session).find((one) => one.id === id);
  const placement = step?.kind === 'pose' ? step.placed?.placement : undefined;
  const open = stepsOf(session)
    .filter(
      (one) =>
        one.id === id ||
        (placement !== undefined && one.kind === 'pose' && one.placed?.placement === placement),
    )
    .map((one) => one.id);
  const holds = Object.fromEntries(Object.entries(session.holds).filter(([key]) => !open.includes(key)));
  return { ...session, holds, skipped: session.skipped.filter((key) => !open.includes(key)) };
}

/** Opens every pose again, as after a plug was changed; weights and the bottle's holds stay. */
export function repeatPoses(session: Session): Session {
  const poses = stepsOf(session).flatMap(({ id, kind }) => (kind === 'bottle' ? [] : [id]));
  const holds = Object.fromEntries(Object.entries(session.holds).filter(([id]) => !poses.includes(id)));
  return { ...session, holds, skipped: session.skipped.filter((id) => !poses.includes(id)) };
}

function faultsInPlace(session: Session, step: Step, hold: Hold): Fault[] {
  const still =
    step.kind === 'bottle'
      ? null
      : stillCellFault([...Object.values(session.holds), hold], designOf(session));
  if (still) return [still];
  const accelerometer = accelerometerSoFar(session);
  if (!accelerometer) return [];
  const felt = feltDirection(accelerometer, hold.accelerometer);
  const posed = poseFault(felt, askedDirection(step));
  if (posed) return [posed];
  if (step.kind === 'bottle') return bottleFaults(session, step, hold, accelerometer);
  if (step.kind !== 'pose') return [];
  if (!step.placed) return leftFaults(session, hold, felt, accelerometer);
  const massGrams = session.massesGrams[step.placed.stack];
  const baseline = baselineSoFar(session, accelerometer);
  if (massGrams === undefined || !baseline) return [];
  const balance = determinacySoFar(session).determined ? balanceSoFar(session, accelerometer) : null;
  const wrong = massFault(hold, felt, { massGrams, mark: step.placed.mark }, baseline, balance);
  return wrong ? [wrong] : [];
}

function leftFaults(session: Session, hold: Hold, felt: Triple, accelerometer: AccelerometerFit): Fault[] {
  const baseline = baselineSoFar(session, accelerometer);
  const left = baseline && leftFault(hold, felt, baseline);
  return left ? [left] : [];
}

function bottleFaults(
  session: Session,
  step: BottleStep,
  hold: Hold,
  accelerometer: AccelerometerFit,
): Fault[] {
  if (!determinacySoFar(session).determined) return [];
  const balance = balanceSoFar(session, accelerometer);
  if (!balance) return [];
  const weighed = weightOf(balance, hold);
  const missing = missingBottleFault(weighed - (balance.cupMassGrams - (session.holderGrams ?? 0)));
  if (missing) return [missing];
  const empty = session.holds['bottle-empty-0'];
  if (!empty || step.id === 'bottle-empty-0') return [];
  const more = weighed - weightOf(balance, empty);
  const told = step.fill === null ? 0 : session.fillsGrams[step.fill];
  if (told === undefined) return [];
  const wrong =
    step.fill === null ? emptyBottleFault(more) : fillFault(more, told, session.fillToleranceGrams);
  return wrong ? [wrong] : [];
}

/** Holds of the load part so far, in the order of the walk. */
export function poseHolds(session: Session): { step: PoseStep; hold: Hold }[] {
  return stepsOf(session).flatMap((step) => {
    const hold = session.holds[step.id];
    return step.kind === 'pose' && hold ? [{ step, hold }] : [];
  });
}

/** Observations of the load fit: poses whose mass, if any, has been typed in. */
export function observationsOf(session: Session): BalanceObservation[] {
  return poseHolds(session).flatMap(({ step, hold }): BalanceObservation[] => {
    if (!step.placed) return [{ hold, pose: step.pose, placed: null }];
    const massGrams = session.massesGrams[step.placed.stack];
    return massGrams === undefined ? [] : [{ hold, pose: step.pose, placed: { ...step.placed, massGrams } }];
  });
}

/** Null until the six poses of the empty sleeve are there. @throws PlainError when they do not fit */
export function accelerometerSoFar(session: Session): AccelerometerFit | null {
  const poses = poseHolds(session);
  if (poses.filter(({ step }) => !step.placed).length < 6) return null;
  const leans = stepsOf(session).flatMap((step) =>
    step.kind === 'lean' && session.holds[step.id] ? [session.holds[step.id]!] : [],
  );
  const fit = fitEllipsoid(
    [...poses.map(({ hold }) => hold), ...leans].map(({ accelerometer }) => accelerometer),
  );
  return orient(
    fit,
    poses.map(({ step, hold }) => ({ reading: hold.accelerometer, sleeve: POSES[step.pose].f })),
  );
}

function baselineSoFar(session: Session, accelerometer: AccelerometerFit) {
  const empties = poseHolds(session).filter(({ step }) => !step.placed);
  return emptyBaseline(
    empties.map(({ hold }) => ({ hold, felt: feltDirection(accelerometer, hold.accelerometer) })),
    designOf(session),
  );
}

export function determinacySoFar(session: Session): Determinacy {
  return determinacyOf(observationsOf(session));
}

export function balanceSoFar(session: Session, accelerometer: AccelerometerFit): BalanceFit | null {
  const observations = observationsOf(session);
  return observations.length === 0
    ? null
    : fitBalance(observations, accelerometer, USUAL_TOLERANCE, designOf(session));
}
