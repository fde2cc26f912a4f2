/** Replays a capture as fast as possible and returns the replay result (sleeve contract, section 6). Pure. */
import type { Cue } from '../pacing/cues/cue.ts';
import { completedProfile } from '../pacing/profile/profile.ts';
import type { Quality, QualityReason, RefinedFeed, SensingEvent } from '../sensing/index.ts';
import {
  burpedByPage,
  createEngine,
  type Engine,
  type EngineOptions,
  endEngine,
  type FrameCounts,
  frameCounts,
  refineEngine,
  runEngine,
  turnOffCues,
} from './engine.ts';
import type { FeedEvent, KeptFeed } from './record/feed.ts';

export interface ReplayResult {
  version: 1;
  frames: FrameCounts;
  durationSec: number;
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
  cues: Cue[];
  events: SensingEvent[];
  live: {
    atSec: number[];
    milkMl: (number | null)[];
    flowMlPerMin: (number | null)[];
    intakeMl: number[];
    onMouth: boolean[];
    flowSdMlPerMin: (number | null)[];
    milkSdMl: (number | null)[];
    quality: Quality[];
    /** Why a row is not good; null where it is. */
    reason: (QualityReason | null)[];
    suckCount: number[];
    sucksUncertain: boolean[];
  };
  refined: {
    atSec: number[];
    milkMl: (number | null)[];
    flowMlPerMin: (number | null)[];
    intakeMl: number[];
    onMouth: boolean[];
    milkSdMl: (number | null)[];
    flowSdMlPerMin: (number | null)[];
    quality: Quality[];
  };
}

/** Least device time between rows: under half a second, so that there are two rows a second even where samples are lost. */
const ROW_SEC = 0.4;

/** The device's clock jitters by some µs. */
const ROW_SLACK_SEC = 0.001;

/** @returns whether the live estimate of `atSec` becomes a row; `lastRowSec` is −∞ before the first. */
export const isRowDue = (atSec: number, lastRowSec: number): boolean =>
  atSec - lastRowSec >= ROW_SEC - ROW_SLACK_SEC;

const round = (value: number, digits: number): number => Number(value.toFixed(digits));
const roundOrNull = (value: number | null, digits: number): number | null =>
  value === null ? null : round(value, digits);

type Said = Extract<FeedEvent, { kind: 'burped' | 'cues-off' }>;

export interface ReplayOptions extends EngineOptions {
  /** Host events that cues depend on, by device time, rising. No sample shows them. */
  said?: readonly Said[];
}

/** @returns the settings a stored feed ran with, so that its capture gives the same cues again */
export function asItRan(
  { setup, ran, events }: Pick<KeptFeed, 'setup' | 'ran' | 'events'>,
  calibration: EngineOptions['calibration'],
): ReplayOptions {
  const said = events.filter((event) => event.kind === 'burped' || event.kind === 'cues-off');
  const by = ran && { ...ran, profile: completedProfile(ran.profile) };
  return { calibration, portionMl: setup.portionMl, said, ...by };
}

/**
 * @param chunks the capture's bytes in any split, in order
 * @returns the result, and the refined feed for those who draw it; `frames.accepted` is 0 when there was no sample
 */
export function replay(
  chunks: Iterable<Uint8Array>,
  options: ReplayOptions,
  onProgress?: (bytesDone: number) => void,
): { result: ReplayResult; refined: RefinedFeed } {
  const engine = createEngine(options);
  const said = options.said ?? [];
  let heard = 0;
  const cues: Cue[] = [];
  const events: SensingEvent[] = [];
  const live = noRows();
  let lastRowSec = Number.NEGATIVE_INFINITY;
  let bytesDone = 0;
  for (const chunk of chunks) {
    runEngine(engine, chunk, ({ moment, cues: fired, events: happened }) => {
      for (const cue of fired) cues.push(cue);
      for (const event of happened) events.push(event);
      for (; heard < said.length && said[heard]!.atSec <= moment.atSec; heard++) hear(engine, said[heard]!);
      if (!isRowDue(moment.atSec, lastRowSec)) return;
      lastRowSec = moment.atSec;
      live.atSec.push(round(moment.atSec, 4));
      live.milkMl.push(roundOrNull(moment.milkMl, 3));
      live.flowMlPerMin.push(roundOrNull(moment.flowMlPerMin, 3));
      live.intakeMl.push(round(moment.intakeMl, 3));
      live.onMouth.push(moment.teatInMouth);
      live.flowSdMlPerMin.push(roundOrNull(moment.flowSdMlPerMin, 3));
      live.milkSdMl.push(roundOrNull(moment.milkSdMl, 3));
      live.quality.push(moment.quality);
      live.reason.push(moment.reason);
      live.suckCount.push(moment.suckCount);
      live.sucksUncertain.push(moment.sucksUncertain);
    });
    bytesDone += chunk.length;
    onProgress?.(bytesDone);
  }
  endEngine(engine);
  const refined = refineEngine(engine);
  const result: ReplayResult = {
    version: 1,
    frames: frameCounts(engine),
    durationSec: round(engine.timeline.atMicros / 1e6, 4),
    intakeMl: round(refined.totals.intakeMl, 3),
    spiltMl: round(refined.totals.spiltMl, 3),
    addedMl: round(refined.totals.addedMl, 3),
    cues,
    events,
    live,
    refined: roundedRows(refined),
  };
  return { result, refined };
}

const noRows = (): ReplayResult['live'] => ({
  atSec: [],
  milkMl: [],
  flowMlPerMin: [],
  intakeMl: [],
  onMouth: [],
  flowSdMlPerMin: [],
  milkSdMl: [],
  quality: [],
  reason: [],
  suckCount: [],
  sucksUncertain: [],
});

const roundedRows = (refined: RefinedFeed): ReplayResult['refined'] => ({
  atSec: refined.atSec.map((v) => round(v, 4)),
  milkMl: refined.milkMl.map((v) => roundOrNull(v, 3)),
  flowMlPerMin: refined.flowMlPerMin.map((v) => roundOrNull(v, 3)),
  intakeMl: refined.intakeMl.map((v) => round(v, 3)),
  onMouth: refined.teatInMouth,
  milkSdMl: refined.milkSdMl.map((v) => roundOrNull(v, 3)),
  flowSdMlPerMin: (refined.flowSdMlPerMin ?? []).map((v) => roundOrNull(v, 3)),
  quality: refined.quality ?? [],
});

function hear(engine: Engine, said: Said): void {
  if (said.kind === 'burped') burpedByPage(engine);
  else turnOffCues(engine, said.cues);
}
