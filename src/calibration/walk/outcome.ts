/** From a finished walk to the calibration file and its figures. */
import { PlainError } from '../../base/errors.ts';
import { type Calibration, parseCalibration } from '../../sensing/loads/calibration.ts';
import { accelerometerEntry } from '../fit/accelerometer.ts';
import { type BalanceFit, loadCovariance } from '../fit/balance.ts';
import { type BottleFit, type BottleObservation, fitBottle } from '../fit/bottle.ts';
import { type StatedBudget, statedBudgets } from '../fit/budgets.ts';
import { type Determinacy, requireDetermined } from '../fit/determinacy.ts';
import { type GyroscopeZero, gyroscopeEntry, gyroscopeZero } from '../fit/gyroscope.ts';
import { pooledNoise } from '../fit/reading-errors.ts';
import type { TeatTipFit } from '../fit/teat-tip.ts';
import { GENERIC_DOUBT, GENERIC_PROFILE_MM, OUTLINE_DOUBT, profileFromOutline } from './profile.ts';
import { FULL_LOAD_GRAMS, LEVER_MM, MARKS, USUAL_TOLERANCE } from './sleeve-design.ts';
import {
  accelerometerSoFar,
  balanceSoFar,
  determinacySoFar,
  observationsOf,
  stepsOf,
} from './walk-so-far.ts';
import type { WalkState } from './walk-state.ts';

export interface Outcome {
  calibration: Calibration;
  balance: BalanceFit;
  determinacy: Determinacy;
  bottle: BottleFit;
  teatTip: TeatTipFit;
  gyroscope: GyroscopeZero;
  budgets: StatedBudget[];
  /** Expanded (k = 2) uncertainty of a full bottle's loads, g and g at LEVER_MM. */
  loadUncertaintyGrams: { fx: number; fz: number; moment: number };
}

export interface OutcomeFacts {
  finishedAt: string;
  softwareVersion: string;
  /** Seeded numbers in [0, 1) for the Monte Carlo check. */
  uniform01: () => number;
  /** From pushes at the tip; if absent, the walk's own figure is used. */
  teatTip?: TeatTipFit;
  /** Where the chip sits in this sleeve, mm; absent: as in the sleeve contract. */
  accelerometerPositionMm?: readonly [number, number, number];
}

/** Months until the next check (own assumption: cells creep and screws settle within a season; no source). */
const CHECK_AFTER_MONTHS = 3;
/** Error of measuring the teat's tip with a ruler, mm. */
const RULER_TIP_MM = 1;

export interface Fits {
  determinacy: Determinacy;
  balance: BalanceFit;
  bottle: BottleFit;
}

/** @throws PlainError balance-undetermined, accelerometer-…, bottle-…, calibration-unfinished */
export function fitsOf(walk: WalkState): Fits {
  const determinacy = determinacySoFar(walk);
  requireDetermined(determinacy);
  const accelerometer = accelerometerSoFar(walk);
  if (!accelerometer) {
    const missing = stepsOf(walk).filter(({ id }) => id.startsWith('empty-') && !walk.holds[id]);
    throw new PlainError(
      'calibration-six-poses',
      'The empty sleeve has not been held in all six poses.',
      `Take these steps too: ${missing.map(({ id }) => id).join(', ')}.`,
    );
  }
  const balance = balanceSoFar(walk, accelerometer);
  if (!balance) {
    throw new PlainError(
      'calibration-unfinished',
      'The holds with masses do not fit together in one load matrix.',
      'Look at the largest residuals, repeat those steps, and check the weights typed in.',
    );
  }
  return { determinacy, balance, bottle: bottleOf(walk, balance) };
}

