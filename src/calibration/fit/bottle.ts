/**
 * A bottle: its empty mass and centre, and the inside of it, from holds with nothing or with a known filling in it.
 * What the balance itself may get wrong (its covariance, and the zeros' walk since) is unknown in the fit too.
 */
import { PlainError } from '../../base/errors.ts';
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';
import type { Hold, Triple } from '../walk/hold.ts';
import { changedProfile, type ProfileChange, type ProfileDoubt } from '../walk/profile.ts';
import {
  drawnCountsPerGram,
  type FixtureTolerance,
  LEVER_MM,
  sdOfHalfWidth,
  USUAL_TOLERANCE,
} from '../walk/sleeve-design.ts';
import { feltDirection, smallTurn } from './accelerometer.ts';
import type { BalanceFit } from './balance.ts';
import { fitLeastSquares, whitener } from './least-squares.ts';
import { cholesky, forwardSolve, inverseOf, type Rows, timesVector, zeros } from './linear-algebra.ts';
import { capacityMl, type LiquidPlace, placeOfLiquid } from './milk-in-hold.ts';
import { pooledNoise } from './reading-errors.ts';

/** Water at 20 °C, g/mL (CRC Handbook of Chemistry and Physics; value from memory). */
export const WATER_GRAMS_PER_ML = 0.9982;

export interface BottleObservation {
  hold: Hold;
  /** What was filled in, by the kitchen scale or by the mark; 0 for the empty bottle. */
  fillGrams: number;
  /** Half-width of what `fillGrams` may be off by; holds of one filling share its error. */
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
  /** By observation: moment measured less moment of the fit, as grams at LEVER_MM. */
  residualGrams: number[];
  reducedChiSquare: number;
}

const NEWTONS_PER_GRAM = 0.00980665;
/** A profile moved further than this many of its prior's standard deviations is not this bottle's. */
const MAX_SIGMAS = 4;

/** Loads of a hold by a fit: Fx g, Fz g, M as grams at LEVER_MM. */
export function loadsOfHold(balance: BalanceFit, hold: Hold): Triple {
  const counts = hold.cells.map((count, i) => count - balance.zeroCounts[i]!);
  const [fx, fz, m] = timesVector(balance.loadPerCount, counts) as Triple;
  return [fx / NEWTONS_PER_GRAM, fz / NEWTONS_PER_GRAM, (m / NEWTONS_PER_GRAM) * (1000 / LEVER_MM)];
}

/** Weight in the sleeve by a hold, g, whatever the tilt; meaningless when rolled on its side. */
export function weightOf(balance: BalanceFit, hold: Hold): number {
  const [fx, fz] = loadsOfHold(balance, hold);
  const f = feltDirection(balance.accelerometer, hold.accelerometer);
  return Math.hypot(fx, fz) / Math.hypot(f[0], f[2]);
}

// Unknowns: empty mass, centre, profile change ×3, balance errors ×15 (zeros, response, turn), the pencil's error at each point, fills.
const BALANCE = 5;
const TURN = 17;
const PENCIL = 20;

/**
 * @param observations the empty bottle held upright and level at least; fillings for the profile
 * @param outline profile to start from
 * @param doubt half-widths of what is known of it beforehand
 * @throws PlainError bottle-holds, bottle-full, bottle-fit, bottle-profile
 */
