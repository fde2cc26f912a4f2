/** What the estimate is held against: simple ways to get flow, milk and intake from the same samples. */
import { sgg } from 'ml-savitzky-golay-generalized';
import { gramsFromNewtons, MILK_DENSITY_GRAMS_PER_ML } from '../../src/base/units.ts';
import type { Calibration, SensedMoment } from '../../src/sensing/index.ts';
import { type MilkMoments, milkMoments, tabulateMilkCentre } from '../../src/sensing/loads/milk-centre.ts';
import { feedSpan, type Truth, truthAt } from '../support/judge.ts';
import { fourStateFilter } from './four-states.ts';
import type { LoadBlock } from './load-blocks.ts';

/** One way's answers at each 50 ms step; null where it has none. */
export interface Estimate {
  atSec: number[];
  /** Over the last 10 s, and over 5 s before and after; mL/min. */
  flowMlPerMin: number[] | null;
  centredFlowMlPerMin: number[] | null;
  milkMl: number[] | null;
  intakeMl: number[] | null;
}

const STEPS_PER_SEC = 20;
const WINDOW = 10 * STEPS_PER_SEC;

/** 6 × the loss over ten seconds, shifted by `ahead` steps; ≥ 0, as a flow is. */
const lossPerMin = (milkMl: readonly number[], ahead: number): number[] =>
  milkMl.map((_, i) => {
    const to = Math.min(milkMl.length - 1, i + ahead);
    const from = Math.max(0, i + ahead - WINDOW);
    return Math.max(0, 6 * (milkMl[from]! - milkMl[to]!));
  });

export const fromMilk = (atSec: number[], milkMl: number[]): Estimate => ({
  atSec,
  flowMlPerMin: lossPerMin(milkMl, 0),
  centredFlowMlPerMin: lossPerMin(milkMl, WINDOW / 2),
  milkMl,
  intakeMl: milkMl.map((ml) => Math.max(0, milkMl[0]! - ml)),
});

/** A kitchen scale's way: the weight on all cells, averaged over a second, less the empty bottle. */
export function plainScale(blocks: readonly LoadBlock[], { bottle }: Calibration): Estimate {
  const grams = blocks.map(({ fxN, fzN }) => gramsFromNewtons(Math.hypot(fxN, fzN)) - bottle.emptyMassGrams);
  let sum = 0;
  const milkMl = grams.map((gram, i) => {
    sum += gram;
    if (i >= STEPS_PER_SEC) sum -= grams[i - STEPS_PER_SEC]!;
    return sum / Math.min(i + 1, STEPS_PER_SEC) / MILK_DENSITY_GRAMS_PER_ML;
  });
  return fromMilk(
    blocks.map(({ atSec }) => atSec),
    milkMl,
  );
}

/**
 * The contract's formula without memory: milk that the moment about the teat's tip shows (sleeve contract, section 1), each 50 ms by itself, averaged over ten
 * seconds. The mouth at the tip drops out; its line, its couple and the turning of the hand do not. The first baseline to beat.
 */
export function tipAverage(blocks: readonly LoadBlock[], { bottle }: Calibration): Estimate {
  const table = tabulateMilkCentre(bottle.innerProfileMm);
  const moments: MilkMoments = { zMlM: 0, xMlM: 0 };
  const [tipM, emptyM] = [bottle.teatTipZMm / 1000, bottle.emptyCentreZMm / 1000];
  let known = 0;
  const single = blocks.map(({ fxN, fzN, momentNm, ax, ay, az }, i) => {
    const weighed = gramsFromNewtons(fxN * ax + fzN * az) / (ax * ax + az * az) - bottle.emptyMassGrams;
    if (i < STEPS_PER_SEC) known = Math.max(0.5, weighed / MILK_DENSITY_GRAMS_PER_ML);
    const across = Math.hypot(ax, ay);
    milkMoments(table, known, Math.atan2(across, az), moments);
    const share = across > 1e-6 ? ax / across : 1;
    const armM = ax * (tipM - moments.zMlM / known) + (az * share * moments.xMlM) / known;
    if (Math.abs(armM) < 0.025) return weighed / MILK_DENSITY_GRAMS_PER_ML;
    const gramM = -gramsFromNewtons(momentNm - tipM * fxN) - bottle.emptyMassGrams * ax * (tipM - emptyM);
    const milkMl = gramM / armM / MILK_DENSITY_GRAMS_PER_ML;
    known = Math.min(300, Math.max(0.5, known + (milkMl - known) / (2 * STEPS_PER_SEC)));
    return milkMl;
  });
  let sum = 0;
  const milkMl = single.map((ml, i) => {
    sum += ml;
    if (i >= WINDOW) sum -= single[i - WINDOW]!;
    return Math.max(0, sum / Math.min(i + 1, WINDOW));
  });
  return fromMilk(
    blocks.map(({ atSec }) => atSec),
    milkMl,
  );
}

