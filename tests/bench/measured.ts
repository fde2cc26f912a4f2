/** One bench feed through the engine, and through every baseline, judged alike. */
import { createEngine, endEngine, refineEngine, runEngine } from '../../src/feed/engine.ts';
import type { Cue } from '../../src/pacing/cues/cue.ts';
import type { RefinedFeed, SensedMoment } from '../../src/sensing/index.ts';
import { samplesOf } from '../support/captures.ts';
import { feedSpan, type Judged, judge, type Truth, truthAt } from '../support/judge.ts';
import {
  bestConstant,
  countedSucks,
  type Estimate,
  plainScale,
  savitzkyGolay,
  untunedFilter,
} from './baselines.ts';
import type { BenchFeed } from './bench-feeds.ts';
import { loadBlocks } from './load-blocks.ts';

export interface Score {
  flowRmsMlPerMin: number | null;
  refinedRmsMlPerMin: number | null;
  milkRmsMl: number | null;
  intakeWorstMl: number | null;
}

export type Way = 'ebbline' | 'constant' | 'sucks' | 'scale' | 'slope' | 'fourStates';

export interface Measured {
  scores: Record<Way, Score>;
  judged: Judged;
  /** Of the whole intake, told − true, as known at the end and after the refined pass. */
  liveIntakeErrorMl: number;
  refinedIntakeErrorMl: number;
  /** Share of the feed's moments with a flow told at all; the unknown ones are judged as zero. */
  knownShare: number;
  trueSucks: number;
  cues: Cue[];
}

export function measure(feed: BenchFeed): Measured {
  const { bytes, calibration, truth } = feed;
  const { moments, cues, refined } = runFeed(feed);
  const blocks = loadBlocks(samplesOf(bytes), calibration);
  const scale = plainScale(blocks, calibration);
  const judged = judge(moments, truth);
  const ways: Record<Exclude<Way, 'ebbline'>, Estimate> = {
    constant: bestConstant(scale.atSec, truth),
    sucks: countedSucks(moments, truth),
    scale,
    slope: savitzkyGolay(scale),
    fourStates: untunedFilter(blocks, calibration),
  };
  const scores = { ebbline: ownScore(judged, refined, truth) } as Record<Way, Score>;
  for (const [way, estimate] of Object.entries(ways)) scores[way as Way] = scoreOf(estimate, truth);
  return {
    scores,
    judged,
    liveIntakeErrorMl: moments.at(-1)!.intakeMl - truth.intakeSoFarMl.at(-1)!,
    refinedIntakeErrorMl: refined.totals.intakeMl - truth.intakeSoFarMl.at(-1)!,
    knownShare: knownShare(moments, truth),
    trueSucks: truth.suckTimes.length,
    cues,
  };
}

function runFeed({ bytes, calibration }: BenchFeed): {
  moments: SensedMoment[];
  cues: Cue[];
  refined: RefinedFeed;
} {
  const engine = createEngine({ calibration, portionMl: null });
  const moments: SensedMoment[] = [];
  const cues: Cue[] = [];
  runEngine(engine, bytes, (tick) => {
    moments.push(tick.moment);
    cues.push(...tick.cues);
  });
  endEngine(engine);
  return { moments, cues, refined: refineEngine(engine) };
}

function knownShare(moments: readonly SensedMoment[], truth: Truth): number {
  const { firstSec, lastSec } = feedSpan(truth);
  const within = moments.filter(({ atSec }) => atSec >= firstSec && atSec <= lastSec);
  return within.filter(({ flowMlPerMin }) => flowMlPerMin !== null).length / Math.max(1, within.length);
}

function ownScore(judged: Judged, refined: RefinedFeed, truth: Truth): Score {
  const flow = refined.flowMlPerMin.map((value) => value ?? 0);
  return {
    flowRmsMlPerMin: judged.flowRmsMlPerMin,
    refinedRmsMlPerMin: centredRms(refined.atSec, flow, truth),
    milkRmsMl: judged.milkRmsMl,
    intakeWorstMl: judged.intakeWorstMl,
  };
}

/** A baseline's answers in the form of the sensor's moments, so that both are judged by the same code. */
function scoreOf(
  { atSec, flowMlPerMin, centredFlowMlPerMin, milkMl, intakeMl }: Estimate,
  truth: Truth,
): Score {
  const moments = atSec.map(
    (sec, i) =>
      ({
        atSec: sec,
        flowMlPerMin: flowMlPerMin?.[i] ?? null,
        milkMl: milkMl?.[i] ?? null,
        intakeMl: intakeMl?.[i] ?? 0,
        teatInMouth: false,
        suckCount: 0,
      }) as SensedMoment,
  );
  const judged = judge(moments, truth);
  return {
    flowRmsMlPerMin: flowMlPerMin && judged.flowRmsMlPerMin,
    refinedRmsMlPerMin: centredFlowMlPerMin && centredRms(atSec, centredFlowMlPerMin, truth),
    milkRmsMl: milkMl && judged.milkRmsMl,
    intakeWorstMl: intakeMl && judged.intakeWorstMl,
  };
}

/** Error of the centred flow within the feed; its last 5 s have no second half of their window. */
function centredRms(atSec: readonly number[], flow: readonly number[], truth: Truth): number {
  const { firstSec, lastSec } = feedSpan(truth);
  let sum = 0;
  let count = 0;
  atSec.forEach((sec, i) => {
    if (sec < firstSec || sec > lastSec - 5) return;
    sum += (flow[i]! - truthAt(truth, truth.flow10CentredMlPerMin, sec)) ** 2;
    count += 1;
  });
  return Math.sqrt(sum / Math.max(1, count));
}
