/**
 * One sleeve's sessions, apart from clock and RxJS: watches for a latch, opens a feed, gathers what is to be kept, ends it.
 *
 * A feed is the replay of its own capture as it grows: at the latch a new engine starts with the last minute's bytes, and every byte that goes into the
 * capture goes through it. So a later replay of the capture gives the same rows and cues.
 */
import { createPreRoll, type PreRoll } from '../../firmware-bridge/links/pre-roll.ts';
import type { CueKind } from '../pacing/cue.ts';
import type { PaceProfile } from '../pacing/profile.ts';
import type { Calibration } from '../sensing/index.ts';
import {
  burpedByPage,
  createEngine,
  type Engine,
  type EngineTick,
  endEngine,
  refineEngine,
  runEngine,
} from './engine.ts';
import type { FeedEndReason, FeedEvent, FeedSetup, FeedState, FeedSummary } from './feed.ts';
import type { Guided } from './guided.ts';
import type { FeedKeeper, FeedPart } from './keeper.ts';
import { createKeeping, type Keeping, keepForSure, tryToKeep } from './keeping.ts';
import { isRowDue } from './replay.ts';
import { forgetWhose, guideAnew, UNGUIDED } from './session-guide.ts';

/** A feed without the teat in the mouth for this long is over (common practice, no source). */
export const TEAT_AWAY_SEC = 45 * 60;
const PRE_ROLL_SEC = 60;

export interface SessionOptions {
  calibration: Calibration;
  keeper: FeedKeeper;
  newFeedId: (startedAtMs: number) => string;
  simulated: boolean;
  sleeveId: string;
  /** For every feed, whoever drinks; else what `guide` says. */
  profile?: PaceProfile;
  /** What a feed with these answers runs with; asked before each feed. */
  guide?: (setup: FeedSetup) => Guided;
}

interface OpenFeed {
  engine: Engine;
  summary: FeedSummary;
  part: FeedPart;
  /** False until the keeper has taken the feed: a full disk is tried again. */
  begun: boolean;
  lastRowSec: number;
  /** Device time of the first latch, seconds; null until this feed's own engine has seen it. */
  firstLatchSec: number | null;
  lastTeatSec: number;
  endAsked: boolean;
  /** Who goes on with it, once it was handed over. */
  caregiverNow?: string | null;
}

export interface Session {
  readonly options: SessionOptions;
  readonly preRoll: PreRoll;
  setup: FeedSetup;
  watcher: Engine;
  feed: OpenFeed | null;
  lastFeed: { id: string; state: FeedState; elapsedSec: number } | null;
  lastTick: EngineTick | null;
  /** Accepted samples so far, whatever engine took them. */
  accepted: number;
  readonly keeping: Keeping;
  /** What the next feed runs with, or the open one. */
  guided: Guided;
  /** Whom `guided` is about; absent until it could be asked. */
  guidedWhom?: string;
  /** Why each kind of cue last fired in this feed. */
  because: Partial<Record<CueKind, string>>;
}

const emptyPart = (): FeedPart => ({
  rows: [],
  cues: [],
  events: [],
  bytes: [],
  intakeMl: 0,
  spiltMl: 0,
  addedMl: 0,
  durationSec: 0,
});

const watchingEngine = (options: SessionOptions): Engine =>
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
    session.feed.part.bytes.push(bytes);
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
    ...guided.ran,
    ...(options.profile && { profile: options.profile }),
  });
  const id = options.newFeedId(nowMs);
  const feed: OpenFeed = {
    engine,
    summary: {
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
    },
    part: emptyPart(),
    begun: false,
    lastRowSec: Number.NEGATIVE_INFINITY,
    firstLatchSec: null,
    lastTeatSec: 0,
    endAsked: false,
  };
  session.feed = feed;
  session.because = {};
  feed.part.bytes.push(bytes);
  runEngine(engine, bytes, (tick) => takeTick(session, tick));
  const atSec = engine.timeline.atMicros / 1e6;
  feed.lastTeatSec = atSec;
  // Whatever the button said before the latch was not about this feed.
  feed.endAsked = false;
  feed.summary.sampleZeroAtMs = nowMs - atSec * 1000;
  keepPart(session);
}

function takeTick(session: Session, tick: EngineTick): void {
  const feed = session.feed;
  if (!feed) return;
  const { moment } = tick;
  const { part } = feed;
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

/** Something about the feed that no sample tells: the link, a pause of guidance. */
export function noteEvent(
  session: Session,
  kind: Extract<FeedEvent, { kind: 'link-lost' | 'link-back' | 'guidance-paused' | 'guidance-on' }>['kind'],
): void {
  const { feed } = session;
  if (feed) feed.part.events.push({ kind, atSec: feed.engine.timeline.atMicros / 1e6 });
}

/** "Burped", said on the page: kept, since what follows rests on it. */
export function noteBurpedByPage({ feed }: Session): void {
  if (feed) feed.part.events.push({ kind: 'burped', atSec: burpedByPage(feed.engine) });
}

/** Hands what has come since the last call to the keeper, once a second. A full disk is said and tried again. */
export function keepPart(session: Session): void {
  const { feed, keeping } = session;
  if (feed || keeping.waiting.length > 0) tryToKeep(keeping, () => feed && handPart(session, feed));
}

/** Hands over all that has come; begins the feed at its keeper if need be. */
export function handPart({ options }: Session, feed: OpenFeed): void {
  if (!feed.begun) {
    options.keeper.begin(feed.summary, options.calibration);
    feed.begun = true;
  }
  options.keeper.append(feed.summary.id, feed.part);
  const { intakeMl, spiltMl, addedMl, durationSec } = feed.part;
  feed.part = { ...emptyPart(), intakeMl, spiltMl, addedMl, durationSec };
}

/** Ends the open feed: keeps the rest, refines, and watches for the next latch. */
export function endFeed(session: Session, endReason: FeedEndReason, nowMs: number): void {
  const { feed, options } = session;
  if (!feed) return;
  endEngine(feed.engine);
  keepForSure(session.keeping, () => {
    handPart(session, feed);
    const refined = refineEngine(feed.engine);
    options.keeper.finish(feed.summary.id, { endReason, endedAtMs: nowMs, refined });
  });
  closeFeed(session, feed, 'ended');
}

/** "Not a feed": the open one, or the one just ended. */
export function discardFeed(session: Session): void {
  const { feed, lastFeed, options } = session;
  if (feed) {
    keepForSure(session.keeping, () => {
      handPart(session, feed);
      options.keeper.discard(feed.summary.id);
    });
    closeFeed(session, feed, 'discarded');
  } else if (lastFeed && lastFeed.state === 'ended') {
    keepForSure(session.keeping, () => options.keeper.discard(lastFeed.id));
    session.lastFeed = { ...lastFeed, state: 'discarded' };
  }
}

function closeFeed(session: Session, feed: OpenFeed, state: FeedState): void {
  session.lastFeed = { id: feed.summary.id, state, elapsedSec: elapsedSec(feed) };
  session.feed = null;
  session.lastTick = null;
  session.watcher = watchingEngine(session.options);
  forgetWhose(session);
  guideAnew(session);
}

const elapsedSec = ({ engine, firstLatchSec }: OpenFeed): number =>
  firstLatchSec === null ? 0 : engine.timeline.atMicros / 1e6 - firstLatchSec;

/** Device time since the first latch, seconds; null before any feed. */
export const sessionElapsedSec = ({ feed, lastFeed }: Session): number | null =>
  feed ? elapsedSec(feed) : (lastFeed?.elapsedSec ?? null);
