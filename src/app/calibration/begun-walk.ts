/** Start of a calibration walk: from nothing, with another bottle for a calibrated sleeve, or continued. */
import { PlainError } from '../../base/errors.ts';
import { withAnotherBottle } from '../../calibration/walk/another-bottle.ts';
import { type BottleWay, USUAL_PLAN } from '../../calibration/walk/plan.ts';
import { requireSameSleeve, startWalk, type WalkState } from '../../calibration/walk/walk-state.ts';
import { DEFAULT_BOTTLE } from '../../simulation/bottle.ts';
import { BUILT_DESIGN } from '../sleeve/built-sleeve.ts';
import { MARKS_TEXT, type Talk } from './guided-walk.ts';
import { type HoldSource, serialHolds, simulatedHolds } from './hold-source.ts';
import { finishedWalk, forgetProgress, outlineFrom, progressFrom } from './walk-files.ts';

export interface WalkOptions {
  /** Simulated sleeve: same seed, same sleeve. */
  seed: number;
  /** Name of the bottle, and how its inner profile is found. */
  bottle: string;
  way: BottleWay;
  placements: number;
  airCelsius?: number;
  /** Weight of the holder that carries the masses and stays in the sleeve. */
  holderGrams?: number;
  /** A real sleeve; else the simulated one, also with nobody who takes the steps. */
  port?: string;
  simulated?: boolean;
  byItself?: boolean;
  /** File of a drawn outline. */
  outline?: string;
  /** A calibration of this sleeve with another bottle, as this command wrote it. */
  sleeveFrom?: string;
  /** Forgets what was begun before. */
  fresh?: boolean;
}

/** @throws PlainError calibrate-sleeve, calibrate-hands */
export function checkWalk({ port, simulated, byItself }: WalkOptions): void {
  if ((port === undefined) === !simulated) {
    throw new PlainError(
      'calibrate-sleeve',
      'Which sleeve is to be calibrated?',
      'Give its port with --port DEVICE, or try the walk with --simulated.',
    );
  }
  if (byItself && !simulated) {
    throw new PlainError('calibrate-hands', 'A real sleeve needs real hands.', 'Leave out --by-itself.');
  }
}

/** @returns where the holds come from, opened; and the walk to begin with, told to whoever walks */
export async function walkAsAsked(
  options: WalkOptions,
  progressPath: string,
): Promise<{ source: HoldSource; start(talk: Talk): WalkState }> {
  const { port, seed, outline, sleeveFrom, fresh } = options;
  if (fresh) forgetProgress(progressPath);
  const begun = progressFrom(progressPath);
  const before = sleeveFrom === undefined ? null : finishedWalk(sleeveFrom);
  const outlineMm = outline === undefined ? null : outlineFrom(outline);
  const source = await (port === undefined
    ? simulatedHolds(seed, begun ?? before, seed + (before ? 1 : 0))
    : serialHolds(port));
  return {
    source,
    start(talk) {
      if (begun) return walkTakenUp(begun, source, talk);
      if (before) return walkOfAnotherBottle(before, options, source, outlineMm);
      talk.say(MARKS_TEXT);
      return newWalk(options, source, outlineMm);
    },
  };
}

function newWalk(options: WalkOptions, source: HoldSource, outlineMm: [number, number][] | null): WalkState {
  const walk = startWalk({
    sleeveId: source.simulated ? `simulated-${options.seed}` : String(source.sleeveNumber),
    sleeveNumber: source.sleeveNumber,
    simulated: source.simulated,
    startedAt: new Date().toISOString(),
    plan: { ...USUAL_PLAN, placements: options.placements, bottle: options.way },
  });
  return {
    ...walk,
    ...(source.simulated ? {} : { design: BUILT_DESIGN }),
    ...(options.holderGrams === undefined ? {} : { holderGrams: options.holderGrams }),
    bottleName: options.bottle,
    ambientCelsius: options.airCelsius ?? null,
    outlineMm: outlineMm ?? (source.simulated ? DEFAULT_BOTTLE.innerProfileMm.map(([z, r]) => [z, r]) : null),
    fillToleranceGrams: fillTolerance(options.way),
  };
}

/** Marks on a bottle are read to a few mL; a kitchen scale is better. */
const fillTolerance = (way: BottleWay): number => (way === 'two-minutes' ? 3 : 0.1);

function walkOfAnotherBottle(
  before: WalkState,
  { way, bottle, airCelsius }: WalkOptions,
  source: HoldSource,
  outlineMm: [number, number][] | null,
): WalkState {
  requireSameSleeve(before, source.sleeveNumber);
  const walk = withAnotherBottle(before, {
    name: bottle,
    way,
    outlineMm,
    fillToleranceGrams: fillTolerance(way),
  });
  return { ...walk, ambientCelsius: airCelsius ?? null };
}

function walkTakenUp(begun: WalkState, source: HoldSource, talk: Talk): WalkState {
  requireSameSleeve(begun, source.sleeveNumber);
  talk.say(`Going on with the calibration begun on ${begun.startedAt.slice(0, 10)}.`);
  return begun;
}
