/**
 * The calibration check at every feed: decides what is in the resting sleeve (nothing, or the bottle), checks each hold, and gives one verdict that
 * a single touch cannot change. Pure: state and hold in, state out.
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

/** Content of the sleeve. */
export type InSleeve = 'nothing' | 'bottle';

export interface FeedCheck {
  /** The last checks, newest last. */
  recent: { inSleeve: InSleeve; check: PlausibilityCheck }[];
  /** Holds with the bottle, from which the bottle's shape may be learned. */
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

/** Number of the latest holds that are used. */
const HEARD = 3;
const MOST_HOLDS = 60;

export const FEED_CHECK_START: FeedCheck = { recent: [], bottleHolds: [] };

/** @returns the state with this hold in it; the same state when the hold gives no information */
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
 * Of three holds the middle verdict counts, of two the milder one, a single one only if it is good, so that a touch does not count as a fault.
 * Null while there is no verdict.
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

/** The cup alone, or the bottle; null when it is rolled too far, or neither fits (a hand is in it). */
function whatRests(calibration: Calibration, hold: Hold): InSleeve | null {
  const loads = stillLoads(calibration, hold);
  if (inPlaneShare(loads) < LEAST_IN_PLANE) return null;
  const grams = weightGrams(loads);
  const cup = cupOf(calibration);
  const empty = calibration.bottle.emptyMassGrams;
  if (cup && grams < (cup.massGrams + empty) / 2) return 'nothing';
  // Without a known cup a share of the bottle's weight decides: the cup is the smaller part of it.
  return grams > (cup ? 0 : 0.6 * empty) ? 'bottle' : null;
}
