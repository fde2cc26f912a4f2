/**
 * One sleeve guided by this worker: bytes from the relay, the same recorder and live feed as at home, and checkpoints for the next guide. First
 * it processes the bytes that came while nobody guided, without showing cues; then it continues live.
 */
import { interval, type SchedulerLike, Subscription } from 'rxjs';
import { createBrokerLink } from '../../../firmware-bridge/links/broker/broker-link.ts';
import type { BrokerSleeveLink } from '../../../firmware-bridge/links/broker/broker-link-kind.ts';
import { type LightAndSound, lightAndSound } from '../../../firmware-bridge/links/light-and-sound.ts';
import { createLiveFeed, type MovableFeed } from '../../feed/live/live.ts';
import type { LiveView } from '../../feed/live/live-view.ts';
import { keepPart } from '../../feed/recording/keep-part.ts';
import { type Recorder, takeBytes } from '../../feed/recording/recorder.ts';
import { STATE_EXPIRES_SEC } from '../../ward/board/sleeve-message.ts';
import { newId } from '../relay/broker-choice.ts';
import { type CheckedFeed, checkedFeeds } from '../sleeve/checked-feeds.ts';
import { unlessUsed, usedBefore } from './bound-once.ts';
import { CheckpointWriter } from './checkpoint-writer.ts';
import { guidedRecorder } from './guided-recorder.ts';
import type { GuidedSleeveOptions } from './guided-sleeve-kind.ts';
import { labelOf } from './sleeve-time.ts';
import { stateTeller } from './state-teller.ts';
import { type StoppedOutputs, stoppedOutputs } from './stopped-outputs.ts';
import type { SleeveBinding } from './storing/store-ops.ts';
import { StreamPlaces } from './stream-places.ts';

/** The relay stores the sleeve's bytes too, so the store is written less often than at home. */
const KEEP_EVERY_MS = 8000;
/** A long feed that is replayed is written in parts of this size. */
const HAND_OVER_BYTES = 256 * 1024;
const LOOK_MS = 500;

export class GuidedSleeve {
  binding: SleeveBinding;
  view: LiveView | null = null;
  readonly #options: GuidedSleeveOptions;
  readonly #scheduler: SchedulerLike;
  readonly #link: BrokerSleeveLink;
  readonly #places = new StreamPlaces();
  readonly #checkpoints: CheckpointWriter;
  readonly #everything = new Subscription();
  readonly #board: LightAndSound;
  readonly #outputs: StoppedOutputs;
  #live: MovableFeed | null = null;
  #checked: CheckedFeed | null = null;
  #recorder: Recorder | null = null;
  /** The binding used by the latest feed. */
  #used: number | null;
  #hasTakenOver = false;
  #isClosed = false;