/** @throws PlainError as fitsOf, and calibration-teat-tip */
export function outcomeOf(walk: WalkState, facts: OutcomeFacts): Outcome {
  const { determinacy, balance, bottle } = fitsOf(walk);
  const teatTip = facts.teatTip ?? givenTeatTip(walk);
  const noise = pooledNoise(observationsOf(walk), balance.design);
  const budgets = statedBudgets(
    {
      balance,
      bottle,
      // Holds last 3 s, a weighing 2 s.
      weighingNoiseGrams: noise * Math.sqrt(3 / 2),
      noiseDegreesOfFreedom: 5 * 3 * observationsOf(walk).length,
      tolerance: USUAL_TOLERANCE,
      densityToleranceGramsPerMl: 0.01,
    },
    facts.uniform01,
  );
  const loadUncertaintyGrams = fullLoadUncertainty(balance);
  const gyroscope = gyroscopeZero(Object.values(walk.holds));
  const turning = gyroscopeEntry(gyroscope);
  const content = {
    version: 1,
    sleeveId: walk.sleeveId,
    calibratedAt: facts.finishedAt,
    zeroCounts: balance.zeroCounts,
    loadPerCount: balance.loadPerCount,
    accelerometer: {
      ...accelerometerEntry(balance.accelerometer),
      ...(facts.accelerometerPositionMm && { positionMm: [...facts.accelerometerPositionMm] }),
    },
    ...(turning && { gyroscope: turning }),
    bottle: {
      emptyMassGrams: bottle.emptyMassGrams,
      emptyCentreZMm: bottle.emptyCentreZMm,
      teatTipZMm: teatTip.teatTipZMm,
      innerProfileMm: bottle.innerProfileMm,
      name: walk.bottleName,
      profileFrom: walk.outlineMm ? 'drawn outline' : 'generic profile',
    },
    ...(walk.sleeveNumber === null ? {} : { sleeveNumber: walk.sleeveNumber }),
    simulated: walk.simulated,
    madeWith: `Ebbline ${facts.softwareVersion}`,
    // With another bottle the load matrix is as old as the walk it was taken from.
    nextCheckDue: monthsLater(walk.plan.anew ? walk.startedAt : facts.finishedAt, CHECK_AFTER_MONTHS),
    ...(walk.ambientCelsius === null ? {} : { ambientCelsius: walk.ambientCelsius }),
    cup: cupWithout(balance, walk.holderGrams ?? 0),
    uncertainty: {
      coverageFactor: 2,
      loadGrams: loadUncertaintyGrams,
      ...Object.fromEntries(budgets.map(({ name, budget }) => [name, budget.expanded])),
      emptyMassGrams: 2 * bottle.sd.emptyMassGrams,
      emptyCentreMm: 2 * bottle.sd.emptyCentreMm,
      teatTipMm: 2 * teatTip.sdMm,
      baseEndMm: 2 * bottle.sd.baseEndMm,
      neckEndMm: 2 * bottle.sd.neckEndMm,
    },
  };
  const calibration = parseCalibration(content, 'just made');
  return { calibration, balance, determinacy, bottle, teatTip, gyroscope, budgets, loadUncertaintyGrams };
}

/** Mass and centre of the cup alone. A holder is a tube from the bottom to slightly beyond the far mark, so its centre is midway between the marks. */
function cupWithout(
  { cupMassGrams, cupCentreZMm }: BalanceFit,
  holderGrams: number,
): { massGrams: number; centreZMm: number } {
  const massGrams = cupMassGrams - holderGrams;
  const holderZMm = (MARKS.base.zMm + MARKS.nipple.zMm) / 2;
  return { massGrams, centreZMm: (cupMassGrams * cupCentreZMm - holderGrams * holderZMm) / massGrams };
}

function givenTeatTip(walk: WalkState): TeatTipFit {
  if (walk.teatTipZMm !== null) return { teatTipZMm: walk.teatTipZMm, sdMm: RULER_TIP_MM / Math.sqrt(3) };
  throw new PlainError(
    'calibration-teat-tip',
    'The height of the tip of the nipple is not known.',
    'Measure from the bottom of the bottle’s place to the tip of the nipple, and type it in millimeters.',
  );
}

/** Holds with the bottle, in the form of its fit; fillings without a typed weight are left out. */
export function bottleObservationsOf(walk: WalkState): BottleObservation[] {
  return stepsOf(walk).flatMap((step) => {
    const hold = walk.holds[step.id];
    if (step.kind !== 'bottle' || !hold) return [];
    const fillGrams = step.fill === null ? 0 : walk.fillsGrams[step.fill];
    return fillGrams === undefined ? [] : [{ hold, fillGrams, fillToleranceGrams: walk.fillToleranceGrams }];
  });
}

function bottleOf(walk: WalkState, balance: BalanceFit): BottleFit {
  const profile = walk.outlineMm ? profileFromOutline(walk.outlineMm) : GENERIC_PROFILE_MM;
  return fitBottle(
    balance,
    bottleObservationsOf(walk),
    profile,
    walk.outlineMm ? OUTLINE_DOUBT : GENERIC_DOUBT,
  );
}

function fullLoadUncertainty(balance: BalanceFit): { fx: number; fz: number; moment: number } {
  // The worst of the holds that occur in a feed.
  const worst = [0, 0, 0];
  for (const tiltDeg of [30, 60, 80, 100, 120, 150]) {
    const tilt = (tiltDeg * Math.PI) / 180;
    const across = FULL_LOAD_GRAMS * Math.sin(tilt);
    const covariance = loadCovariance(balance, [
      across,
      FULL_LOAD_GRAMS * Math.cos(tilt),
      (across * 80) / LEVER_MM,
    ]);
    for (let i = 0; i < 3; i++) worst[i] = Math.max(worst[i]!, 2 * Math.sqrt(covariance[i]![i]!));
  }
  return { fx: worst[0]!, fz: worst[1]!, moment: worst[2]! };
}

function monthsLater(iso: string, months: number): string {
  const date = new Date(iso);
  date.setUTCMonth(date.getUTCMonth() + months);
  return date.toISOString().slice(0, 10);
}
