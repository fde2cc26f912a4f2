/** The calibration walk: which holds are measured, in which order, and what the person is told at each. */
import { tripleOf } from '../../base/typed.ts';
import { MARKS, type MarkName, POSES, type PoseName, WALK_MARKS } from './sleeve-design.ts';

export interface PoseStep {
  kind: 'pose';
  id: string;
  pose: PoseName;
  /** Holds of one placement follow each other without taking the mass off. */
  placed: { stack: string; mark: MarkName; placement: string } | null;
}
/** A leaning pose with the empty sleeve, for the accelerometer's skew only. */
export interface LeanStep {
  kind: 'lean';
  id: string;
  f: readonly [number, number, number];
}
/** The bottle in the sleeve, empty or filled, leaning by an angle from upright (180: nipple straight down). */
export interface BottleStep {
  kind: 'bottle';
  id: string;
  fill: string | null;
  tiltDeg: number;
}
export type Step = PoseStep | LeanStep | BottleStep;

/** How the inner profile of the bottle is found: not at all (the outline is trusted), by two marks and two holds each, or thoroughly. */
export type BottleWay = 'outline' | 'two-minutes' | 'thorough';

export interface PlanOptions {
  /** How often the mass is put on: the more often, the less a single placement counts. */
  placements: number;
  stacks: readonly string[];
  bottle: BottleWay;
  /** Another bottle for a sleeve that was calibrated before: only the zeros are measured again, then the bottle. */
  anew?: boolean;
}

export const USUAL_PLAN: PlanOptions = { placements: 12, stacks: ['A', 'B'], bottle: 'thorough' };

/** Order of the six poses: the most informative ones first. */
const SIX: readonly PoseName[] = ['upright', 'level', 'down', 'level-over', 'left-side', 'right-side'];
const RETURN: readonly PoseName[] = ['upright', 'level', 'down'];

const FILLS: Record<BottleWay, readonly { fill: string; tilts: readonly number[] }[]> = {
  outline: [],
  'two-minutes': [
    { fill: '60', tilts: [45, 120] },
    { fill: '120', tilts: [45, 120] },
  ],
  thorough: [
    { fill: '60', tilts: [45, 90, 120, 150] },
    { fill: '150', tilts: [45, 90, 120, 150] },
    { fill: '230', tilts: [45, 90, 120] },
  ],
};

/**
 * The whole walk: the empty sleeve in six poses, a tumble of leaning poses, the mass put on again and again at both ends, the empty
 * sleeve once more, then the bottle.
 */
export function planOf({ placements, stacks, bottle, anew = false }: PlanOptions): Step[] {
  return [
    ...emptySteps(),
    ...leanSteps(),
    ...massSteps(placements, stacks),
    lastEmpty(),
    ...(anew ? returnSteps() : []),
    ...bottleSteps(bottle),
  ];
}

const emptySteps = (): PoseStep[] =>
  SIX.map((pose) => ({ kind: 'pose', id: `empty-${pose}`, pose, placed: null }));

const lastEmpty = (): PoseStep => ({ kind: 'pose', id: 'empty-again', pose: 'upright', placed: null });

/** The empty sleeve once more, since its zeros have drifted. */
const returnSteps = (): PoseStep[] =>
  RETURN.map((pose) => ({ kind: 'pose', id: `return-${pose}`, pose, placed: null }));

function leanSteps(): LeanStep[] {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? 1 : -1, i & 2 ? 1 : -1, i & 4 ? 1 : -1]);
  return [...corners, [1, 1, 0], [1, -1, 0], [0, 1, 1], [1, 0, 1]].map((v, i) => {
    const size = Math.hypot(...v);
    return {
      kind: 'lean',
      id: `lean-${i + 1}`,
      f: tripleOf(v.map((entry) => entry / size)),
    };
  });
}

function massSteps(placements: number, stacks: readonly string[]): PoseStep[] {
  const steps: PoseStep[] = [];
  for (let turn = 0; turn < placements; turn++) {
    const placed = {
      stack: stacks[Math.floor(turn / 2) % stacks.length]!,
      mark: WALK_MARKS[turn % 2]!,
      placement: `${turn + 1}`,
    };
    const usual: PoseName[] = Math.floor(turn / 2) % 2 === 0 ? ['upright', 'level'] : ['down', 'level-over'];
    const poses: PoseName[] = turn < 2 ? [...usual, 'left-side', 'right-side'] : usual;
    for (const pose of poses) steps.push({ kind: 'pose', id: `mass-${turn + 1}-${pose}`, pose, placed });
  }
  return steps;
}

