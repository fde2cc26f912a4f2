/** Keeps the checkpoint of a sleeve up to date while the sleeve is guided. */
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { ShownSnapshot } from '../../feed/live/shown-snapshot.ts';
import type { OpenFeed, Recorder } from '../../feed/recording/recorder.ts';
import { PRE_ROLL_SEC } from '../../feed/recording/recorder.ts';
import { allNoted, feedSnapshot, snapshotAtStart } from '../../feed/recording/snapshot.ts';
import { type Checkpoint, encodeCheckpoint, type PackedCheckpoint, packFeedAt } from './checkpoint.ts';
import type { StoreFront } from './storing/store-front.ts';
import type { SleeveBinding } from './storing/store-ops.ts';
import type { StreamPlaces } from './stream-places.ts';

export interface CheckpointSources {
  front: Pick<StoreFront, 'onceKept'>;
  places: StreamPlaces;
  binding: () => SleeveBinding;
  nowMs: () => number;
  publish: (checkpoint: Uint8Array) => void;
}

/** Period of snapshots (some 50 kB each). At most this much of a feed is processed again after a change of guide, besides the time without a guide. */
const SNAPSHOT_EVERY_MS = 8000;
const IDLE_EVERY_MS = 20_000;
const PRE_ROLL_MS = (PRE_ROLL_SEC + 10) * 1000;

export class CheckpointWriter {
  readonly #around: CheckpointSources;
  #feed: PackedCheckpoint['feed'] = null;
  #feedId: string | null = null;
  #snapshotAtMs = Number.NEGATIVE_INFINITY;
  #idleAtMs = Number.NEGATIVE_INFINITY;
  /** Number of bytes received by time, oldest first; `#overTotal`: number at the end of the last feed. */
  #came: { atMs: number; total: number }[] = [];
  #overTotal = 0;

  /** @param before  the checkpoint that the sleeve was taken over with */
  constructor(around: CheckpointSources, before: Checkpoint | null) {
    this.#around = around;
    if (!before?.feed) return;
    const { start, latest, ...rest } = before.feed;
    this.#feed = { start: packFeedAt(start), latest: latest && packFeedAt(latest), ...rest };
    this.#feedId = start.picture.summary.id;
  }

  /** @param bytes  number of bytes the feed began with */
  opened(feed: OpenFeed, bytes: number): void {
    const { places, nowMs } = this.#around;
    const from = places.placeOf(places.total - bytes);
    if (!from) return;
    const start = packFeedAt({ picture: snapshotAtStart(feed), from });
    this.#feed = { start, latest: null, noted: allNoted(feed), told: [...feed.told], shown: null };
    this.#feedId = feed.held.summary.id;
    this.#snapshotAtMs = nowMs();
    this.#publish();
  }

  /** Call it after each attempt to store, and when a cue was shown. */
  kept(recorder: Recorder, shown: ShownSnapshot): void {
    const { feed } = recorder;
    const nowMs = this.#around.nowMs();
    if (!feed) {
      this.#idle(nowMs);
      return;
    }
    if (feed.held.summary.id !== this.#feedId || !this.#feed) return;
    const wasTold = toldOf(this.#feed.shown) !== toldOf(shown);
    const noted = allNoted(feed);
    const isNoted = this.#feed.noted.length !== noted.length;
    this.#feed = { ...this.#feed, shown, noted, told: [...feed.told] };
    if (nowMs - this.#snapshotAtMs >= SNAPSHOT_EVERY_MS) this.#takeSnapshot(recorder, nowMs);
    if (wasTold || isNoted) this.#publish();
  }

  /** The next guide is to begin with the feed's first byte: the store has less of it than the latest snapshot says. */
  beginAnew(): void {
    if (!this.#feed) return;
    this.#feed = { ...this.#feed, latest: null };
    this.#publish();
  }

  #takeSnapshot(recorder: Recorder, nowMs: number): void {
    const { front, places } = this.#around;
    const [picture, from, feedId] = [feedSnapshot(recorder), places.placeOf(places.total), this.#feedId];
    if (!picture || !from || feedId === null) return;
    const packed = packFeedAt({ picture, from });
    const isAwaited = front.onceKept(feedId, () => {
      if (this.#feedId !== feedId || !this.#feed) return;
      this.#feed = { ...this.#feed, latest: packed };
      this.#publish();
    });
    if (isAwaited) this.#snapshotAtMs = nowMs;
  }

  /** Between feeds the next guide needs only the last minute of bytes. */
  #idle(nowMs: number): void {
    const { places } = this.#around;
    if (this.#feedId !== null) {
      this.#feedId = null;
      this.#feed = null;
      this.#overTotal = places.total;
      this.#idleAtMs = Number.NEGATIVE_INFINITY;
    }
    this.#came.push({ atMs: nowMs, total: places.total });
    while (this.#came.length > 1 && this.#came[1]!.atMs <= nowMs - PRE_ROLL_MS) this.#came.shift();
    if (nowMs - this.#idleAtMs < IDLE_EVERY_MS) return;
    this.#idleAtMs = nowMs;
    this.#publish();
  }

  #publish(): void {
    const { binding, places, publish } = this.#around;
    const from = this.#feed ? null : places.placeOf(Math.max(this.#overTotal, this.#came[0]?.total ?? 0));
    publish(encodeCheckpoint({ binding: binding(), from, feed: this.#feed }, SOFTWARE_VERSION));
  }
}

/** Which cue was shown by what, and whether it sounded. */
const toldOf = (shown: ShownSnapshot | null): string =>
  JSON.stringify([shown?.cue?.sinceSec, shown?.cue?.by, shown?.muted, shown?.guidanceOffSec === null]);