/** Slope of the plain scale's milk by Savitzky–Golay over 10 s, second degree (npm ml-savitzky-golay-generalized). Looks 5 s ahead. */
export function savitzkyGolay(scale: Estimate): Estimate {
  const slopes = sgg(scale.milkMl!, 1 / STEPS_PER_SEC, {
    windowSize: WINDOW + 1,
    derivative: 1,
    polynomial: 2,
  });
  const centredFlowMlPerMin = [...slopes].map((slope) => Math.max(0, -60 * slope));
  return { ...scale, flowMlPerMin: null, centredFlowMlPerMin };
}

/** Density of milk. */
export const milkMlPerMin = (gramsPerSec: number): number => (gramsPerSec / MILK_DENSITY_GRAMS_PER_ML) * 60;

/** The flow is the filter's rate state, which is nearer to the truth than ten seconds of its milk. */
export function untunedFilter(blocks: readonly LoadBlock[], calibration: Calibration): Estimate {
  const { milkGrams, rateGramsPerSec } = fourStateFilter(blocks, calibration);
  const flow = rateGramsPerSec.map((rate) => Math.max(0, milkMlPerMin(rate)));
  return {
    ...fromMilk(
      blocks.map(({ atSec }) => atSec),
      milkGrams.map((grams) => grams / MILK_DENSITY_GRAMS_PER_ML),
    ),
    flowMlPerMin: flow,
    // Flow known afterwards: the rate state five seconds later, since it lags by about that much.
    centredFlowMlPerMin: flow.map((_, i) => flow[Math.min(flow.length - 1, i + WINDOW / 2)]!),
  };
}

/** The factor on `shape` with the least error over the feed. It is fitted to the truth, so it is a limit, not a usable method. */
function bestFactor(
  atSec: readonly number[],
  shape: readonly number[],
  truth: Truth,
  column: number[],
): number {
  const { firstSec, lastSec } = feedSpan(truth);
  let product = 0;
  let square = 0;
  shape.forEach((value, i) => {
    if (atSec[i]! < firstSec || atSec[i]! > lastSec) return;
    product += value * truthAt(truth, column, atSec[i]!);
    square += value * value;
  });
  return square > 0 ? product / square : 0;
}

/** One flow all the time, the one that fits this feed best. */
export function bestConstant(atSec: number[], truth: Truth): Estimate {
  const { firstSec, lastSec } = feedSpan(truth);
  const ones = atSec.map(() => 1);
  const flow = bestFactor(atSec, ones, truth, truth.flow10MlPerMin);
  const centred = bestFactor(atSec, ones, truth, truth.flow10CentredMlPerMin);
  const intakeMl = atSec.map((sec) => (flow / 60) * Math.max(0, Math.min(sec, lastSec) - firstSec));
  const startMl = truth.milkMl[0]!;
  return {
    atSec,
    flowMlPerMin: ones.map(() => flow),
    centredFlowMlPerMin: ones.map(() => centred),
    milkMl: intakeMl.map((ml) => startMl - ml),
    intakeMl,
  };
}

/** Counted sucks, each of the volume that fits this feed best; nothing is weighed. The count is the sensor's own. */
export function countedSucks(moments: readonly SensedMoment[], truth: Truth): Estimate {
  const atSec = moments.map((moment) => moment.atSec);
  const count = moments.map(({ suckCount }) => suckCount);
  const per = lossPerMin(
    count.map((sucks) => -sucks),
    0,
  );
  const perCentred = lossPerMin(
    count.map((sucks) => -sucks),
    WINDOW / 2,
  );
  const mlPerSuck = bestFactor(atSec, per, truth, truth.flow10MlPerMin);
  const mlPerSuckCentred = bestFactor(atSec, perCentred, truth, truth.flow10CentredMlPerMin);
  const intakeMl = count.map((sucks) => sucks * mlPerSuck);
  return {
    atSec,
    flowMlPerMin: per.map((value) => value * mlPerSuck),
    centredFlowMlPerMin: perCentred.map((value) => value * mlPerSuckCentred),
    milkMl: intakeMl.map((ml) => truth.milkMl[0]! - ml),
    intakeMl,
  };
}
