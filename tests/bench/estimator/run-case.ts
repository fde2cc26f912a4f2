/** One feed through the sensor and through every baseline, judged alike. */
import {
  createSensor,
  type RefinedFeed,
  refineFeed,
  type SensedMoment,
  type SensorSample,
  senseSample,
  takeEvents,
} from '../../../src/sensing/index.ts';
import { samplesOf } from '../../support/captures.ts';
import { feedSpan } from '../../support/judge.ts';
import {
  bestConstant,
  countedSucks,
  type Estimate,
  plainScale,
  savitzkyGolay,
  tipAverage,
  untunedFilter,
} from '../baselines.ts';
import type { BenchFeed } from '../bench-feeds.ts';
import { loadBlocks } from '../load-blocks.ts';
import type { Case } from './cases.ts';
import { generalKalman } from './general-kalman.ts';
import { type OwnScore, type Score, scoreBaseline, scoreOwn } from './score.ts';
import { FAST_ML_PER_MIN } from './targets.ts';

export const RIVALS = ['constant', 'sucks', 'tip', 'scale', 'slope', 'kalman', 'fourStates'] as const;
export type Rival = (typeof RIVALS)[number];

export interface CaseResult {
  group: Case['group'];
  name: string;
  fast: boolean;
  meanMlPerMin: number;
  own: OwnScore;
  rivals: Record<Rival, Score>;
  /** The sensor's own way with a perfect sleeve; null where not asked for. */
  perfect: Score | null;
}

export function senseFeed(
  samples: readonly SensorSample[],
  calibration: BenchFeed['calibration'],
  refinable = true,
): { moments: SensedMoment[]; refined: RefinedFeed } {
  const sensor = createSensor(calibration, { refinable });
  const moments: SensedMoment[] = [];
  for (const sample of samples) {
    const moment = senseSample(sensor, sample);
    if (moment === null) continue;
    moments.push(moment);
    takeEvents(sensor);
  }
  return { moments, refined: refineFeed(sensor) };
}

function ownOf({ bytes, calibration, truth }: BenchFeed): OwnScore {
  const { moments, refined } = senseFeed(samplesOf(bytes), calibration);
  return scoreOwn(moments, refined, truth);
}

/** The slope centred on five seconds ago is the flow of the ten seconds past. */
const liveToo = (slope: Estimate): Estimate => ({
  ...slope,
  flowMlPerMin: slope.centredFlowMlPerMin!.map((_, i, all) => all[Math.max(0, i - 100)]!),
});

export function runCase({ group, name, feed, perfect }: Case): CaseResult {
  const { bytes, calibration, truth } = feed();
  const samples = samplesOf(bytes);
  const { moments, refined } = senseFeed(samples, calibration);
  const blocks = loadBlocks(samples, calibration);
  const scale = plainScale(blocks, calibration);
  const estimates = {
    constant: bestConstant(scale.atSec, truth),
    sucks: countedSucks(moments, truth),
    tip: tipAverage(blocks, calibration),
    scale,
    slope: liveToo(savitzkyGolay(scale)),
    kalman: generalKalman(blocks, calibration),
    fourStates: untunedFilter(blocks, calibration),
  };
  const { firstSec, lastSec } = feedSpan(truth);
  const meanMlPerMin = (60 * truth.intakeSoFarMl.at(-1)!) / (lastSec - firstSec);
  return {
    group,
    name,
    fast: meanMlPerMin > FAST_ML_PER_MIN,
    meanMlPerMin,
    own: scoreOwn(moments, refined, truth),
    rivals: Object.fromEntries(
      RIVALS.map((rival) => [rival, scoreBaseline(estimates[rival], truth)]),
    ) as Record<Rival, Score>,
    perfect: perfect && ownOf(perfect()),
  };
}
