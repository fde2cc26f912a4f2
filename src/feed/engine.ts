/**
 * The engine of a feed: bytes in, ticks out. Scanner → device clock → sensing → pacing, each a pure step with its state here.
 * Live, replayed and tested feeds all run through it, so the same bytes give the same cues.
 */

import {
  createScanner,
  finishScan,
  type Identity,
  type Motion,
  SAMPLE_FLAGS,
  type Sample,
  type Scanner,
  scan,
  stepMotion,
  stepTimeline,
  TIMELINE_START,
  type Timeline,
  type TimelineStep,
  type WireSink,
} from '../../firmware-bridge/wire/index.ts';
import { type BatteryGauge, GAUGE_START, stepGauge } from '../base/battery-gauge.ts';
import type { Cue, CueKind, PacingInput, ShownCue } from '../pacing/cues/cue.ts';
import type { Guidance } from '../pacing/guidance.ts';
import { createPacing, noteBurped, type PacingState, stepPacing, turnOff } from '../pacing/pacing.ts';
import type { PaceProfile } from '../pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../pacing/profile/shipped-profile.ts';
import {
  type Calibration,
  createLatestIntakes,
  createSensor,
  type EarlierSucks,
  noteLoneMotion,
  type RefinedFeed,
  readLatestIntakes,
  refineFeed,
  type SensedMoment,
  type SensingEvent,
  type Sensor,
  senseSample,
  takeEvents,
} from '../sensing/index.ts';
import { coverTiltDeg, headMm, type TeatCover } from '../sensing/loads/teat-cover.ts';

export interface EngineOptions {
  calibration: Calibration;
  /** Planned portion, mL; only the cue to switch sides uses it. Null: not known; the weight at the start may be used instead (a family's switch). */
  portionMl: number | null;
  profile?: PaceProfile;
  /** The family's settings; without them only the four cues of the sleeve contract. */
  guidance?: Guidance;
  densityGramsPerMl?: number;
  /** False for an engine that only watches for a latch. */
  refinable?: boolean;
  /** What a suck gave in earlier feeds with this baby and nipple; absent: not known. */
  earlierSucks?: EarlierSucks;
}

/** Result of one step of 50 ms. */
export interface EngineTick {
  moment: SensedMoment;
  events: readonly SensingEvent[];
  cues: readonly Cue[];
  /** The one cue to show now. */
  showing: ShownCue | null;
  /** The bottle is held steeply and this is to be said now; only while there is no cue. */
  heldSteeply: boolean;
  /** How far ahead of the pace: 0 to 1, where 1 is the mark at which a cue comes; null while the estimate may not be used. */
  aheadOfPace: number | null;
  endRequested: boolean;
}

/** Counts of received samples; `rejected` counts sample headers that did not lead to a valid sample. */
export interface FrameCounts {
  accepted: number;
  rejected: number;
  missing: number;
  duplicates: number;
}

export interface Engine {
  readonly scanner: Scanner;
  readonly sensor: Sensor;
  readonly pacing: PacingState;
  readonly sink: WireSink;
  readonly pacingInput: PacingInput;
  /** Null where nothing uses the milk's height over the nipple's hole. */
  readonly cover: TeatCover | null;
  coverAtSec: number;
  timeline: Timeline;
  /** Consecutive samples that reported a low supply voltage. */
  supplyLowRun: number;
  /** Stays true once the low supply lasted `SUPPLY_LOW_SAMPLES`; a chip with new batteries starts with a new engine state. */
  supplyLow: boolean;
  /** Battery gauge of the sleeve; it starts anew when the chip resets. */
  gauge: BatteryGauge;
  identity: Identity | null;
  onTick: (tick: EngineTick) => void;
}

/** The nipple's hole is computed twice a second only: a hand moves slowly, and finding the surface costs several bisection steps. */
const COVER_EACH_SEC = 0.5;

/** Half a second of samples: the dip caused by a motor start or a flash of the light is shorter. */
const SUPPLY_LOW_SAMPLES = 40;

const NO_EVENTS: readonly SensingEvent[] = Object.freeze([]);
const ignore = () => {};

/** @throws PlainError when the portion or the profile is impossible */
export function createEngine(options: EngineOptions): Engine {
  const sensor = createSensor(options.calibration, {
    ...(options.densityGramsPerMl !== undefined && { densityGramsPerMl: options.densityGramsPerMl }),
    refinable: options.refinable ?? true,
    ...(options.earlierSucks && { earlierSucks: options.earlierSucks }),
  });
  const engine: Engine = {
    scanner: createScanner(),
    sensor,
    pacing: createPacing(options.profile ?? SHIPPED_PROFILE, {
      portionMl: options.portionMl,
      ...(options.guidance && { guidance: options.guidance }),
    }),
    sink: {
      sample: (sample) => takeSample(engine, sample),
      motion: (motion) => takeMotion(engine, motion),
      identity: (identity) => {
        engine.identity = identity;
      },
      battery: ({ millivolts }) => {
        engine.gauge = stepGauge(engine.gauge, millivolts);
      },
    },
    pacingInput: {
      atSec: 0,
      stepSec: 0,
      intakeMl: 0,
      teatInMouth: false,
      tiltDeg: 0,
      suckCount: 0,
      lastSuckAtSec: null,
      quality: 'none',
      buttonDown: false,
      recentIntake: createLatestIntakes(),
    },
    cover: options.guidance?.cover ? sensor.bottle.cover : null,
    coverAtSec: Number.NEGATIVE_INFINITY,
    timeline: TIMELINE_START,
    supplyLowRun: 0,
    supplyLow: false,
    gauge: GAUGE_START,
    identity: null,
    onTick: ignore,
  };
  return engine;
}

