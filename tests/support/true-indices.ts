/** Indices of nutritive sucking from the truth of a simulated feed, by the same definitions. */
import { burstsOf, intervalsIn, pausesOf } from '../../src/research/indices/bursts.ts';
import type { IndexKey } from '../../src/research/indices/definitions.ts';
import { mean, percentile } from '../../src/research/indices/intervals.ts';
import type { FeedTruth } from '../../src/simulation/truth.ts';

export function trueIndices(truth: FeedTruth, portionMl: number): Partial<Record<IndexKey, number>> {
  const { atSec, onMouth, intakeSoFarMl: intake, flow10CentredMlPerMin: flow } = truth;
  const first = onMouth.indexOf(1);
  const last = onMouth.lastIndexOf(1);
  const fromSec = atSec[first]!;
  const toSec = atSec[last]!;
  const lengthSec = toSec - fromSec;
  const sucks = truth.suckTimes.filter((sec) => sec >= fromSec - 1 && sec <= toSec);
  const bursts = burstsOf(sucks);
  const isIn = (a: number, b: number) => !atSec.some((sec, i) => sec > a && sec < b && !onMouth[i]);
  const pauses = pausesOf(bursts, isIn);
  const all = intake[last]!;
  const suckingSec = bursts.reduce((sum, { fromSec: a, toSec: b }) => sum + b - a, 0);
  const inMouth = flow.filter((_, i) => i >= first && i <= last && onMouth[i]);
  const timeTo = (share: number) => (atSec[intake.findIndex((ml) => ml >= share * all)]! - fromSec) / 60;
  const atFive = intake[atSec.findLastIndex((sec) => sec <= fromSec + 300)]!;
  let runs = 0;
  let length = 0;
  for (const ml of inMouth) {
    length = ml >= 6 ? length + 1 : 0;
    if (length === 40) runs++;
  }
  return {
    intakeMl: all,
    durationMin: lengthSec / 60,
    transferRateMlPerMin: (60 * all) / lengthSec,
    ...(lengthSec >= 300 && { proficiencyPercent: (100 * atFive) / portionMl }),
    overallTransferPercent: (100 * all) / portionMl,
    suckCount: sucks.length,
    suckRatePerMin: 60 / mean(intervalsIn(sucks)),
    burstCount: bursts.length,
    sucksPerBurst: bursts.reduce((sum, { sucks: n }) => sum + n, 0) / bursts.length,
    burstLengthSec: suckingSec / bursts.length,
    ...(pauses.length > 0 && { pauseLengthSec: mean(pauses) }),
    volumePerSuckMl: all / sucks.length,
    suckingSharePercent: (100 * suckingSec) / lengthSec,
    flowWhileSuckingMlPerMin: (60 * all) / suckingSec,
    flowMedianMlPerMin: percentile(inMouth, 0.5),
    flowP90MlPerMin: percentile(inMouth, 0.9),
    timeToHalfMin: timeTo(0.5),
    timeTo80PercentMin: timeTo(0.8),
    highFlowPeriods: runs,
    leakageMl: truth.spiltMl,
  };
}
