/**
 * One sleeve that this worker guides: its bytes from the relay, the same session and live feed as at home, and the note for whoever comes next. First
 * it goes through what came while nobody guided, and shows nothing of that; then it goes on.
 */
import { interval, type SchedulerLike, Subscription } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { createBrokerLink } from '../../../firmware-bridge/links/broker/broker-link.ts';
import type { BrokerSleeveLink } from '../../../firmware-bridge/links/broker/broker-link-kind.ts';
import type { Place } from '../../../firmware-bridge/links/broker/topics.ts';
import { type LightAndSound, lightAndSound } from '../../../firmware-bridge/links/light-and-sound.ts';
import { createLiveFeed, type MovableFeed } from '../../feed/live/live.ts';
import type { LiveView } from '../../feed/live/live-view.ts';
import { createSession, type Session, type SessionOptions, takeBytes } from '../../feed/session/session.ts';
import { keepPart } from '../../feed/session/session-keep.ts';
import { resumeSession } from '../../feed/session/session-picture.ts';
import { newFeedId } from '../../store/database/feed-id.ts';
import { encodeSleeveMessage, STATE_EVERY_SEC, STATE_EXPIRES_SEC } from '../../ward/board/sleeve-message.ts';
import { newId } from '../relay/broker-choice.ts';
import { type CheckedFeed, checkedFeeds } from '../sleeve/checked-feeds.ts';
import { unlessUsed, usedBefore } from './bound-once.ts';
import type { KeptFront } from './keeping/kept-front.ts';
import type { SleeveBinding } from './keeping/kept-ops.ts';
import { NoteKeeper } from './note-keeper.ts';
import type { SleeveNote } from './sleeve-note.ts';
import { stateOf } from './sleeve-state.ts';
import { labelOf } from './sleeve-time.ts';
import { type StoppedOutputs, stoppedOutputs } from './stopped-outputs.ts';
import { StreamPlaces } from './stream-places.ts';

export interface SeatOptions {
  address: BrokerAddress;
  place: Place;
  sleeveNumber: number;
  epoch: number;
  note: SleeveNote | null;
  binding: SleeveBinding;
  front: KeptFront;
  worker: string;
  wallNowMs: () => number;
  /** Until when its bottle must not be given, by the scheduler. */
  stoppedUntilMs: () => number;
  /** It is another's now, or cannot be guided; the seat is closed. */
  gone: () => void;
}

/** The sleeve's bytes are kept by its relay: the store may be asked less often than at home. */
const KEEP_EVERY_MS = 4000;
/** Held in memory for one sleeve while the store takes nothing: 35 min of one with a gyroscope. */
const MOST_HELD_BYTES = 8 * 1024 * 1024;
/** A long feed that is made again is handed over in parts. */
const HAND_OVER_BYTES = 256 * 1024;
const LOOK_MS = 500;

export class SleeveSeat {
  binding: SleeveBinding;
  view: LiveView | null = null;
  readonly #options: SeatOptions;
  readonly #scheduler: SchedulerLike;
  readonly #link: BrokerSleeveLink;
  readonly #places = new StreamPlaces();
  readonly #notes: NoteKeeper;
  readonly #everything = new Subscription();
  readonly #board: LightAndSound;
  readonly #outputs: StoppedOutputs;
  #live: MovableFeed | null = null;
  #checked: CheckedFeed | null = null;
  #session: Session | null = null;
  #shown = { showing: '', sinceMs: 0 };
  #stateAtMs = Number.NEGATIVE_INFINITY;
  /** The binding by which the latest feed began. */
  #used: number | null;
  #isClosed = false;

