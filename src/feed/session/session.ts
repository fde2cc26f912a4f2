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
import { createEngine, type Engine, type EngineTick, endEngine, refineEngine, runEngine } from '../engine.ts';
import type { FeedEndReason, FeedSetup, FeedState } from '../record/feed.ts';
import { type HeldFeed, handOver, holdBytes, holdFeed, MOST_HELD_BYTES } from '../record/held.ts';
import type { FeedKeeper } from '../record/keeper.ts';
import { createKeeping, type Keeping, keepForSure, type Trouble, tryToKeep } from '../record/keeping.ts';
import { isRowDue } from '../replay.ts';
import type { Guided } from './guided.ts';
import { forgetWhose, guideAnew, UNGUIDED } from './session-guide.ts';

/** A feed without the teat in the mouth for this long is over (common practice, no source). */
export const TEAT_AWAY_SEC = 45 * 60;
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
  /** Bytes held in memory at most while the keeper takes nothing; `MOST_HELD_BYTES` unless a test says otherwise. */
  mostHeldBytes?: number;
}

interface OpenFeed {
  engine: Engine;
  held: HeldFeed;
  lastRowSec: number;
  /** Device time of the first latch, seconds; null until this feed's own engine has seen it. */
  firstLatchSec: number | null;
  lastTeatSec: number;
  endAsked: boolean;
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

export const watchingEngine = (options: SessionOptions): Engine =>
  createEngine({ calibration: options.calibration, portionMl: null, refinable: false });

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
    withheld: guided.withholds ?? false,
  };
  session.feed = feed;
  session.lastHeld = feed.held;
  session.because = {};
  hold(session, feed.held, bytes);
  if (feed.withheld) feed.held.part.events.push({ kind: 'cues-withheld', atSec: 0 });
  runEngine(engine, bytes, (tick) => takeTick(session, tick));
  engine.gauge = session.watcher.gauge;
  const atSec = engine.timeline.atMicros / 1e6;
  feed.lastTeatSec = atSec;
  // Whatever the button said before the latch was not about this feed.
  feed.endAsked = false;
  feed.held.summary.sampleZeroAtMs = nowMs - atSec * 1000;
  keepPart(session);
}

function takeTick(session: Session, tick: EngineTick): void {
  const feed = session.feed;
  if (!feed) return;
  const { moment } = tick;
  const { part } = feed.held;
  session.lastTick = tick;
  if (moment.teatInMouth) feed.lastTeatSec = moment.atSec;
  if (tick.endRequested) feed.endAsked = true;
  for (const cue of tick.cues) {
    part.cues.push(cue);
    session.because[cue.kind] = cue.because;
  }
  for (const event of tick.events) {
    part.events.push(event);
    if (event.kind === 'teat-in') feed.firstLatchSec ??= event.atSec;
  }
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

function endIfAsked(session: Session, nowMs: number): void {
  const { feed, lastTick } = session;
  if (!feed || !lastTick) return;
  if (feed.endAsked) endFeed(session, 'button', nowMs);
  else if (lastTick.moment.atSec - feed.lastTeatSec >= TEAT_AWAY_SEC) endFeed(session, 'teat-away', nowMs);
}

/** Hands what has come since the last call to the keeper, once a second. A full disk is said and tried again. */
export function keepPart(session: Session): void {
  const { feed, keeping } = session;
  if (feed || keeping.waiting.length > 0) tryToKeep(keeping, () => feed && handPart(session, feed.held));
}

/** @throws what the keeper throws; then all of it is still held */
export const handPart = ({ options }: Session, held: HeldFeed): void => handOver(held, options.keeper);

function hold({ options, unkept }: Session, held: HeldFeed, bytes: Uint8Array): void {
  const heldBytes = unkept.reduce((sum, other) => sum + other.heldBytes, held.heldBytes);
  holdBytes(held, bytes, (options.mostHeldBytes ?? MOST_HELD_BYTES) - heldBytes);
}

/** Ends the open feed: keeps the rest, refines, and watches for the next latch. */
export function endFeed(session: Session, endReason: FeedEndReason, nowMs: number): void {
  const { feed, options } = session;
  if (!feed) return;
  endEngine(feed.engine);
  keepPart(session);
  // Once, and not at each try: it takes a while, and meanwhile nobody is guided.
  const refined = options.refinesLater ? null : refineEngine(feed.engine);
  const { id } = feed.held.summary;
  keepToTheEnd(session, feed.held, () => options.keeper.finish(id, { endReason, endedAtMs: nowMs, refined }));
  closeFeed(session, feed, 'ended');
}

/** "Not a feed": the open one, or the one just ended. */
export function discardFeed(session: Session): void {
  const { feed, lastFeed, options } = session;
  if (feed) {
    keepToTheEnd(session, feed.held, () => options.keeper.discard(feed.held.summary.id));
    closeFeed(session, feed, 'discarded');
  } else if (lastFeed && lastFeed.state === 'ended') {
    keepForSure(session.keeping, () => options.keeper.discard(lastFeed.id));
    session.lastFeed = { ...lastFeed, state: 'discarded' };
  }
}

function keepToTheEnd(session: Session, held: HeldFeed, end: () => void): void {
  session.unkept.push(held);
  keepForSure(session.keeping, () => {
    handPart(session, held);
    end();
    held.over = true;
    session.unkept = session.unkept.filter((other) => other !== held);
  });
}

function closeFeed(session: Session, feed: OpenFeed, state: FeedState): void {
  session.lastFeed = { id: feed.held.summary.id, state, elapsedSec: elapsedSec(feed) };
  session.feed = null;
  session.lastTick = null;
  session.watcher = watchingEngine(session.options);
  session.watcher.gauge = feed.engine.gauge;
  forgetWhose(session);
  guideAnew(session);
}

const elapsedSec = ({ engine, firstLatchSec }: OpenFeed): number =>
  firstLatchSec === null ? 0 : engine.timeline.atMicros / 1e6 - firstLatchSec;

/** Device time since the first latch, seconds; null before any feed. */
export const sessionElapsedSec = ({ feed, lastFeed }: Session): number | null =>
  feed ? elapsedSec(feed) : (lastFeed?.elapsedSec ?? null);