  constructor(options: GuidedSleeveOptions, scheduler: SchedulerLike) {
    this.#options = options;
    this.#scheduler = scheduler;
    const { address, place, sleeveNumber, epoch, checkpoint } = options;
    this.#used = usedBefore(checkpoint);
    this.binding = checkpoint?.feed ? options.binding : unlessUsed(options.binding, this.#used);
    const feedAt = checkpoint?.feed ? (checkpoint.feed.latest ?? checkpoint.feed.start) : null;
    const from = feedAt?.from ?? checkpoint?.from ?? null;
    this.#link = createBrokerLink(
      { address, place, sleeveNumber, newId, epoch, ...(from && { from }) },
      scheduler,
    );
    this.#board = lightAndSound(this.#link);
    this.#outputs = stoppedOutputs(this.#board, options.stoppedUntilMs, scheduler);
    this.#everything.add(
      this.#link.bytes$.subscribe((bytes) => this.#places.add(this.#link.received!, bytes.length)),
    );
    this.#checkpoints = new CheckpointWriter(
      {
        front: options.front,
        places: this.#places,
        binding: () => this.binding,
        nowMs: () => scheduler.now(),
        publish: (bytes) => this.#link.leaveCheckpoint(bytes),
      },
      checkpoint,
    );
  }

  get sleeveNumber(): number {
    return this.#options.sleeveNumber;
  }

  /** Id of the open feed; null if there is none. */
  get feedId(): string | null {
    return this.#recorder?.feed?.held.summary.id ?? null;
  }

  /**
   * @returns once it is guided; false if it was closed meanwhile, or another worker guides it
   * @throws PlainError when its bytes do not come
   */
  async open(): Promise<boolean> {
    const { checkpoint, front, wallNowMs, sleeveNumber, worker, epoch } = this.#options;
    const recorder = this.#begin();
    this.#recorder = recorder;
    // The store may say so while the bytes are replayed.
    this.#everything.add(front.lost$.subscribe((id) => id === this.feedId && this.#leave()));
    this.#everything.add(front.behind$.subscribe((id) => id === this.feedId && this.#leave(true)));
    const catchingUp = this.#link.bytes$.subscribe((bytes) => {
      try {
        this.#catchUp(recorder, bytes);
      } catch (error) {
        this.#fail(error);
      }
    });
    try {
      await this.#link.open();
    } catch (error) {
      const isElsewhere = this.#isClosed || this.#link.isReplaced;
      await this.close();
      if (isElsewhere) return false;
      throw error;
    } finally {
      catchingUp.unsubscribe();
    }
    if (this.#isClosed) return false;
    this.#takeOver();
    const isSame =
      checkpoint?.feed && recorder.feed?.held.summary.id === checkpoint.feed.start.picture.summary.id;
    this.#live = createLiveFeed(
      {
        ...recorder.options,
        link: this.#link,
        outputs: this.#outputs,
        wallNowMs,
        keepEveryMs: KEEP_EVERY_MS,
        onKept: (of, shown) => this.#checkpoints.kept(of, shown),
        takenOver: { recorder, shown: isSame ? checkpoint.feed!.shown : null },
        onFault: (error) => this.#fail(error),
      },
      this.#scheduler,
    );
    this.#checked = this.#check(this.#live);
    const tell = stateTeller(
      { sleeveNumber, worker, epoch },
      (state) => this.#link.publishState(state, STATE_EXPIRES_SEC),
      () => this.#scheduler.now(),
    );
    this.#everything.add(
      this.#checked.view$.subscribe((view) => {
        this.view = view;
        tell(view);
      }),
    );
    this.#everything.add(interval(LOOK_MS, this.#scheduler).subscribe(() => this.#look()));
    return true;
  }

  #catchUp(recorder: Recorder, bytes: Uint8Array): void {
    this.#takeOver();
    takeBytes(recorder, bytes, labelOf(recorder, this.#options.wallNowMs));
    if ((recorder.feed?.held.heldBytes ?? 0) >= HAND_OVER_BYTES) keepPart(recorder);
    if (recorder.feed) return;
    this.binding = unlessUsed(this.binding, this.#used);
    recorder.setup = this.binding.setup;
  }

  /** As at home: each feed tells whether the calibration still holds, and teaches about the bottle. */
  #check(live: MovableFeed): CheckedFeed {
    const { front, wallNowMs } = this.#options;
    const historyNow = () => front.historyFrom(this.binding.history);
    return checkedFeeds(live, {
      ...{ link: this.#link, calibration: this.binding.made, wallNowMs },
      ...{ history: historyNow(), historyOf: historyNow, learns: !this.binding.simulated },
      onFault: (error) => this.#fail(error),
    });
  }

  #begin(): Recorder {
    const { checkpoint, front, sleeveNumber } = this.#options;
    return guidedRecorder(checkpoint, {
      storage: front.storage(() => this.binding.setup),
      sleeveNumber,
      binding: () => this.binding,
      onOpened: (feed, bytes) => {
        this.#used = this.binding.bound;
        this.#checkpoints.opened(feed, bytes);
      },
    });
  }

  /** Only once the relay obeys this guide: what the store is told last counts, and the relay may obey another. */
  #takeOver(): void {
    const feed = this.#options.checkpoint?.feed;
    if (this.#hasTakenOver) return;
    this.#hasTakenOver = true;
    if (!feed) return;
    const { picture } = feed.latest ?? feed.start;
    this.#options.front.takeOver(picture.summary, this.binding.calibration, picture.handed);
  }

  /** Takes a new binding. A running feed keeps the calibration that it began with. */
  bind(asked: SleeveBinding): void {
    const before = this.binding;
    const recorder = this.#recorder;
    if (!this.#live || !recorder) return;
    const binding = recorder.feed ? asked : unlessUsed(asked, this.#used);
    const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
    const calibrated = recorder.feed !== null || isSame(binding.calibration, before.calibration);
    const { calibration, made } = before;
    this.binding = calibrated ? { ...binding, calibration, made } : binding;
    if (!calibrated)
      this.#checked!.changeSleeve({ calibration: binding.made, sleeveId: String(this.sleeveNumber) });
    if (!isSame(binding.setup, before.setup)) this.#live.command({ kind: 'setup', setup: binding.setup });
  }

  #look(): void {
    const { bound, setup } = this.binding;
    if (this.#link.isReplaced) this.#leave();
    // The next feed is not of the same baby.
    else if (this.feedId === null && bound === this.#used && setup.babyId != null) this.bind(this.binding);
  }

  /** @param isAnew  whoever guides next hands the feed over from its first byte */
  #leave(isAnew = false): void {
    if (isAnew) this.#checkpoints.beginAnew();
    void this.close();
    this.#options.gone();
  }

  /** What the step in which it happened has left cannot be trusted: nothing more of it is stored. */
  #fail(fault: unknown): void {
    if (this.#isClosed) return;
    void this.close(false);
    this.#options.gone(fault);
  }

  /**
   * An open feed is continued elsewhere; data handed over so far are still stored.
   * @param keepsRest  whether what is held is handed over first
   */
  async close(keepsRest = this.#hasTakenOver): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    const { feedId } = this;
    this.#checked?.stopChecking();
    this.#live?.letGo();
    if (this.#recorder && keepsRest) keepPart(this.#recorder);
    if (feedId !== null) this.#options.front.letGo(feedId);
    this.#everything.unsubscribe();
    this.#outputs.close();
    this.#board.close();
    await this.#link.close();
  }
}
