/** The board of a room, updated from the states of its sleeves. */
import { interval, map, type Observable, type SchedulerLike, Subject, type Subscription } from 'rxjs';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import {
  type BoardView,
  boardCots,
  type Heard,
  SILENT_MS,
  type Stopped,
} from '../../ward/board/board-view.ts';
import { demoRoom } from '../../ward/board/demo-room.ts';
import type { SleeveState } from '../../ward/board/sleeve-state.ts';

/** Source of sleeve states: a broker, or a script. */
export interface RoomSource {
  /** `isOfNow` false: a retained message of unknown age. */
  readonly told$: Observable<{ state: SleeveState; isOfNow: boolean }>;
  /** Whether the connection is lost; always false for a script. */
  readonly isCutOff: () => boolean;
  /** Tells whoever guides a sleeve that its bottle must not be given, for so long; 0: it is put right. Absent: nobody can be told. */
  stop?(sleeve: number, forSec: number): void;
  close(): Promise<void>;
}

export interface RoomBoardOptions {
  site: string;
  room: string;
  isDemo?: boolean;
  cotOf: (sleeve: number) => string | null;
  /** Called when a feed on a sleeve is over. */
  onFeedOver?: (sleeve: number) => void;
  /** Feeds that must not begin. */
  stopped?: () => readonly Stopped[];
}

/** Update period, ms; a cue appears on the board at most this much later. */
const LOOK_MS = 250;
/** A page treats silence as a lost board, so something is sent this often even without a change, ms. */
const SPEAK_MS = 1000;

export class RoomBoard {
  readonly view$ = new Subject<BoardView>();
  readonly #heard = new Map<number, Heard>();
  readonly #subscriptions: Subscription[];
  readonly #options: RoomBoardOptions;
  readonly #source: RoomSource;
  readonly #scheduler: SchedulerLike;
  #said = '';
  #saidAtMs = Number.NEGATIVE_INFINITY;

  constructor(source: RoomSource, options: RoomBoardOptions, scheduler: SchedulerLike = monotonic) {
    this.#source = source;
    this.#options = options;
    this.#scheduler = scheduler;
    this.#subscriptions = [
      source.told$.subscribe(({ state, isOfNow }) => this.#hear(state, isOfNow)),
      interval(LOOK_MS, scheduler).subscribe(() => this.#look()),
    ];
  }

  /** The sleeve's latest state while it is recent; else null. */
  stateOf(sleeve: number): SleeveState | null {
    const heard = this.#heard.get(sleeve);
    return heard && heard.atMs !== null ? heard.state : null;
  }

  /** Sleeves that are told of now, and how many of them are in a feed. */
  counts(): { sleeves: number; feeds: number } {
    const nowMs = this.#scheduler.now();
    const told = [...this.#heard.values()].filter(({ atMs }) => atMs !== null && nowMs - atMs < SILENT_MS);
    return {
      sleeves: told.length,
      feeds: told.filter(({ state }) => state.feedState === 'open').length,
    };
  }

  async close(): Promise<void> {
    for (const one of this.#subscriptions) one.unsubscribe();
    this.view$.complete();
    await this.#source.close();
  }

  #hear(state: SleeveState, isOfNow: boolean): void {
    const nowMs = this.#scheduler.now();
    const before = this.#heard.get(state.sleeve);
    if (!isOfNow && before && before.atMs !== null) return;
    // Losing guidance does not end a feed.
    const goesOn =
      before?.state.feedState === 'open' && state.feedState === 'none' && state.showing === 'no-guidance';
    const isOver = before?.state.feedState === 'open' && state.feedState !== 'open' && !goesOn;
    if (isOver && isOfNow) this.#options.onFeedOver?.(state.sleeve);
    this.#heard.set(state.sleeve, {
      state: goesOn ? { ...state, feedState: 'open' } : state,
      atMs: isOfNow ? nowMs : null,
      firstAtMs: before?.firstAtMs ?? nowMs,
    });
  }

  #look(): void {
    const { site, room, isDemo = false, cotOf, stopped = () => [] } = this.#options;
    const nowMs = this.#scheduler.now();
    const view: BoardView = {
      site,
      room,
      isDemo,
      isCutOff: this.#source.isCutOff(),
      cots: boardCots(this.#heard.values(), cotOf, nowMs),
      stopped: [...stopped()],
    };
    const text = JSON.stringify(view);
    if (text === this.#said && nowMs - this.#saidAtMs < SPEAK_MS) return;
    this.#said = text;
    this.#saidAtMs = nowMs;
    this.view$.next(view);
  }
}

/** Invented cots, updated once a second. */
export function demoSource(
  { seed = 1, cots = 12 }: { seed?: number; cots?: number } = {},
  scheduler: SchedulerLike = monotonic,
): RoomSource {
  const room = demoRoom(seed, cots);
  const told$ = new Subject<{ state: SleeveState; isOfNow: boolean }>();
  const running = interval(SPEAK_MS, scheduler)
    .pipe(map((seconds) => room(seconds)))
    .subscribe((states) => {
      for (const state of states) told$.next({ state, isOfNow: true });
    });
  return {
    told$,
    isCutOff: () => false,
    close: async () => running.unsubscribe(),
  };
}
