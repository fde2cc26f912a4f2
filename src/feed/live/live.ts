/**
 * The live feed: RxJS joins link, session and outputs. All that knows time takes the scheduler; wall time only labels.
 */
import {
  asyncScheduler,
  BehaviorSubject,
  catchError,
  EMPTY,
  interval,
  map,
  merge,
  type Observable,
  type SchedulerLike,
  Subject,
  scan,
  takeUntil,
} from 'rxjs';
import type { LinkState, SleeveLink } from '../../../firmware-bridge/links/link.ts';
import {
  discardFeed,
  endFeed,
  keepPart,
  noteBurpedByPage,
  noteEvent,
  type SessionOptions,
  TEAT_AWAY_SEC,
  takeBytes,
} from '../session/session.ts';
import { guideAnew, holdBackNow } from '../session/session-guide.ts';
import { handOver, setUp } from '../session/session-setup.ts';
import { type Light, lightFor, type Notes, whichSleeveLight } from './light-language.ts';
import { createLiveState, type LiveState, viewOf } from './live-state.ts';
import type { LiveCommand, LiveView } from './live-view.ts';
import { stepShowing } from './showing.ts';
import { stepSounding } from './sounding.ts';
import { stepTelling, TELLING_START } from './telling-of-cues.ts';

const TICK_MS = 100;
/**
 * Samples older than 0.5 s are stale: no guidance rests on them. Counted in ticks, not by the clock: a host that was busy for a moment finds the
 * waiting bytes first, instead of crying wolf over them.
 */
export const STALE_TICKS = 5;
const HEARTBEAT_EVERY_TICKS = 5;
const KEEP_EVERY_TICKS = 10;
const VIEW_EVERY_TICKS = 2;
const GUIDE_EVERY_TICKS = 20;

/** Where light, sound and heartbeat go: a board on the link. */
export interface LiveOutputs {
  setLight(light: Light): void;
  /** Null silences. */
  sound(notes: Notes | null): void;
  heartbeat(guidanceOn: boolean): void;
}

export interface LiveFeedOptions extends SessionOptions {
  link: SleeveLink;
  outputs: LiveOutputs;
  /** Host's wall clock, ms since 1970 UTC. */
  wallNowMs: () => number;
  /** Whether sound was on when Ebbline last ran; off unless somebody turned it on. */
  soundOn?: boolean;
  /** Whether any page shows the live feed now; absent: none does. */
  isPageOpen?: () => boolean;
  /** Told when somebody turns sound on or off. */
  keepSoundOn?: (on: boolean) => void;
}

export interface LiveFeed {
  /** The latest view at once, then each change, and at least five a second. */
  readonly view$: Observable<LiveView>;
  /** @throws PlainError when the command cannot be done now; the live feed goes on. */
  command(command: LiveCommand): void;
  /** Ends an open feed as far as it goes and lets go of the link's bytes. */
  stop(): void;
  /** Tries once more to keep what waits, also after `stop`. @returns whether nothing waits any more */
  keepRest(): boolean;
}

type Input =
  | { kind: 'bytes'; bytes: Uint8Array }
  | { kind: 'link'; state: LinkState }
  | { kind: 'tick' }
  | { kind: 'command'; command: LiveCommand; refuse: (error: unknown) => void };

export function createLiveFeed(
  options: LiveFeedOptions,
  scheduler: SchedulerLike = asyncScheduler,
): LiveFeed {
  const { link } = options;
  const commands = new Subject<Extract<Input, { kind: 'command' }>>();
  const stopped = new Subject<void>();
  const state = createLiveState(options);
  const view = new BehaviorSubject<LiveView>(viewOf(state, options));

  const inputs = merge(
    link.bytes$.pipe(map((bytes): Input => ({ kind: 'bytes', bytes }))),
    link.state$.pipe(
      map((linkState): Input => ({ kind: 'link', state: linkState })),
      catchError(() => EMPTY),
    ),
    interval(TICK_MS, scheduler).pipe(map((): Input => ({ kind: 'tick' }))),
    commands,
  );

  inputs
    .pipe(
      takeUntil(stopped),
      scan((current, input) => stepLive(current, input, options, scheduler.now()), state),
    )
    .subscribe((current) => {
      const due = current.ticks - current.viewedAtTick >= VIEW_EVERY_TICKS;
      if (!due && view.value.showing === current.show.showing) return;
      current.viewedAtTick = current.ticks;
      view.next(viewOf(current, options));
    });

  return {
    view$: view,
    command(command) {
      let refusal: unknown = null;
      commands.next({
        kind: 'command',
        command,
        refuse: (error) => {
          refusal = error;
        },
      });
      view.next(viewOf(state, options));
      if (refusal !== null) throw refusal;
    },
    stop() {
      stopped.next();
      endFeed(state.session, 'link-ended', options.wallNowMs());
      view.next(viewOf(state, options));
    },
    keepRest() {
      keepPart(state.session);
      view.next(viewOf(state, options));
      return state.session.keeping.waiting.length === 0;
    },
  };
}

