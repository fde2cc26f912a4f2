/**
 * One sleeve's sessions, apart from clock and RxJS: watches for a latch, opens a feed, gathers what is to be kept, ends it.
 *
 * A feed is the replay of its own capture as it grows: at the latch a new engine starts with the last minute's bytes, and every byte that goes into the
 * capture goes through it. So a later replay of the capture gives the same rows and cues.
 */
import { createPreRoll, type PreRoll } from '../../../firmware-bridge/links/pre-roll.ts';
import type { CueKind } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import type { Calibration } from '../../sensing/index.ts';
import { createEngine, type Engine, type EngineTick, runEngine } from '../engine.ts';
import type { FeedEvent, FeedSetup, FeedState } from '../record/feed.ts';
import { type HeldFeed, holdFeed } from '../record/held.ts';
import type { FeedKeeper } from '../record/keeper.ts';
import { createKeeping, type Keeping, type Trouble } from '../record/keeping.ts';
import { isRowDue } from '../replay.ts';
import type { Guided } from './guided.ts';
import { hearAgain, noteOf } from './noted.ts';
import { endIfAsked, watchingEngine } from './session-end.ts';
import { guideAnew, UNGUIDED } from './session-guide.ts';
import { hold, keepPart } from './session-keep.ts';
export const PRE_ROLL_SEC = 60;

export interface SessionOptions {
  calibration: Calibration;
  keeper: FeedKeeper;
  newFeedId: (startedAtMs: number) => string;
  simulated: boolean;
  sleeveId: string;
  /** What a feed with these answers runs with; asked before each feed. */
  guide?: (setup: FeedSetup) => Guided;
  /** True where the refined pass is made elsewhere after the feed: it takes a second or more, in which nobody would be guided. */
  refinesLater?: boolean;
  /** Told of each feed as it opens, and how many bytes it began with. */
  onOpened?: (session: Session, bytes: number) => void;
  /** Bytes held in memory at most while the keeper takes nothing; `MOST_HELD_BYTES` unless a test says otherwise. */
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
  /** Device time at which it was opened, seconds: what the button said before is not about it. */
  openedSec: number;
  /** All events of it that no sample tells, and those of them that a feed that was taken over has yet to hear. */
  noted: FeedEvent[];
  toHear: FeedEvent[];
  /** Cues about the practice of pacing are not shown: a session of a study. */
  withheld: boolean;
  /** Who goes on with it, once it was handed over. */
  caregiverNow?: string | null;
}

export interface Session {
  /** Calibration and number are those of the sleeve that is there now. */
  options: SessionOptions;
  preRoll: PreRoll;
  setup: FeedSetup;
  watcher: Engine;
  feed: OpenFeed | null;
  lastFeed: { id: string; state: FeedState; elapsedSec: number } | null;
  lastTick: EngineTick | null;
  /** Accepted samples so far, whatever engine took them. */
  accepted: number;
  readonly keeping: Keeping;
  /** Feeds that are over and not kept yet, oldest first. */
  unkept: HeldFeed[];
  /** The feed that was open last, for what is said of it. */
  lastHeld: HeldFeed | null;
  /** Why it could not be asked what the next feed runs with. */
  guideTrouble: Trouble | null;
  /** What the next feed runs with, or the open one. */
  guided: Guided;
  /** Whom `guided` is about; absent until it could be asked. */
  guidedWhom?: string;
  /** Why each kind of cue last fired in this feed. */
  because: Partial<Record<CueKind, Reason>>;
}

export function createSession(options: SessionOptions): Session {
  const session: Session = {
    options,
    preRoll: createPreRoll(PRE_ROLL_SEC),
    setup: options.keeper.readSetup(),
    watcher: watchingEngine(options),
    feed: null,
    lastFeed: null,
    lastTick: null,
    accepted: 0,
    keeping: createKeeping(),
    unkept: [],
    lastHeld: null,
    guideTrouble: null,
    guided: UNGUIDED,
    because: {},
  };
  guideAnew(session);
  return session;
}

/** Bytes as they came. @param nowMs wall time, for labels only */
export function takeBytes(session: Session, bytes: Uint8Array, nowMs: number): void {
  const engine = session.feed?.engine ?? session.watcher;
  const before = engine.timeline.accepted;
  if (session.feed) {
    hold(session, session.feed.held, bytes);
    runEngine(session.feed.engine, bytes, (tick) => takeTick(session, tick));
    session.accepted += engine.timeline.accepted - before;
    endIfAsked(session, nowMs);
    return;
  }
  let latched = false;
  runEngine(session.watcher, bytes, (tick) => {
    session.lastTick = tick;
    if (tick.events.some((event) => event.kind === 'teat-in')) latched = true;
  });
  session.preRoll.push(bytes, engine.timeline.atMicros / 1e6);
  session.accepted += engine.timeline.accepted - before;
  if (latched) openFeed(session, nowMs);
}

function openFeed(session: Session, nowMs: number): void {
  guideAnew(session);
  const { options, setup, guided } = session;
  const bytes = session.preRoll.take();
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
    toHear: [],
    withheld: guided.withholds ?? false,
  };
  session.feed = feed;
  session.lastHeld = feed.held;
  session.because = {};
  hold(session, feed.held, bytes);
  if (feed.withheld) noteOf(feed, { kind: 'cues-withheld', atSec: 0 });
  runEngine(engine, bytes, (tick) => takeTick(session, tick));
  engine.gauge = session.watcher.gauge;
  const atSec = engine.timeline.atMicros / 1e6;
  feed.lastTeatSec = atSec;
  feed.openedSec = atSec;
  feed.held.summary.sampleZeroAtMs = nowMs - atSec * 1000;
  options.onOpened?.(session, bytes.length);
  keepPart(session);
}

function takeTick(session: Session, tick: EngineTick): void {
  const feed = session.feed;
  if (!feed) return;
  const { moment } = tick;
  const { part } = feed.held;
  session.lastTick = tick;
  if (moment.teatInMouth) feed.lastTeatSec = moment.atSec;
  if (tick.endRequested && moment.atSec > feed.openedSec) feed.endAsked = true;
  for (const cue of tick.cues) {
    part.cues.push(cue);
    session.because[cue.kind] = cue.because;
  }
  for (const event of tick.events) {
    part.events.push(event);
    if (event.kind === 'teat-in') feed.firstLatchSec ??= event.atSec;
  }
  if (feed.toHear.length > 0) hearAgain(feed, moment.atSec);
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
