/**
 * Model of a bottle: expected cell readings as a function of the unknowns, compared with the measured ones. Unknowns, in order: empty mass (g), centre
 * (mm), change of the profile (3), errors of the balance (zeros 3, response 9, turn 3), drawing error at each point (mm), error of each filling (g).
 */
import { tripleOf } from '../../base/typed.ts';
import type { InnerProfileMm } from '../../sensing/loads/milk-centre.ts';
import { changedProfile, type ProfileDoubt } from '../walk/profile.ts';
import { drawnCountsPerGram, type FixtureTolerance, LEVER_MM, sdOfHalfWidth } from '../walk/sleeve-design.ts';
import { feltDirection, smallTurn } from './accelerometer.ts';
import type { BalanceFit } from './balance.ts';
import type { BottleObservation } from './bottle.ts';
import { whitener } from './least-squares.ts';
import { cholesky, forwardSolve, type Rows, timesVector, zeros } from './linear-algebra.ts';
import { type LiquidPlace, placeOfLiquid, WATER_GRAMS_PER_ML } from './milk-in-hold.ts';
import { pooledNoise } from './reading-errors.ts';

/** Index of each unknown; fillings follow the points of the profile. */
export const AT = { change: 2, balance: 5, turn: 17, pencil: 20 } as const;

export interface BottleModel {
  fillsAt: number;
  /** Prior standard deviations of the profile's change. */
  profileSd: number[];
  start: number[];
  /** Step sizes for the numeric derivative. */
  scale: number[];
  /** Whitened residuals, priors included. */
  residuals(u: readonly number[]): number[];
  /** By observation and cell: reading minus fit, drawn grams. */
  cellErrors(u: readonly number[]): number[][];
}

export function bottleModel(
  balance: BalanceFit,
  observations: readonly BottleObservation[],
  outline: InnerProfileMm,
  doubt: ProfileDoubt,
  tolerance: FixtureTolerance,
): BottleModel {
  const countsPerGram = drawnCountsPerGram(balance.design);
  const readings = observations.map(({ hold }) =>
    hold.cells.map((count, i) => (count - balance.zeroCounts[i]!) / countsPerGram[i]!),
  );
  const fillings = [...new Set(observations.map(({ fillGrams }) => fillGrams).filter((grams) => grams > 0))];
  const fillSd = fillings.map((grams) =>
    sdOfHalfWidth(observations.find(({ fillGrams }) => fillGrams === grams)!.fillToleranceGrams),
  );
  const fillsAt = AT.pencil + outline.length;
  const whiten = whitener(walkCovariance(observations, balance, tolerance));
  const balancePrior = cholesky(balance.covariance)!;
  const profileSd = [doubt.baseShiftMm, doubt.neckShiftMm, doubt.widerShare].map(sdOfHalfWidth);
  const loadsOf = bottleLoads(balance, observations, outline, fillings);

  const expected = (u: readonly number[], load: readonly number[], cell: number): number => {
    let sum = u[AT.balance + cell]!;
    for (let j = 0; j < 3; j++)
      sum += (balance.response[cell]![j]! + u[AT.balance + 3 + 3 * cell + j]!) * load[j]!;
    return sum;
  };
  const cellErrors = (u: readonly number[]): number[][] =>
    loadsOf(u).map((load, k) => [0, 1, 2].map((cell) => readings[k]![cell]! - expected(u, load, cell)));
  const each = (count: number, value: number): number[] => new Array<number>(count).fill(value);
  return {
    fillsAt,
    profileSd,
    start: [168, 78, ...each(3 + 15 + outline.length + fillings.length, 0)],
    scale: [
      ...[10, 10, 2, 2, 0.02],
      ...each(12, 0.1),
      ...each(3, 0.01),
      ...each(outline.length, 0.2),
      ...each(fillings.length, 1),
    ],
    residuals(u) {
      const errors = cellErrors(u);
      return [
        ...[0, 1, 2].flatMap((cell) => whiten(errors.map((row) => row[cell]!))),
        ...profileSd.map((sd, i) => u[AT.change + i]! / sd),
        ...forwardSolve(balancePrior, u.slice(AT.balance, AT.pencil)),
        ...u.slice(AT.pencil, fillsAt).map((mm) => mm / sdOfHalfWidth(doubt.pencilMm)),
        ...fillSd.map((sd, i) => u[fillsAt + i]! / sd),
      ];
    },
    cellErrors,
  };
}

/** Loads by observation: Fx g, Fz g, M as grams at LEVER_MM. */
function bottleLoads(
  balance: BalanceFit,
  observations: readonly BottleObservation[],
  outline: InnerProfileMm,
  fillings: readonly number[],
) {
  const felt = observations.map(({ hold }) => feltDirection(balance.accelerometer, hold.accelerometer));
  const fillsAt = AT.pencil + outline.length;
  const places = rememberedPlaces(outline);
  return (u: readonly number[]): number[][] =>
    observations.map(({ fillGrams }, k) => {
      const turn = smallTurn([u[AT.turn]!, u[AT.turn + 1]!, u[AT.turn + 2]!]);
      const [fx, fy, fz] = tripleOf(timesVector(turn, felt[k]!));
      const sideways = Math.hypot(fx, fy);
      const milk = fillGrams > 0 ? fillGrams + u[fillsAt + fillings.indexOf(fillGrams)]! : 0;
      const size = Math.hypot(sideways, fz);
      let moment = u[0]! * u[1]! * fx;
      if (milk > 0) {
        const change = u.slice(AT.change, AT.balance);
        const place = places(k, change, u.slice(AT.pencil, fillsAt), milk, Math.acos(fz / size));
        const x = sideways > 1e-9 ? (place.lateralMm * fx) / sideways : 0;
        moment += milk * (fx * place.zMm - fz * x);
      }
      return [((u[0]! + milk) * fx) / size, ((u[0]! + milk) * fz) / size, moment / size / LEVER_MM];
    });
}

/** Computing the liquid's place is expensive, and most steps of the fit change neither profile nor filling, so the last place of each hold is cached. */
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
      const [baseShiftMm, neckShiftMm, widerShare] = tripleOf(change);
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
  // Bottles calibrated on another day start with a zero that has drifted for a day; the drift of an hour is used for it.
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
