/**
 * Calibration of a bottle: empty mass, centre and inner profile, from holds with the empty bottle or with known fillings.
 * Errors of the balance (its covariance and the drift of the zeros since) are unknowns of this fit too.
 */

import { PlainError } from '../../base/errors.ts';
import { tripleOf } from '../../base/typed.ts';
import { gramsFromNewtons } from '../../base/units.ts';
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';
import type { Hold, Triple } from '../walk/hold.ts';
import { changedProfile, type ProfileChange, type ProfileDoubt } from '../walk/profile.ts';
import { type FixtureTolerance, LEVER_MM, USUAL_TOLERANCE } from '../walk/sleeve-design.ts';
import { feltDirection } from './accelerometer.ts';
import type { BalanceFit } from './balance.ts';
import { AT, bottleModel } from './bottle-model.ts';
import { fitLeastSquares } from './least-squares.ts';
import { inverseOf, timesVector } from './linear-algebra.ts';
import { capacityMl, WATER_GRAMS_PER_ML } from './milk-in-hold.ts';

export interface BottleObservation {
  hold: Hold;
  /** What was filled in, by kitchen scale or by the bottle's mark; 0 for the empty bottle. */
  fillGrams: number;
  /** Half-width of the error of `fillGrams`; holds of one filling share it. */
  fillToleranceGrams: number;
}

export interface BottleFit {
  emptyMassGrams: number;
  emptyCentreZMm: number;
  innerProfileMm: [number, number][];
  change: ProfileChange;
  /** Standard deviations of the above. */
  sd: {
    emptyMassGrams: number;
    emptyCentreMm: number;
    baseEndMm: number;
    neckEndMm: number;
    widerShare: number;
  };
  /** By observation: measured moment minus that of the fit, as grams at LEVER_MM. */
  residualGrams: number[];
  reducedChiSquare: number;
}

/** If the profile moves by more than this many prior standard deviations, it belongs to another bottle. */
const MAX_SIGMAS = 4;

/** Loads of a hold by a fit: Fx g, Fz g, M as grams at LEVER_MM. */
export function loadsOfHold(balance: BalanceFit, hold: Hold): Triple {
  const counts = hold.cells.map((count, i) => count - balance.zeroCounts[i]!);
  const [fx, fz, m] = tripleOf(timesVector(balance.loadPerCount, counts));
  return [gramsFromNewtons(fx), gramsFromNewtons(fz), gramsFromNewtons(m) * (1000 / LEVER_MM)];
}

/** Weight in the sleeve in a hold, g, at any tilt; not valid when rolled on its side. */
export function weightOf(balance: BalanceFit, hold: Hold): number {
  const [fx, fz] = loadsOfHold(balance, hold);
  const f = feltDirection(balance.accelerometer, hold.accelerometer);
  return Math.hypot(fx, fz) / Math.hypot(f[0], f[2]);
}

/**
 * @param observations the empty bottle held upright and level at least; fillings for the profile
 * @param outline profile to start from
 * @param doubt prior half-widths of its errors
 * @throws PlainError bottle-holds, bottle-full, bottle-fit, bottle-profile
 */
export function fitBottle(
  balance: BalanceFit,
  observations: readonly BottleObservation[],
  outline: InnerProfileMm,
  doubt: ProfileDoubt,
  tolerance: FixtureTolerance = USUAL_TOLERANCE,
): BottleFit {
  refuseTooFew(balance, observations);
  refuseOverfull(observations, outline, doubt);
  const model = bottleModel(balance, observations, outline, doubt, tolerance);
  const fit = fitLeastSquares(model.residuals, model.start, model.scale);
  if (!fit?.converged) {
    throw new PlainError(
      'bottle-fit',
      'The holds with the bottle do not fit together.',
      'Repeat them: first the empty bottle, then each filling, and type in what the kitchen scale shows.',
    );
  }
  const u = fit.unknowns;
  const [baseShiftMm, neckShiftMm, widerShare] = tripleOf(u.slice(AT.change, AT.balance));
  const change = { baseShiftMm, neckShiftMm, widerShare };
  const reducedChiSquare = fit.chiSquare / Math.max(1, fit.degreesOfFreedom);
  refuseForeignProfile(
    model.profileSd.map((sd, i) => u[AT.change + i]! / sd),
    reducedChiSquare,
  );
  const toLoads = inverseOf(balance.response);
  const sd = fit.covariance.map((row, i) => Math.sqrt(row[i]!));
  return {
    emptyMassGrams: u[0]!,
    emptyCentreZMm: u[1]!,
    innerProfileMm: changedProfile(outline, change, u.slice(AT.pencil, model.fillsAt)),
    change,
    sd: {
      emptyMassGrams: sd[0]!,
      emptyCentreMm: sd[1]!,
      baseEndMm: sd[2]!,
      neckEndMm: sd[3]!,
      widerShare: sd[4]!,
    },
    residualGrams: model.cellErrors(u).map((errors) => timesVector(toLoads, errors)[2]!),
    reducedChiSquare,
  };
}

function refuseTooFew({ accelerometer }: BalanceFit, observations: readonly BottleObservation[]): void {
  const felt = observations.map(({ hold }) => feltDirection(accelerometer, hold.accelerometer));
  const empty = felt.filter((_, k) => observations[k]!.fillGrams === 0);
  const missing: string[] = [];
  if (!empty.some(([fx]) => Math.abs(fx) > 0.8)) missing.push('lying level');
  if (!empty.some(([, , fz]) => Math.abs(fz) > 0.8)) missing.push('upright');
  if (missing.length === 0) return;
  throw new PlainError(
    'bottle-holds',
    `The empty bottle has not been held ${missing.join(' nor ')}.`,
    'Hold the sleeve with the empty bottle upright, then level with the grip underneath.',
  );
}

function refuseOverfull(
  observations: readonly BottleObservation[],
  outline: InnerProfileMm,
  doubt: ProfileDoubt,
): void {
  const most = Math.max(...observations.map(({ fillGrams }) => fillGrams)) / WATER_GRAMS_PER_ML;
  const room = capacityMl(
    changedProfile(outline, {
      baseShiftMm: -doubt.baseShiftMm,
      neckShiftMm: doubt.neckShiftMm,
      widerShare: doubt.widerShare,
    }),
  );
  if (most <= room) return;
  throw new PlainError(
    'bottle-full',
    `${most.toFixed(0)} mL were filled in, but the outline holds ${room.toFixed(0)} mL at most: it is not this bottle's.`,
    'Draw the outline of this bottle, or use the generic one.',
  );
}

function refuseForeignProfile(sigmas: readonly number[], reducedChiSquare: number): void {
  const far = Math.max(...sigmas.map(Math.abs));
  if (far <= MAX_SIGMAS && reducedChiSquare <= 6) return;
  throw new PlainError(
    'bottle-profile',
    'The bottle does not fit its profile: filled and tilted, its weight lies where this profile cannot put it.',
    'Check that this is the bottle of the outline and that the fillings are typed in right; else draw its outline anew or use the generic one.',
  );
}
