/**
 * Makes the checkpoint that is missing from the bytes that a sleeve's relay still stores: where the running feed began. A feed that the store has begun
 * goes on from its own first byte; bytes of feeds that are over are passed over. Pure, but for the engine that watches for the latch.
 */
import type { FeedEvent, ToldCue } from '../../feed/record/feed.ts';
import type { FeedStorage } from '../../feed/record/feed-storage.ts';
import { createRecorder, type Recorder, takeBytes } from '../../feed/recording/recorder.ts';
import { type FeedSnapshot, snapshotAtStart } from '../../feed/recording/snapshot.ts';
import type { Calibration } from '../../sensing/index.ts';
import { unlessUsed } from './bound-once.ts';
import type { Checkpoint, FeedAt } from './checkpoint.ts';
import { type LatestFeed, MARK_BYTES } from './storing/latest-feed.ts';
import type { SleeveBinding } from './storing/store-ops.ts';
import { type StreamPlace, StreamPlaces } from './stream-places.ts';

export interface LookBackOptions {
  sleeveNumber: number;
  binding: SleeveBinding;
  /** By the store. */
  latest: LatestFeed | null;
  newFeedId: (startedAtMs: number) => string;
}

/** What was found. `lost`: a feed that the store has begun, whose first bytes are no longer there. */
export interface Found {
  checkpoint: Checkpoint;
  /** When the running feed began, ms since 1970; null: no feed runs. */
  sinceMs: number | null;
  lost: string | null;
}

/** Clocks of computers may differ. */
const SAME_MS = 5 * 60_000;

/** Takes everything and stores nothing. */
const nowhere = (binding: SleeveBinding): FeedStorage => ({
  ...{ begin: () => {}, append: () => {}, finish: () => {}, discard: () => {} },
  ...{ readSetup: () => binding.setup, writeSetup: () => {} },
});

export class LookBack {
  readonly #options: LookBackOptions;
  readonly #places = new StreamPlaces();
  #watch: Recorder;
  /** The last bytes, in which a mark may begin. */
  #carry = Buffer.alloc(0);
  #end: StreamPlace | null = null;
  /** The store's feed, found by its first bytes, and where they are. */
  #resumed: { latest: LatestFeed; from: StreamPlace } | null = null;
  #opened: { picture: FeedSnapshot; from: StreamPlace | null } | null = null;
  #binding: SleeveBinding;

  constructor(options: LookBackOptions) {
    this.#options = options;
    this.#binding = options.binding;
    this.#watch = this.#begin(options.binding.calibration);
  }