  constructor(options: SeatOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    const { address, place, sleeveNumber, epoch, note } = options;
    this.#used = usedBefore(note);
    this.binding = note?.feed ? options.binding : unlessUsed(options.binding, this.#used);
    const feedAt = note?.feed ? (note.feed.latest ?? note.feed.start) : null;
    const from = feedAt?.from ?? note?.from ?? null;
    this.#link = createBrokerLink(
      { address, place, sleeveNumber, newId, epoch, ...(from && { from }) },
      scheduler,
    );
    this.#board = lightAndSound(this.#link);
    this.#outputs = stoppedOutputs(this.#board, options.stoppedUntilMs, scheduler);
    this.#everything.add(
      this.#link.bytes$.subscribe((bytes) => this.#places.add(this.#link.received!, bytes.length)),
    );
    this.#notes = new NoteKeeper(
      {
        front: options.front,
        places: this.#places,
        binding: () => this.binding,
        nowMs: () => scheduler.now(),
        publish: (bytes) => this.#link.keepNote(bytes),
      },
      note,
    );
  }

  get sleeveNumber(): number {
    return this.#options.sleeveNumber;
  }

  /** What a feed of it is called; null while none runs. */
  get feedId(): string | null {
    return this.#session?.feed?.held.summary.id ?? null;
  }

  /** Resolves once it is guided. @throws PlainError when its bytes do not come */
  async open(): Promise<void> {
    const { note, front, wallNowMs } = this.#options;
    const session = this.#begin();
    this.#session = session;
    const catchingUp = this.#link.bytes$.subscribe((bytes) => {
      takeBytes(session, bytes, labelOf(session, wallNowMs));
      if ((session.feed?.held.heldBytes ?? 0) >= HAND_OVER_BYTES) keepPart(session);
      if (!session.feed) {
        this.binding = unlessUsed(this.binding, this.#used);
        session.setup = this.binding.setup;
      }
    });
    try {
      await this.#link.open();
    } catch (error) {
      await this.close();
      throw error;
    } finally {
      catchingUp.unsubscribe();
    }
    if (this.#isClosed) return;
    const isSame = note?.feed && session.feed?.held.summary.id === note.feed.start.picture.summary.id;
    this.#live = createLiveFeed(
      {
        ...session.options,
        link: this.#link,
        outputs: this.#outputs,
        wallNowMs,
        keepEveryMs: KEEP_EVERY_MS,
        onKept: (of, shown) => this.#notes.kept(of, shown),
        takenOver: { session, shown: isSame ? note.feed!.shown : null },
      },
      this.#scheduler,
    );
    this.#checked = this.#check(this.#live);
    this.#everything.add(this.#checked.view$.subscribe((view) => this.#takeView(view)));
    this.#everything.add(interval(LOOK_MS, this.#scheduler).subscribe(() => this.#look()));
    this.#everything.add(
      front.behind$.subscribe((feedId) => {
        if (feedId === this.feedId) this.#leave();
      }),
    );
  }

  /** As at home: each feed tells whether the calibration still holds, and teaches about the bottle. */
  #check(live: MovableFeed): CheckedFeed {
    const { front, wallNowMs } = this.#options;
    const notesNow = () => front.notesFrom(this.binding.notes);
    return checkedFeeds(live, {
      ...{ link: this.#link, calibration: this.binding.made, wallNowMs },
      ...{ notes: notesNow(), notesOf: notesNow, learns: !this.binding.simulated },
    });
  }

  #begin(): Session {
    const { note, front, sleeveNumber } = this.#options;
    const keeper = front.keeper(() => this.binding.setup);
    const options: SessionOptions = {
      calibration: this.binding.calibration,
      keeper,
      newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
      simulated: this.binding.simulated,
      sleeveId: String(sleeveNumber),
      refinesLater: true,
      mostHeldBytes: MOST_HELD_BYTES,
      guide: () => this.binding.guided,
      onOpened: ({ feed }, bytes) => {
        this.#used = this.binding.bound;
        this.#notes.opened(feed!, bytes);
      },
    };
    if (!note?.feed) return createSession(options);
    const { start, latest, noted } = note.feed;
    const { picture } = latest ?? start;
    front.takeOver(picture.summary, this.binding.calibration, picture.handed);
    return resumeSession(options, picture, noted);
  }

  /** What was bound to the sleeve since. A feed that runs goes on by the calibration that it began with. */
  bind(asked: SleeveBinding): void {
    const before = this.binding;
    const session = this.#session;
    if (!this.#live || !session) return;
    const binding = session.feed ? asked : unlessUsed(asked, this.#used);
    const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
    const calibrated = session.feed !== null || isSame(binding.calibration, before.calibration);
    const { calibration, made } = before;
    this.binding = calibrated ? { ...binding, calibration, made } : binding;
    if (!calibrated)
      this.#checked!.changeSleeve({ calibration: binding.made, sleeveId: String(this.sleeveNumber) });
    if (!isSame(binding.setup, before.setup)) this.#live.command({ kind: 'setup', setup: binding.setup });
  }

  #takeView(view: LiveView): void {
    const nowMs = this.#scheduler.now();
    this.view = view;
    const isNew = view.showing !== this.#shown.showing;
    if (isNew) this.#shown = { showing: view.showing, sinceMs: nowMs };
    if (!isNew && nowMs - this.#stateAtMs < STATE_EVERY_SEC * 1000) return;
    this.#stateAtMs = nowMs;
    const { sleeveNumber, worker, epoch } = this.#options;
    const state = stateOf(view, { sleeveNumber, worker, epoch }, (nowMs - this.#shown.sinceMs) / 1000);
    this.#link.publishState(encodeSleeveMessage(state), STATE_EXPIRES_SEC);
  }

  #look(): void {
    const { bound, setup } = this.binding;
    if (this.#link.isReplaced) this.#leave();
    // Whoever was fed is not who is fed next.
    else if (this.feedId === null && bound === this.#used && setup.babyId != null) this.bind(this.binding);
  }

  #leave(): void {
    void this.close();
    this.#options.gone();
  }

  /** An open feed goes on elsewhere; all that was handed over of it is still kept. */
  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    const { feedId } = this;
    this.#checked?.stopChecking();
    this.#live?.letGo();
    if (this.#session) keepPart(this.#session);
    if (feedId !== null) this.#options.front.letGo(feedId);
    this.#everything.unsubscribe();
    this.#outputs.close();
    this.#board.close();
    await this.#link.close();
  }
}
