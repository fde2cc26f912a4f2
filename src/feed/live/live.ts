/**
 * The live feed: RxJS joins link, recorder and outputs. Every timer uses the scheduler that is passed in; wall time is used for labels only.
 */
import {
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
  timer,
} from 'rxjs';
import type { LinkState, SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { endFeed, TEAT_AWAY_SEC } from '../recording/ending.ts';
import { addHostEvent } from '../recording/host-events.ts';
import { keepPart } from '../recording/keep-part.ts';
import { guideAnew, holdBackNow } from '../recording/next-feed.ts';
import { changeSleeve, type SleeveThere } from '../recording/other-sleeve.ts';
import { type Recorder, type RecorderOptions, takeBytes } from '../recording/recorder.ts';
import { hearSample, hearTick, TICK_MS } from './hearing.ts';
import type { Light, Notes } from './light-language.ts';
import { keepWhenDue, labelMs } from './live-clock.ts';
import { beat, endGuidanceOff, takeCommand } from './live-commands.ts';
import { createLiveState, type LiveState, viewOf } from './live-state.ts';
import type { LiveCommand, LiveView } from './live-view.ts';
import { showNow } from './show-now.ts';
import { goOnShowing, type ShownSnapshot, shownSnapshot } from './shown-snapshot.ts';

const HEARTBEAT_MS = 500;
const VIEW_EVERY_MS = 200;
const GUIDE_EVERY_MS = 2000;

/** Receives light, sound and heartbeat: a board on the link. */
export interface LiveOutputs {
  setLight(light: Light): void;
  /** Null means silence. */
  sound(notes: Notes | null): void;
  heartbeat(guidanceOn: boolean): void;
}

export interface LiveFeedOptions extends RecorderOptions {
  link: SleeveLink;
  outputs: LiveOutputs;
  /** Host's wall clock, ms since 1970 UTC. */
  wallNowMs: () => number;
  /** Whether sound was on when the program last ran; the default is off. */
  soundOn?: boolean;
  /** Whether any page shows the live feed now; absent: no page does. */
  isPageOpen?: () => boolean;
  /** Told when somebody turns sound on or off. */
  keepSoundOn?: (on: boolean) => void;
  /** Whether the light was dimmed when the program last ran. */
  dimmed?: boolean;
  keepDimmed?: (dimmed: boolean) => void;
  /** How often new data is written to the storage, ms; default a second. It may be longer where the sleeve's bytes are stored elsewhere too. */
  keepEveryMs?: number;
  /** Called after each attempt to write, and as soon as a cue was shown. */
  onKept?: (recorder: Recorder, shown: ShownSnapshot) => void;
  /** Called with an error of the program in one of its steps; the live feed has ended then. Absent: it ends the program. */
  onFault?: (error: unknown) => void;
  /** Continues a recorder of another process and what it showed; null: nothing was shown. */
  takenOver?: { recorder: Recorder; shown: ShownSnapshot | null };
}

export interface LiveFeed {
  /** The latest view on subscription, then each change, at least five times a second. */
  readonly view$: Observable<LiveView>;
  /** @throws PlainError when the command cannot be done now; the live feed goes on. */
  command(command: LiveCommand): void;
  /** Another sleeve is on the link from now on: an open feed ends and is stored, the next one uses this calibration; null: no calibration. */
  changeSleeve(sleeve: SleeveThere | null): void;
  /** Ends an open feed and unsubscribes from the link. */
  stop(): void;
  /** Tries once more to write what is pending, also after `stop`. @returns whether nothing is pending any more */
  keepRest(): boolean;
}

export interface MovableFeed extends LiveFeed {
  /** Unsubscribes from the link; an open feed is not ended, another process continues it. */
  letGo(): void;
}

type Input =
  | { kind: 'bytes'; bytes: Uint8Array }
  | { kind: 'link'; state: LinkState }
  | { kind: 'tick' }
  | { kind: 'heartbeat' }
  | { kind: 'command'; command: LiveCommand; refuse: (error: unknown) => void };

export function createLiveFeed(options: LiveFeedOptions, scheduler: SchedulerLike = monotonic): MovableFeed {
  const { link } = options;
  const commands = new Subject<Extract<Input, { kind: 'command' }>>();
  const stopped = new Subject<void>();
  const { takenOver } = options;
  const state = createLiveState(options, scheduler.now(), takenOver?.recorder);
  if (takenOver?.shown) goOnShowing(state, takenOver.shown, scheduler.now());
  const view = new BehaviorSubject<LiveView>(viewOf(state, options));

  const inputs = merge(
    link.bytes$.pipe(map((bytes): Input => ({ kind: 'bytes', bytes }))),
    link.state$.pipe(
      map((linkState): Input => ({ kind: 'link', state: linkState })),
      catchError(() => EMPTY),
    ),
    interval(TICK_MS, scheduler).pipe(map((): Input => ({ kind: 'tick' }))),
    // The sleeve of a feed that is taken over has been without guidance long enough: send the first heartbeat at once.
    timer(options.takenOver ? 0 : HEARTBEAT_MS, HEARTBEAT_MS, scheduler).pipe(
      map((): Input => ({ kind: 'heartbeat' })),
    ),
    commands,
  );

  inputs
    .pipe(
      takeUntil(stopped),
      scan((current, input) => stepLive(current, input, options, scheduler.now()), state),
    )
    .subscribe({
      next(current) {
        const nowMs = scheduler.now();
        if (nowMs - current.viewedAtMs < VIEW_EVERY_MS && view.value.showing === current.show.showing) return;
        current.viewedAtMs = nowMs;
        view.next(viewOf(current, options));
      },
      ...(options.onFault && { error: options.onFault }),
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
    changeSleeve(sleeve) {
      changeSleeve(state.recorder, sleeve, labelMs(state, options, scheduler.now()));
      view.next(viewOf(state, options));
    },
    stop() {
      stopped.next();
      endFeed(state.recorder, 'link-ended', labelMs(state, options, scheduler.now()));
      view.next(viewOf(state, options));
    },
    letGo() {
      stopped.next();
    },
    keepRest() {
      keepPart(state.recorder);
      view.next(viewOf(state, options));
      return state.recorder.pending.waiting.length === 0;
    },
  };
}

/** Applies one input to the state and drives the outputs. `state` is changed in place, since it holds the engine. */
function stepLive(state: LiveState, input: Input, options: LiveFeedOptions, nowMs: number): LiveState {
  const { recorder } = state;
  const feedBefore = recorder.feed;
  switch (input.kind) {
    case 'bytes':
      takeSleeveBytes(state, input.bytes, options, nowMs);
      break;
    case 'link':
      takeLink(state, input.state, options, nowMs);
      break;
    case 'command':
      try {
        takeCommand(state, input.command, options, nowMs);
      } catch (error) {
        input.refuse(error);
      }
      break;
    case 'tick':
      takeTick(state, options, nowMs);
      break;
    case 'heartbeat':
      beat(state, options);
      return state;
  }
  const isKept = keepWhenDue(state, nowMs, options.keepEveryMs);
  endGuidanceOff(state, feedBefore !== null && recorder.feed !== feedBefore, options, nowMs);
  showNow(state, options, nowMs);
  if (isKept || state.telling.told.length > 0) options.onKept?.(recorder, shownSnapshot(state, nowMs));
  return state;
}

function takeTick(state: LiveState, options: LiveFeedOptions, nowMs: number): void {
  const { recorder } = state;
  state.hearing = hearTick(state.hearing, nowMs, !options.simulated);
  // A sleeve that has been silent for this long cannot report that the teat is out.
  if (nowMs - state.teatAtMs >= TEAT_AWAY_SEC * 1000) {
    endFeed(recorder, 'teat-away', labelMs(state, options, nowMs));
  }
  // Babies may be entered by another process.
  if (nowMs - state.guidedAtMs < GUIDE_EVERY_MS) return;
  state.guidedAtMs = nowMs;
  if (recorder.feed) holdBackNow(recorder);
  else guideAnew(recorder);
}

function takeSleeveBytes(state: LiveState, bytes: Uint8Array, options: LiveFeedOptions, nowMs: number): void {
  const { recorder } = state;
  const before = recorder.feed;
  takeBytes(recorder, bytes, labelMs(state, options, nowMs));
  if (recorder.accepted > state.accepted) state.hearing = hearSample(state.hearing);
  state.accepted = recorder.accepted;
  const opened = recorder.feed !== null && recorder.feed !== before;
  if (opened) {
    state.openedAtMs = nowMs;
    state.keptAtSec = 0;
  }
  if (opened || recorder.lastTick?.moment.teatInMouth) state.teatAtMs = nowMs;
  if (opened && state.guidanceOffAtMs !== null) addHostEvent(recorder, 'guidance-paused');
}

function takeLink(state: LiveState, next: LinkState, options: LiveFeedOptions, nowMs: number): void {
  const before = state.link.kind;
  state.link = next;
  if (next.kind === 'lost' && before !== 'lost') addHostEvent(state.recorder, 'link-lost');
  if (next.kind === 'open' && before === 'lost') addHostEvent(state.recorder, 'link-back');
  if (next.kind === 'ended') endFeed(state.recorder, 'link-ended', labelMs(state, options, nowMs));
}
