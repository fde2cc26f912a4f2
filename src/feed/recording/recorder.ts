/**
 * Records the feeds of one sleeve, without clock or RxJS: watches for a latch, opens a feed, collects what is to be stored, ends the feed.
 *
 * A feed is the replay of its own capture: at the latch a new engine starts with the bytes of the last minute, and every byte of the capture goes
 * through it. So a later replay of the capture gives the same rows and cues.
 */
import { createPreRoll, type PreRoll } from '../../../firmware-bridge/links/pre-roll.ts';
import type { CueKind } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import type { Calibration } from '../../sensing/index.ts';
import { createEngine, type Engine, type EngineTick, runEngine } from '../engine.ts';
import type { FeedEvent, FeedSetup, FeedState, ToldCue } from '../record/feed.ts';
import type { FeedStorage } from '../record/feed-storage.ts';
import { type HeldFeed, holdFeed } from '../record/held.ts';
import { createPendingWrites, type PendingWrites, type Trouble } from '../record/pending-writes.ts';
import { isRowDue } from '../replay.ts';
import { endIfAsked, watchingEngine } from './ending.ts';
import type { Guided } from './guided.ts';
import { addEvent, repeatHostEvents } from './host-events.ts';
import { hold, keepPart } from './keep-part.ts';
import { guideAnew, UNGUIDED } from './next-feed.ts';
export const PRE_ROLL_SEC = 60;

export interface RecorderOptions {
  calibration: Calibration;
  storage: FeedStorage;
  newFeedId: (startedAtMs: number) => string;
  simulated: boolean;
  sleeveId: string;
  /** Gives the settings of a feed with these answers; asked before each feed. */
  guide?: (setup: FeedSetup) => Guided;
  /** True where the refined pass is made elsewhere after the feed: it takes a second or more, in which guidance would stand still. */
  refinesLater?: boolean;
  /** Called when a feed opens, with the number of bytes that it began with. */
  onOpened?: (recorder: Recorder, bytes: number) => void;
  /** Bytes held in memory at most while the storage fails; `MOST_HELD_BYTES` unless a test says otherwise. */
  mostHeldBytes?: number;
}

export interface OpenFeed {
  engine: Engine;
  held: HeldFeed;
  lastRowSec: number;
  /** Device time of the first latch, seconds; null until this feed's own engine has seen it. */
  firstLatchSec: number | null;
  lastTeatSec: number;
  endAsked: boolean;
  /** Device time at which it was opened, seconds; button presses before it do not concern this feed. */
  openedSec: number;
  /** All host events of the feed, and those of them that still have to be repeated in a feed that was taken over. */
  noted: FeedEvent[];
  toRepeat: FeedEvent[];
  /** All that a caregiver was shown in the feed. */
  told: ToldCue[];
  /** Cues about pacing are not shown: the feed is a session of a study. */
  withheld: boolean;
  /** The caregiver who took over during the feed. */
  caregiverNow?: string | null;
}

export interface Recorder {
  /** Calibration and number are those of the sleeve that is attached now. */
  options: RecorderOptions;
  preRoll: PreRoll;
  setup: FeedSetup;
  watcher: Engine;
  feed: OpenFeed | null;
  lastFeed: { id: string; state: FeedState; elapsedSec: number } | null;
  lastTick: EngineTick | null;
  /** Accepted samples so far, of all engines. */
  accepted: number;
  readonly pending: PendingWrites;
  /** Ended feeds that are not stored yet, oldest first. */
  unkept: HeldFeed[];
  /** The feed that was opened last, for notices about its lost bytes. */
  lastHeld: HeldFeed | null;
  /** Why the settings of the next feed could not be read. */
  guideTrouble: Trouble | null;
  /** Settings of the open feed, else of the next one. */
  guided: Guided;
  /** The baby that `guided` belongs to; absent until it was read. */
  guidedWhom?: string;
  /** The latest reason of each kind of cue in this feed. */
  because: Partial<Record<CueKind, Reason>>;
}

export function createRecorder(options: RecorderOptions): Recorder {
  const recorder: Recorder = {
    options,
    preRoll: createPreRoll(PRE_ROLL_SEC),
    setup: options.storage.readSetup(),
    watcher: watchingEngine(options),
    feed: null,
    lastFeed: null,
    lastTick: null,
    accepted: 0,
    pending: createPendingWrites(),
    unkept: [],
    lastHeld: null,
    guideTrouble: null,
    guided: UNGUIDED,
    because: {},
  };
  guideAnew(recorder);
  return recorder;
}