export function fitBottle(
  balance: BalanceFit,
  observations: readonly BottleObservation[],
  outline: InnerProfileMm,
  doubt: ProfileDoubt,
  tolerance: FixtureTolerance = USUAL_TOLERANCE,
): BottleFit {
  const felt = observations.map(({ hold }) => feltDirection(balance.accelerometer, hold.accelerometer));
  refuseTooFew(observations, felt);
  refuseOverfull(observations, outline, doubt);
  const countsPerGram = drawnCountsPerGram(balance.design);
  const readings = observations.map(({ hold }) =>
    hold.cells.map((count, i) => (count - balance.zeroCounts[i]!) / countsPerGram[i]!),
  );
  const fillings = [...new Set(observations.map(({ fillGrams }) => fillGrams).filter((grams) => grams > 0))];
  const fillSd = fillings.map((grams) =>
    sdOfHalfWidth(observations.find(({ fillGrams }) => fillGrams === grams)!.fillToleranceGrams),
  );
  const fillsAt = PENCIL + outline.length;
  const whiten = whitener(walkCovariance(observations, balance, tolerance));
  const balancePrior = cholesky(balance.covariance)!;
  const profileSd = [doubt.baseShiftMm, doubt.neckShiftMm, doubt.widerShare].map(sdOfHalfWidth);

  const places = rememberedPlaces(outline);
  const loadsOf = (u: readonly number[]): number[][] =>
    observations.map(({ fillGrams }, k) => {
      const turn = smallTurn([u[TURN]!, u[TURN + 1]!, u[TURN + 2]!]);
      const [fx, fy, fz] = timesVector(turn, felt[k]!) as Triple;
      const sideways = Math.hypot(fx, fy);
      const milk = fillGrams > 0 ? fillGrams + u[fillsAt + fillings.indexOf(fillGrams)]! : 0;
      const size = Math.hypot(sideways, fz);
      let moment = u[0]! * u[1]! * fx;
      if (milk > 0) {
        const place = places(k, u.slice(2, 5), u.slice(PENCIL, fillsAt), milk, Math.acos(fz / size));
        const x = sideways > 1e-9 ? (place.lateralMm * fx) / sideways : 0;
        moment += milk * (fx * place.zMm - fz * x);
      }
      return [((u[0]! + milk) * fx) / size, ((u[0]! + milk) * fz) / size, moment / size / LEVER_MM];
    });
  const expectedReading = (u: readonly number[], load: readonly number[], cell: number): number => {
    let sum = u[BALANCE + cell]!;
    for (let j = 0; j < 3; j++) {
      sum += (balance.response[cell]![j]! + u[BALANCE + 3 + 3 * cell + j]!) * load[j]!;
    }
    return sum;
  };
  const residuals = (u: readonly number[]): number[] => {
    const loads = loadsOf(u);
    const out = [0, 1, 2].flatMap((cell) =>
      whiten(loads.map((load, k) => readings[k]![cell]! - expectedReading(u, load, cell))),
    );
    for (let i = 0; i < 3; i++) out.push(u[2 + i]! / profileSd[i]!);
    out.push(...forwardSolve(balancePrior, u.slice(BALANCE, PENCIL)));
    for (let i = PENCIL; i < fillsAt; i++) out.push(u[i]! / sdOfHalfWidth(doubt.pencilMm));
    fillings.forEach((_, i) => {
      out.push(u[fillsAt + i]! / fillSd[i]!);
    });
    return out;
  };

  const nought = (count: number): number[] => new Array<number>(count).fill(0);
  const start = [168, 78, ...nought(3 + 15 + outline.length + fillings.length)];
  const scale = [
    10,
    10,
    2,
    2,
    0.02,
    ...nought(12).fill(0.1),
    0.01,
    0.01,
    0.01,
    ...outline.map(() => 0.2),
    ...fillings.map(() => 1),
  ];
  const fit = fitLeastSquares(residuals, start, scale);
  if (!fit?.converged) {
    throw new PlainError(
      'bottle-fit',
      'The holds with the bottle do not fit together.',
      'Repeat them: first the empty bottle, then each filling, and type in what the kitchen scale shows.',
    );
  }
  const u = fit.unknowns;
  const change = { baseShiftMm: u[2]!, neckShiftMm: u[3]!, widerShare: u[4]! };
  const reducedChiSquare = fit.chiSquare / Math.max(1, fit.degreesOfFreedom);
  refuseForeignProfile(
    u.slice(2, 5).map((value, i) => value / profileSd[i]!),
    reducedChiSquare,
  );
  const loads = loadsOf(u);
  const toLoads = inverseOf(balance.response);
  const sd = fit.covariance.map((row, i) => Math.sqrt(row[i]!));
  return {
    emptyMassGrams: u[0]!,
    emptyCentreZMm: u[1]!,
    innerProfileMm: changedProfile(outline, change, u.slice(PENCIL, fillsAt)),
    change,
    sd: {
      emptyMassGrams: sd[0]!,
      emptyCentreMm: sd[1]!,
      baseEndMm: sd[2]!,
      neckEndMm: sd[3]!,
      widerShare: sd[4]!,
    },
    residualGrams: loads.map((load, k) => {
      const errors = [0, 1, 2].map((cell) => readings[k]![cell]! - expectedReading(u, load, cell));
      return timesVector(toLoads, errors)[2]!;
    }),
    reducedChiSquare,
  };
}

/** The liquid's place is dear, and most steps of the fit leave profile and filling as they were: the last place of each hold is kept. */
function rememberedPlaces(outline: InnerProfileMm) {
  const last: { key: string; place: LiquidPlace }[] = [];
  return (
    hold: number,
    change: readonly number[],
    pencilMm: readonly number[],
    grams: number,
    tiltRad: number,
  ): LiquidPlace => {
    const key = `${change} ${pencilMm} ${grams} ${tiltRad}`;
    if (last[hold]?.key !== key) {
      const [baseShiftMm, neckShiftMm, widerShare] = change as [number, number, number];
      const profile = changedProfile(outline, { baseShiftMm, neckShiftMm, widerShare }, pencilMm);
      last[hold] = { key, place: placeOfLiquid(profile, grams / WATER_GRAMS_PER_ML, tiltRad) };
    }
    return last[hold]!.place;
  };
}

/** Noise of each hold, and the zeros' walk since the balance was calibrated. */
function walkCovariance(
  observations: readonly BottleObservation[],
  { zeroAtSec, design }: BalanceFit,
  tolerance: FixtureTolerance,
): Rows {
  // Bottles calibrated on another day start from a zero that is off by a day's walk; an hour's worth stands for it.
  const first = Math.min(...observations.map(({ hold }) => hold.atSec));
  const startSec = first > zeroAtSec ? zeroAtSec : first - 3600;
  const walk = tolerance.driftGramsPerSqrtMin ** 2 / 60;
  const covariance = zeros(observations.length, observations.length);
  const noise = pooledNoise(observations, design) ** 2 + tolerance.holdNoiseGrams ** 2;
  observations.forEach(({ hold }, i) => {
    observations.forEach((other, j) => {
      covariance[i]![j] = walk * (Math.min(hold.atSec, other.hold.atSec) - startSec);
    });
    covariance[i]![i]! += noise;
  });
  return covariance;
}

function refuseTooFew(observations: readonly BottleObservation[], felt: readonly Triple[]): void {
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