function bottleSteps(way: BottleWay): BottleStep[] {
  const empty = (way === 'thorough' ? [0, 90, 180] : [0, 90]).map(
    (tiltDeg): BottleStep => ({ kind: 'bottle', id: `bottle-empty-${tiltDeg}`, fill: null, tiltDeg }),
  );
  const filled = FILLS[way].flatMap(({ fill, tilts }) =>
    tilts.map((tiltDeg): BottleStep => ({ kind: 'bottle', id: `bottle-${fill}-${tiltDeg}`, fill, tiltDeg })),
  );
  return [...empty, ...filled];
}

/** Felt direction that a step asks for, sleeve axes. */
export function askedDirection(step: Step): readonly [number, number, number] {
  if (step.kind === 'pose') return POSES[step.pose].f;
  if (step.kind === 'lean') return step.f;
  const tilt = (step.tiltDeg * Math.PI) / 180;
  return [Math.sin(tilt), 0, Math.cos(tilt)];
}

/** What to do now, in plain words. @param before the step before, so that only changes are mentioned */
export function stepWords(
  step: Step,
  before: Step | null,
  amounts: Readonly<Record<string, string>> = {},
  holder = false,
): string {
  if (step.kind === 'lean')
    return `Empty sleeve: lean it ${leanWords(step.f)}. Rest it against something and keep it still.`;
  if (step.kind === 'bottle')
    return `${bottleWords(step, before, amounts, holder)} Hold it ${tiltWords(step.tiltDeg)}. Keep it still.`;
  return `${massWords(step, before, amounts, holder)} Hold the sleeve ${POSES[step.pose].words}. Keep it still.`;
}

function massWords(
  { placed }: PoseStep,
  before: Step | null,
  amounts: Readonly<Record<string, string>>,
  holder: boolean,
): string {
  const last = before?.kind === 'pose' ? before.placed : null;
  if (!placed)
    return last || before === null
      ? `Take everything out; only the inner cup${holder ? ' and the empty tube stay' : ' stays'} in the sleeve.`
      : 'Sleeve still empty.';
  if (last?.placement === placed.placement) return 'Leave the mass where it is.';
  const again = last?.mark === placed.mark ? ' Take it off and put it on anew.' : '';
  const amount = amounts[placed.stack] ? ` (${amounts[placed.stack]})` : '';
  return `Put mass ${placed.stack}${amount} at ${MARKS[placed.mark].words}, as exactly as you can.${again}`;
}

function bottleWords(
  { fill }: BottleStep,
  before: Step | null,
  amounts: Readonly<Record<string, string>>,
  holder: boolean,
): string {
  const last = before?.kind === 'bottle' ? before.fill : undefined;
  if (fill === null)
    return last === null
      ? 'Bottle still empty.'
      : `${holder ? 'Take the tube out. ' : ''}Put the dry, empty bottle with its nipple into the sleeve.`;
  if (last === fill) return 'Same filling.';
  return `Fill about ${amounts[fill] ?? `${fill} mL`} of water into the bottle, weigh what you filled in, close it.`;
}

function leanWords([x, y, z]: readonly [number, number, number]): string {
  const parts = [
    z > 0.1 ? 'nipple end up' : z < -0.1 ? 'nipple end down' : 'lying',
    x > 0.1 ? 'grip low' : x < -0.1 ? 'grip high' : '',
    y > 0.1 ? 'rolled to its left side' : y < -0.1 ? 'rolled to its right side' : '',
  ];
  return parts.filter(Boolean).join(', ');
}

function tiltWords(tiltDeg: number): string {
  if (tiltDeg < 10) return 'upright';
  if (tiltDeg < 60) return 'leaning halfway over, grip underneath';
  if (tiltDeg < 100) return 'level, grip underneath';
  if (tiltDeg < 135) return 'with the nipple a little lower than level, grip underneath';
  if (tiltDeg < 170) return 'with the nipple steeply down, grip underneath';
  return 'nipple straight down';
}