/** Takes received bytes. @param nowMs wall time, for labels only */
export function takeBytes(recorder: Recorder, bytes: Uint8Array, nowMs: number): void {
  const engine = recorder.feed?.engine ?? recorder.watcher;
  const before = engine.timeline.accepted;
  if (recorder.feed) {
    hold(recorder, recorder.feed.held, bytes);
    runEngine(recorder.feed.engine, bytes, (tick) => takeTick(recorder, tick));
    recorder.accepted += engine.timeline.accepted - before;
    endIfAsked(recorder, nowMs);
    return;
  }
  let latched = false;
  runEngine(recorder.watcher, bytes, (tick) => {
    recorder.lastTick = tick;
    if (tick.events.some((event) => event.kind === 'teat-in')) latched = true;
  });
  recorder.preRoll.push(bytes, engine.timeline.atMicros / 1e6);
  recorder.accepted += engine.timeline.accepted - before;
  if (latched) openFeed(recorder, nowMs);
}

function openFeed(recorder: Recorder, nowMs: number): void {
  guideAnew(recorder);
  const { options, setup, guided } = recorder;
  const bytes = recorder.preRoll.take();
  const engine = createEngine({
    calibration: options.calibration,
    portionMl: setup.portionMl,
    refinable: !options.refinesLater,
    ...guided.ran,
  });
  const id = options.newFeedId(nowMs);
  const feed: OpenFeed = {
    engine,
    held: holdFeed(options.calibration, {
      id,
      startedAtMs: nowMs,
      sampleZeroAtMs: nowMs,
      endedAtMs: null,
      state: 'open',
      endReason: null,
      simulated: options.simulated,
      sleeveId: options.sleeveId,
      setup,
      ...(guided.ran && { ran: guided.ran }),
      intakeMl: 0,
      spiltMl: 0,
      addedMl: 0,
      durationSec: 0,
      captureFile: null,
    }),
    lastRowSec: Number.NEGATIVE_INFINITY,
    firstLatchSec: null,
    lastTeatSec: 0,
    endAsked: false,
    openedSec: Number.POSITIVE_INFINITY,
    noted: [],
    toRepeat: [],
    told: [],
    withheld: guided.withholds ?? false,
  };
  recorder.feed = feed;
  recorder.lastHeld = feed.held;
  recorder.because = {};
  hold(recorder, feed.held, bytes);
  if (feed.withheld) addEvent(feed, { kind: 'cues-withheld', atSec: 0 });
  runEngine(engine, bytes, (tick) => takeTick(recorder, tick));
  engine.gauge = recorder.watcher.gauge;
  const atSec = engine.timeline.atMicros / 1e6;
  feed.lastTeatSec = atSec;
  feed.openedSec = atSec;
  feed.held.summary.sampleZeroAtMs = nowMs - atSec * 1000;
  options.onOpened?.(recorder, bytes.length);
  keepPart(recorder);
}

function takeTick(recorder: Recorder, tick: EngineTick): void {
  const feed = recorder.feed;
  if (!feed) return;
  const { moment } = tick;
  const { part } = feed.held;
  recorder.lastTick = tick;
  if (moment.teatInMouth) feed.lastTeatSec = moment.atSec;
  if (tick.endRequested && moment.atSec > feed.openedSec) feed.endAsked = true;
  for (const cue of tick.cues) {
    part.cues.push(cue);
    recorder.because[cue.kind] = cue.because;
  }
  for (const event of tick.events) {
    part.events.push(event);
    if (event.kind === 'teat-in') feed.firstLatchSec ??= event.atSec;
  }
  if (feed.toRepeat.length > 0) repeatHostEvents(feed, moment.atSec);
  if (isRowDue(moment.atSec, feed.lastRowSec)) {
    feed.lastRowSec = moment.atSec;
    part.rows.push({
      atSec: moment.atSec,
      milkMl: moment.milkMl,
      flowMlPerMin: moment.flowMlPerMin,
      intakeMl: moment.intakeMl,
      teatInMouth: moment.teatInMouth,
      tiltDeg: moment.tiltDeg,
    });
  }
  part.intakeMl = moment.intakeMl;
  part.spiltMl = moment.spiltMl;
  part.addedMl = moment.addedMl;
  part.durationSec = feed.firstLatchSec === null ? 0 : Math.max(0, feed.lastTeatSec - feed.firstLatchSec);
}