/** One input through the state, and what follows from it on the outputs. `state` is changed in place: it holds the engine. */
function stepLive(state: LiveState, input: Input, options: LiveFeedOptions, nowMs: number): LiveState {
  const { session } = state;
  switch (input.kind) {
    case 'bytes':
      takeSleeveBytes(state, input.bytes, options, nowMs);
      break;
    case 'link':
      takeLink(state, input.state, options);
      break;
    case 'command':
      try {
        takeCommand(state, input.command, options, nowMs);
      } catch (error) {
        input.refuse(error);
      }
      break;
    case 'tick':
      state.ticks += 1;
      state.ticksSinceSample += 1;
      // A sleeve that is away for so long cannot tell that the teat is out, nor how late it is.
      if (nowMs - state.teatAtMs >= TEAT_AWAY_SEC * 1000) endFeed(session, 'teat-away', options.wallNowMs());
      if (state.ticks % KEEP_EVERY_TICKS === 0) keepPart(session);
      // Babies are entered on a page of their own, perhaps by another process.
      if (state.ticks % GUIDE_EVERY_TICKS === 0) {
        if (session.feed) holdBackNow(session);
        else guideAnew(session);
      }
      break;
  }
  showNow(state, options, nowMs);
  if (input.kind === 'tick' && state.ticks % HEARTBEAT_EVERY_TICKS === 0) {
    options.outputs.heartbeat(!state.guidancePaused && isFresh(state));
  }
  return state;
}

function takeSleeveBytes(state: LiveState, bytes: Uint8Array, options: LiveFeedOptions, nowMs: number): void {
  const { session } = state;
  const before = session.feed;
  takeBytes(session, bytes, options.wallNowMs());
  if (session.accepted > state.accepted) state.ticksSinceSample = 0;
  state.accepted = session.accepted;
  const opened = session.feed !== null && session.feed !== before;
  if (opened || session.lastTick?.moment.teatInMouth) state.teatAtMs = nowMs;
  if (opened && state.guidancePaused) noteEvent(session, 'guidance-paused');
}

const isFresh = ({ link, ticksSinceSample }: LiveState): boolean =>
  link.kind === 'open' && ticksSinceSample <= STALE_TICKS;

function takeLink(state: LiveState, next: LinkState, options: LiveFeedOptions): void {
  const before = state.link.kind;
  state.link = next;
  if (next.kind === 'lost' && before !== 'lost') noteEvent(state.session, 'link-lost');
  if (next.kind === 'open' && before === 'lost') noteEvent(state.session, 'link-back');
  if (next.kind === 'ended') endFeed(state.session, 'link-ended', options.wallNowMs());
}

function takeCommand(state: LiveState, command: LiveCommand, options: LiveFeedOptions, nowMs: number): void {
  const { session } = state;
  switch (command.kind) {
    case 'mute':
      state.muted = command.on;
      if (command.on) options.outputs.sound(null);
      options.keepSoundOn?.(!command.on);
      break;
    case 'dim':
      state.dimmed = command.on;
      break;
    case 'pause-guidance':
      if (command.on === state.guidancePaused) break;
      state.guidancePaused = command.on;
      noteEvent(session, command.on ? 'guidance-paused' : 'guidance-on');
      if (command.on) options.outputs.sound(null);
      break;
    case 'burped':
      noteBurpedByPage(session);
      break;
    case 'end-feed':
      endFeed(session, 'page', options.wallNowMs());
      break;
    case 'discard-feed':
      discardFeed(session);
      break;
    case 'setup':
      setUp(session, command.setup, options.wallNowMs());
      break;
    case 'hand-over':
      handOver(session, command.caregiver, options.wallNowMs());
      break;
    case 'which-sleeve':
      state.askedWhichAtMs = nowMs;
      break;
  }
}

/** A cue goes before the answer to "which sleeve is this?". */
function lightNow({ show, dimmed, askedWhichAtMs }: LiveState, nowMs: number): Light {
  const asked = show.showing === 'waiting' ? whichSleeveLight((nowMs - askedWhichAtMs) / 1000) : null;
  return asked ?? lightFor(show.showing, dimmed, (nowMs - show.sinceMs) / 1000);
}

/** Whoever looks back sees what a caregiver was told, and by what. */
function keepWhatIsTold(state: LiveState, isPageOpen: boolean, nowMs: number): void {
  const { feed } = state.session;
  if (!feed) {
    state.telling = TELLING_START;
    return;
  }
  state.telling = stepTelling(state.telling, {
    nowMs,
    atSec: feed.engine.timeline.atMicros / 1e6,
    showing: state.show.showing,
    isPageOpen,
    sounded: state.sounding.notes !== null,
  });
  feed.held.part.told.push(...state.telling.told);
}

function showNow(
  state: LiveState,
  { outputs, isPageOpen = () => false }: LiveFeedOptions,
  nowMs: number,
): void {
  const { session } = state;
  const tick = session.feed ? session.lastTick : null;
  const before = state.show.showing;
  state.show = stepShowing(state.show, {
    nowMs,
    fresh: isFresh(state),
    feedOpen: session.feed !== null,
    guidancePaused: state.guidancePaused,
    cue: tick?.showing ?? null,
    invalid: tick !== null && tick.moment.quality === 'invalid',
  });
  const { showing } = state.show;
  state.sounding = stepSounding(state.sounding, {
    nowMs,
    showing,
    began: showing !== before,
    muted: state.muted,
  });
  if (state.sounding.notes) outputs.sound(state.sounding.notes);
  keepWhatIsTold(state, isPageOpen(), nowMs);
  const light = lightNow(state, nowMs);
  const last = state.light;
  if (!last || light.red !== last.red || light.green !== last.green || light.blue !== last.blue) {
    outputs.setLight(light);
    state.light = light;
  }
}
