/**
 * The guided walk as a state machine: plain data in, plain data out. All entries are stored, so a restart loses nothing; every step can be
 * repeated without starting over.
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
import { leftFault, massFault } from '../check/mass-faults.ts';
import { type AccelerometerFit, feltDirection } from '../fit/accelerometer.ts';
import { weightOf } from '../fit/bottle.ts';
import type { Hold, Triple } from './hold.ts';
import { askedDirection, type BottleStep, type PlanOptions, type Step, USUAL_PLAN } from './plan.ts';
import type { SleeveDesign } from './sleeve-design.ts';
import {
  accelerometerSoFar,
  balanceSoFar,
  baselineSoFar,
  designOf,
  determinacySoFar,
  stepsOf,
} from './walk-so-far.ts';

export interface WalkState {
  version: 1;
  sleeveId: string;
  sleeveNumber: number | null;
  simulated: boolean;
  /** Expected properties; absent: the contract's example. */
  design?: SleeveDesign;
  startedAt: string;
  plan: PlanOptions;
  /** Weights of the stacks as measured, g. */
  massesGrams: Record<string, number>;
  /** Fillings: grams of water as weighed, by nominal mL; and their tolerance. */
  fillsGrams: Record<string, number>;
  fillToleranceGrams: number;
  /** Weight, g, of what carries the masses: it stays in the sleeve when that should be empty. Absent: no holder. */
  holderGrams?: number;
  /** Drawn inner outline; null: the generic one. */
  outlineMm: [number, number][] | null;
  bottleName: string;
  teatTipZMm: number | null;
  ambientCelsius: number | null;
  holds: Record<string, Hold>;
  skipped: string[];
}

export interface WalkStart {
  sleeveId: string;
  sleeveNumber?: number | null;
  simulated?: boolean;
  startedAt: string;
  plan?: PlanOptions;
}

export function startWalk({
  sleeveId,
  sleeveNumber = null,
  simulated = false,
  startedAt,
  plan = USUAL_PLAN,
}: WalkStart): WalkState {
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

/** A walk that was begun with another sleeve must not continue with this one. @throws PlainError walk-other-sleeve */
export function requireSameSleeve(walk: WalkState, sleeveNumber: number | null): void {
  if (walk.sleeveNumber === null || sleeveNumber === null || walk.sleeveNumber === sleeveNumber) return;
  throw new PlainError(
    'walk-other-sleeve',
    `This calibration was begun with sleeve ${walk.sleeveNumber}, but sleeve ${sleeveNumber} is connected.`,
    'Connect the first sleeve again, or begin a new calibration for this one.',
  );
}

/** @returns the next step wanted, or null when all are taken or skipped */
export function nextStep(walk: WalkState): Step | null {
  return stepsOf(walk).find(({ id }) => !walk.holds[id] && !walk.skipped.includes(id)) ?? null;
}

export function progressOf(walk: WalkState): { done: number; of: number } {
  const steps = stepsOf(walk);
  return {
    done: steps.filter(({ id }) => walk.holds[id] || walk.skipped.includes(id)).length,
    of: steps.length,
  };
}

export interface Taken {
  /** The walk with the hold in it; unchanged when there are faults. */
  walk: WalkState;
  faults: Fault[];
}

/**
 * Takes one hold for one step; with a fault it is not stored and the step stays open.
 * @param anyway store it in spite of its faults, because the person insists
 */
export function takeHold(walk: WalkState, step: Step, hold: Hold, { anyway = false } = {}): Taken {
  const faults = faultsOfHold(hold, designOf(walk));
  if (faults.length === 0) faults.push(...faultsInPlace(walk, step, hold));
  if (faults.length > 0 && (!anyway || faults.some(leavesNothing))) return { walk, faults };
  const next: WalkState = {
    ...walk,
    holds: { ...walk.holds, [step.id]: hold },
    skipped: walk.skipped.filter((id) => id !== step.id),
  };
  return { walk: next, faults };
}

export const skipStep = (walk: WalkState, id: string): WalkState => ({
  ...walk,
  skipped: [...walk.skipped, id],
});

/** Opens a step again; with a mass, all holds of the same placement. */
export function repeatStep(walk: WalkState, id: string): WalkState {
  const step = stepsOf(walk).find((one) => one.id === id);
  const placement = step?.kind === 'pose' ? step.placed?.placement : undefined;
  const open = stepsOf(walk)
    .filter(
      (one) =>
        one.id === id ||
        (placement !== undefined && one.kind === 'pose' && one.placed?.placement === placement),
    )
    .map((one) => one.id);
  const holds = Object.fromEntries(Object.entries(walk.holds).filter(([key]) => !open.includes(key)));
  return { ...walk, holds, skipped: walk.skipped.filter((key) => !open.includes(key)) };
}

/** Opens every pose again, for example after a plug was changed; weights and the bottle's holds stay. */
export function repeatPoses(walk: WalkState): WalkState {
  const poses = stepsOf(walk).flatMap(({ id, kind }) => (kind === 'bottle' ? [] : [id]));
  const holds = Object.fromEntries(Object.entries(walk.holds).filter(([id]) => !poses.includes(id)));
  return { ...walk, holds, skipped: walk.skipped.filter((id) => !poses.includes(id)) };
}

function faultsInPlace(walk: WalkState, step: Step, hold: Hold): Fault[] {
  const still =
    step.kind === 'bottle' ? null : stillCellFault([...Object.values(walk.holds), hold], designOf(walk));
  if (still) return [still];
  const accelerometer = accelerometerSoFar(walk);
  if (!accelerometer) return [];
  const felt = feltDirection(accelerometer, hold.accelerometer);
  const posed = poseFault(felt, askedDirection(step));
  if (posed) return [posed];
  if (step.kind === 'bottle') return bottleFaults(walk, step, hold, accelerometer);
  if (step.kind !== 'pose') return [];
  if (!step.placed) return leftFaults(walk, hold, felt, accelerometer);
  const massGrams = walk.massesGrams[step.placed.stack];
  const baseline = baselineSoFar(walk, accelerometer);
  if (massGrams === undefined || !baseline) return [];
  const balance = determinacySoFar(walk).determined ? balanceSoFar(walk, accelerometer) : null;
  const wrong = massFault(hold, felt, { massGrams, mark: step.placed.mark }, baseline, balance);
  return wrong ? [wrong] : [];
}

function leftFaults(walk: WalkState, hold: Hold, felt: Triple, accelerometer: AccelerometerFit): Fault[] {
  const baseline = baselineSoFar(walk, accelerometer);
  const left = baseline && leftFault(hold, felt, baseline);
  return left ? [left] : [];
}

function bottleFaults(
  walk: WalkState,
  step: BottleStep,
  hold: Hold,
  accelerometer: AccelerometerFit,
): Fault[] {
  if (!determinacySoFar(walk).determined) return [];
  const balance = balanceSoFar(walk, accelerometer);
  if (!balance) return [];
  const weighed = weightOf(balance, hold);
  const missing = missingBottleFault(weighed - (balance.cupMassGrams - (walk.holderGrams ?? 0)));
  if (missing) return [missing];
  const empty = walk.holds['bottle-empty-0'];
  if (!empty || step.id === 'bottle-empty-0') return [];
  const more = weighed - weightOf(balance, empty);
  const told = step.fill === null ? 0 : walk.fillsGrams[step.fill];
  if (told === undefined) return [];
  const wrong = step.fill === null ? emptyBottleFault(more) : fillFault(more, told, walk.fillToleranceGrams);
  return wrong ? [wrong] : [];
}