  #begin(calibration: Calibration): Recorder {
    const { binding, sleeveNumber } = this.#options;
    return createRecorder({
      calibration,
      storage: nowhere(binding),
      newFeedId: () => 'looked-back',
      simulated: binding.simulated,
      sleeveId: String(sleeveNumber),
      refinesLater: true,
      guide: () => this.#binding.guided,
      onOpened: (recorder, bytes) => this.#open(recorder, bytes),
    });
  }

  #open({ feed, watcher }: Recorder, bytes: number): void {
    const picture = snapshotAtStart(feed!);
    const places = this.#places;
    this.#opened = {
      // Of a resumed feed the first byte is known better than by the pre-roll.
      picture: { ...picture, ...(this.#resumed && { openedSec: watcher.timeline.atMicros / 1e6 }) },
      from: this.#resumed?.from ?? places.placeOf(places.total - bytes),
    };
  }

  /** @param end  the place after these bytes */
  take(bytes: Uint8Array, end: StreamPlace): void {
    // Of the store's own feed only the begin is looked for.
    if (this.#resumed && this.#opened) return;
    const goesOn = this.#end?.stream === end.stream && this.#end.next === end.next - bytes.length;
    this.#end = end;
    const joined = Buffer.concat(goesOn ? [this.#carry, bytes] : [bytes]);
    this.#carry = Buffer.from(joined.subarray(1 - MARK_BYTES));
    const { latest } = this.#options;
    const placeOf = (at: number): StreamPlace => ({ ...end, next: end.next - (joined.length - at) });
    const isSought = latest && !this.#resumed && latest.head.length > 0;
    const head = isSought && latest.feed.state === 'open' ? joined.indexOf(latest.head) : -1;
    const tail = isSought ? joined.indexOf(latest.tail) : -1;
    if (latest && head >= 0) {
      this.#resumed = { latest, from: placeOf(head) };
      this.#startAt(joined.subarray(head), end, latest.calibration);
    } else if (latest && tail >= 0)
      this.#startAt(joined.subarray(tail + latest.tail.length), end, this.#options.binding.calibration);
    else this.#watchOn(bytes, end);
  }

  #startAt(bytes: Uint8Array, end: StreamPlace, calibration: Calibration): void {
    this.#opened = null;
    this.#binding = this.#options.binding;
    this.#watch = this.#begin(calibration);
    this.#watchOn(bytes, end);
  }

  #watchOn(bytes: Uint8Array, end: StreamPlace): void {
    this.#places.add(end, bytes.length);
    takeBytes(this.#watch, bytes, 0);
    if (!this.#opened || this.#watch.feed !== null || this.#resumed) return;
    // That feed is over: it was of the labels that were scanned for it.
    this.#opened = null;
    this.#binding = unlessUsed(this.#binding, this.#binding.bound);
    this.#watch.setup = this.#binding.setup;
  }

  /** @param nowMs  wall time at the last byte, ms since 1970 */
  found(nowMs: number): Found {
    const { latest, newFeedId } = this.#options;
    const { feed, preRoll } = this.#watch;
    const { picture, from } = this.#opened ?? {};
    if (picture && from && this.#resumed) {
      const { feed: summary, calibration, noted, told } = this.#resumed.latest;
      const start = { picture: { ...picture, summary, withheld: isWithheld(noted) }, from };
      return inFeed({ ...this.#binding, calibration }, start, noted, summary.startedAtMs, told);
    }
    const lost = latest?.feed.state === 'open' && latest.head.length > 0 ? latest.feed.id : null;
    if (picture && from && feed) {
      const sinceMs = nowMs - (feed.engine.timeline.atMicros / 1e6 - feed.openedSec) * 1000;
      if (latest && isBarelyBegun(latest, sinceMs)) {
        const start = { picture: { ...picture, summary: latest.feed }, from };
        return inFeed(this.#binding, start, [...feed.noted], latest.feed.startedAtMs);
      }
      const times = { startedAtMs: sinceMs, sampleZeroAtMs: sinceMs - feed.openedSec * 1000 };
      const summary = { ...picture.summary, ...times, id: newFeedId(sinceMs) };
      return {
        ...inFeed(this.#binding, { picture: { ...picture, summary }, from }, [...feed.noted], sinceMs),
        lost,
      };
    }
    const places = this.#places;
    const place = places.placeOf(places.total - preRoll.length);
    return { checkpoint: { binding: this.#binding, from: place, feed: null }, sinceMs: null, lost };
  }
}

/** Begun in the store at about this time, and none of its bytes stored: it is the same. */
const isBarelyBegun = ({ feed, head }: LatestFeed, sinceMs: number): boolean =>
  feed.state === 'open' && head.length === 0 && Math.abs(feed.startedAtMs - sinceMs) < SAME_MS;

const isWithheld = (noted: readonly FeedEvent[]): boolean =>
  noted.some(({ kind }) => kind === 'cues-withheld');

function inFeed(
  binding: SleeveBinding,
  start: FeedAt,
  noted: FeedEvent[],
  sinceMs: number,
  told: ToldCue[] = [],
): Found {
  const feed = { start, latest: null, noted, told, shown: null };
  return { checkpoint: { binding, from: null, feed }, sinceMs, lost: null };
}