/** Takes received bytes in any split; calls `onTick` for every completed tick. */
export function runEngine(engine: Engine, bytes: Uint8Array, onTick: (tick: EngineTick) => void): void {
  engine.onTick = onTick;
  scan(engine.scanner, bytes, engine.sink);
  engine.onTick = ignore;
}

/** Call it when the bytes have ended: an unfinished message is counted as a fault. */
export const endEngine = (engine: Engine): void => finishScan(engine.scanner);

/** The page's "Burped". @returns time of the last step, after which it counts, seconds; a replay applies it at the same time */
export function burpedByPage(engine: Engine): number {
  const { atSec } = engine.pacingInput;
  noteBurped(engine.pacing, atSec);
  return atSec;
}

/** Turns off cues that this baby must not have, during the feed. @returns as `burpedByPage` */
export function turnOffCues(engine: Engine, kinds: readonly CueKind[]): number {
  turnOff(engine.pacing, kinds);
  return engine.pacingInput.atSec;
}

/** Best estimate of the whole feed so far. */
export const refineEngine = (engine: Engine): RefinedFeed => refineFeed(engine.sensor);

export const frameCounts = ({ scanner, timeline }: Engine): FrameCounts => ({
  accepted: timeline.accepted,
  rejected: scanner.counts.rejected,
  missing: timeline.missing,
  duplicates: timeline.duplicates,
});

function takeSample(engine: Engine, sample: Sample): void {
  noteSupply(engine, sample.flags);
  stepEngine(engine, stepTimeline(engine.timeline, sample));
}

function takeMotion(engine: Engine, motion: Motion): void {
  const alone = engine.timeline.motionsWithoutSample;
  stepEngine(engine, stepMotion(engine.timeline, motion));
  if (engine.timeline.motionsWithoutSample > alone) noteLoneMotion(engine.sensor);
}

function stepEngine(engine: Engine, { timeline, timed }: TimelineStep): void {
  engine.timeline = timeline;
  if (timed === null) return;
  const moment = senseSample(engine.sensor, timed);
  if (moment === null) return;
  const { pacingInput: input } = engine;
  input.atSec = moment.atSec;
  input.stepSec = moment.stepSec;
  input.intakeMl = moment.intakeMl;
  input.teatInMouth = moment.teatInMouth;
  input.tiltDeg = moment.tiltDeg;
  input.milkMl = moment.milkMl;
  input.suckCount = moment.suckCount;
  input.lastSuckAtSec = moment.lastSuckAtSec;
  input.quality = moment.quality === 'invalid' ? 'none' : moment.quality;
  input.buttonDown = moment.buttonDown;
  // Standard deviation of the flow over 10 s (mL/min) as that of a volume (mL): 10 s are a sixth of a minute.
  input.doubtMl = (moment.flowSdMlPerMin ?? 0) / 6;
  lookAtHole(engine, moment);
  if (input.recentIntake) readLatestIntakes(engine.sensor, input.recentIntake);
  const paced = stepPacing(engine.pacing, input);
  engine.onTick({
    moment,
    events: engine.sensor.fresh.length > 0 ? takeEvents(engine.sensor) : NO_EVENTS,
    cues: paced.cues,
    showing: paced.showing,
    heldSteeply: paced.heldSteeply,
    aheadOfPace: input.quality !== 'none' ? paced.aheadOfPace : null,
    endRequested: paced.endRequested,
  });
}

function noteSupply(engine: Engine, flags: number): void {
  if ((flags & SAMPLE_FLAGS.firstAfterReset) !== 0) {
    engine.supplyLow = false;
    engine.gauge = GAUGE_START;
  }
  engine.supplyLowRun = (flags & SAMPLE_FLAGS.supplyLow) === 0 ? 0 : engine.supplyLowRun + 1;
  if (engine.supplyLowRun >= SUPPLY_LOW_SAMPLES) engine.supplyLow = true;
}

function lookAtHole(engine: Engine, { atSec, milkMl, tiltDeg }: SensedMoment): void {
  const { cover, pacingInput: input } = engine;
  if (cover === null || atSec - engine.coverAtSec < COVER_EACH_SEC - 0.001) return;
  engine.coverAtSec = atSec;
  input.headMm = milkMl === null ? null : headMm(cover, milkMl, tiltDeg);
  input.coverTiltDeg = milkMl === null ? null : coverTiltDeg(cover, milkMl);
}
