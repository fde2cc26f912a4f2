/** Start of a calibration walk: from nothing, with another bottle for a calibrated sleeve, or continued. */
import { withAnotherBottle } from '../../calibration/walk/another-bottle.ts';
import { type BottleWay, USUAL_PLAN } from '../../calibration/walk/plan.ts';
import { requireSameSleeve, startWalk, type WalkState } from '../../calibration/walk/walk-state.ts';
import { DEFAULT_BOTTLE } from '../../simulation/bottle.ts';
import { BUILT_DESIGN } from '../sleeve/built-sleeve.ts';
import type { Talk } from './guided-walk.ts';
import type { HoldSource } from './hold-source.ts';

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
}

export function newWalk(
  options: WalkOptions,
  source: HoldSource,
  outlineMm: [number, number][] | null,
): WalkState {
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

export function walkOfAnotherBottle(
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

export function walkTakenUp(begun: WalkState, source: HoldSource, talk: Talk): WalkState {
  requireSameSleeve(begun, source.sleeveNumber);
  talk.say(`Going on with the calibration begun on ${begun.startedAt.slice(0, 10)}.`);
  return begun;
}
