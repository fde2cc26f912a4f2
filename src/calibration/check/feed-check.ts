/**
 * The check that runs at every feed: sorts what rests in the sleeve (nothing, or the bottle), checks each hold, and keeps one opinion that
 * a single touch cannot change. Pure: a state and a hold in, the state out.
 */

import type { Calibration } from '../../sensing/loads/calibration.ts';
import { inPlaneShare, LEAST_IN_PLANE, stillLoads, weightGrams } from '../fit/still-loads.ts';
import type { Hold } from '../walk/hold.ts';
import { cupOf } from '../walk/noted.ts';
import {
  type CalibrationFinding,
  type CalibrationVerdict,
  checkEmptySleeve,
  checkFullBottle,
  type PlausibilityCheck,
  type PlausibilityOptions,
} from './plausibility.ts';

/** What lay in the sleeve. */
export type InSleeve = 'nothing' | 'bottle';

export interface FeedCheck {
  /** The last checks, newest last. */
  recent: { inSleeve: InSleeve; check: PlausibilityCheck }[];
  /** Holds with the bottle, for what a feed may teach about it. */
  bottleHolds: Hold[];
}

export interface CheckOpinion {
  verdict: CalibrationVerdict;
  finding: CalibrationFinding | null;
  reasons: string[];
  zeroShiftGrams: number | null;
  inSleeve: InSleeve;
  holds: number;
}

/** So many holds in a row are heard. */
const HEARD = 3;
const MOST_HOLDS = 60;

export const FEED_CHECK_START: FeedCheck = { recent: [], bottleHolds: [] };

/** @returns the state with this hold in it; the same state when nothing can be told from the hold */
export function stepFeedCheck(
  state: FeedCheck,
  calibration: Calibration,
  hold: Hold,
  options: PlausibilityOptions,
): FeedCheck {
  const inSleeve = whatRests(calibration, hold);
  if (inSleeve === null) return state;
  const check =
    inSleeve === 'nothing'
      ? checkEmptySleeve(calibration, hold, options)
      : checkFullBottle(calibration, hold, options);
  if (check.zeroShiftGrams === null) return state;
  const before = state.recent.at(-1)?.inSleeve === inSleeve ? state.recent : [];
  return {
    recent: [...before, { inSleeve, check }].slice(-HEARD),
    bottleHolds: inSleeve === 'bottle' ? [...state.bottleHolds, hold].slice(-MOST_HOLDS) : state.bottleHolds,
  };
}

/**
 * Of three holds the middle one speaks, of two the milder, a single one only when it is content: a touch is not to be taken for a fault.
 * Null while nothing can be said.
 */
export function opinionOf({ recent }: FeedCheck): CheckOpinion | null {
  const sorted = [...recent].sort((one, other) => gravity(one.check) - gravity(other.check));
  const speaks = sorted[Math.floor((sorted.length - 1) / 2)];
  if (!speaks || (sorted.length === 1 && speaks.check.verdict === 'again')) return null;
  const { verdict, finding, reasons, zeroShiftGrams } = speaks.check;
  return { verdict, finding, reasons, zeroShiftGrams, inSleeve: speaks.inSleeve, holds: recent.length };
}

const GRAVITY: Record<CalibrationVerdict, number> = { good: 0, watch: 1, again: 2 };
const gravity = ({ verdict, zeroShiftGrams }: PlausibilityCheck): number =>
  1000 * GRAVITY[verdict] + (zeroShiftGrams ?? 0);

/** Nothing but the cup, or the bottle; null when it is rolled too far to tell, or neither: a hand is in it. */
function whatRests(calibration: Calibration, hold: Hold): InSleeve | null {
  const loads = stillLoads(calibration, hold);
  if (inPlaneShare(loads) < LEAST_IN_PLANE) return null;
  const grams = weightGrams(loads);
  const cup = cupOf(calibration);
  const empty = calibration.bottle.emptyMassGrams;
  if (cup && grams < (cup.massGrams + empty) / 2) return 'nothing';
  // Without a known cup half of the bottle's weight tells: the cup is the smaller part of it.
  return grams > (cup ? 0 : 0.6 * empty) ? 'bottle' : null;
}
