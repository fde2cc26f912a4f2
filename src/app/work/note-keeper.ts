/** Keeps the note of one sleeve up to date while it is guided. */
import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { ShownPicture } from '../../feed/live/live-picture.ts';
import type { OpenFeed, Session } from '../../feed/session/session.ts';
import { PRE_ROLL_SEC } from '../../feed/session/session.ts';
import { pictureOf, pictureOfStart } from '../../feed/session/session-picture.ts';
import type { KeptFront } from './keeping/kept-front.ts';
import type { SleeveBinding } from './keeping/kept-ops.ts';
import { encodeNote, type PackedNote, packFeedAt, type SleeveNote } from './sleeve-note.ts';
import type { StreamPlaces } from './stream-places.ts';

export interface NoteSurroundings {
  front: Pick<KeptFront, 'onceKept'>;
  places: StreamPlaces;
  binding: () => SleeveBinding;
  nowMs: () => number;
  publish: (note: Uint8Array) => void;
}

/** A picture is some 50 kB; bytes of so long are gone through anew at most, beside those of the time without a guide. */
const PICTURE_EVERY_MS = 8000;
const IDLE_EVERY_MS = 20_000;
const PRE_ROLL_MS = (PRE_ROLL_SEC + 10) * 1000;

export class NoteKeeper {
  readonly #around: NoteSurroundings;
  #feed: PackedNote['feed'] = null;
  #feedId: string | null = null;
  #pictureAtMs = Number.NEGATIVE_INFINITY;
  #idleAtMs = Number.NEGATIVE_INFINITY;
  /** How many bytes had come at which time, oldest first; and when the last feed was over. */
  #came: { atMs: number; total: number }[] = [];
  #overTotal = 0;

  /** @param before  the note that the sleeve was taken over with */
  constructor(around: NoteSurroundings, before: SleeveNote | null) {
    this.#around = around;
    if (!before?.feed) return;
    const { start, latest, noted, shown } = before.feed;
    this.#feed = { start: packFeedAt(start), latest: latest && packFeedAt(latest), noted, shown };
    this.#feedId = start.picture.summary.id;
  }

  /** @param bytes  with so many the feed began */
  opened(feed: OpenFeed, bytes: number): void {
    const { places, nowMs } = this.#around;
    const from = places.placeOf(places.total - bytes);
    if (!from) return;
    const start = packFeedAt({ picture: pictureOfStart(feed), from });
    this.#feed = { start, latest: null, noted: [...feed.noted], shown: null };
    this.#feedId = feed.held.summary.id;
    this.#pictureAtMs = nowMs();
    this.#publish();
  }

  /** To be called after each try to keep, and whenever somebody was told of a cue. */
  kept(session: Session, shown: ShownPicture): void {
    const { feed } = session;
    const nowMs = this.#around.nowMs();
    if (!feed) {
      this.#idle(nowMs);
      return;
    }
    if (feed.held.summary.id !== this.#feedId || !this.#feed) return;
    const wasTold = toldOf(this.#feed.shown) !== toldOf(shown);
    const isNoted = this.#feed.noted.length !== feed.noted.length;
    this.#feed = { ...this.#feed, shown, noted: [...feed.noted] };
    if (nowMs - this.#pictureAtMs >= PICTURE_EVERY_MS) this.#takePicture(session, nowMs);
    if (wasTold || isNoted) this.#publish();
  }

  #takePicture(session: Session, nowMs: number): void {
    const { front, places } = this.#around;
    const [picture, from, feedId] = [pictureOf(session), places.placeOf(places.total), this.#feedId];
    if (!picture || !from || feedId === null) return;
    const packed = packFeedAt({ picture, from });
    const isAwaited = front.onceKept(feedId, () => {
      if (this.#feedId !== feedId || !this.#feed) return;
      this.#feed = { ...this.#feed, latest: packed };
      this.#publish();
    });
    if (isAwaited) this.#pictureAtMs = nowMs;
  }

  /** Whoever guides next needs the minute before a latch, but nothing of the feed before. */
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
    publish(encodeNote({ binding: binding(), from, feed: this.#feed }, SOFTWARE_VERSION));
  }
}

/** Whom a cue was shown, and whether it sounded. */
const toldOf = (shown: ShownPicture | null): string =>
  JSON.stringify([shown?.cue?.sinceSec, shown?.cue?.by, shown?.muted, shown?.guidanceOffSec === null]);
