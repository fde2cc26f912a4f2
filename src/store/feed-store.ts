import { PlainError } from '../base/errors.ts';
import type { FeedSummary } from '../feed/record/feed.ts';
import type { FeedPart, FeedStorage } from '../feed/record/feed-storage.ts';
import type { Handed } from '../feed/record/held.ts';
import type { RefinedFeed } from '../sensing/moment.ts';
import { taken } from './captures/capture-folder.ts';
import { sidecarOf } from './captures/capture-writer.ts';
import type { Captures } from './captures/captures.ts';
import { settleFeed } from './captures/settling.ts';
import { closeDatabase, inTransaction } from './database/database.ts';
import { isSafeFeedId } from './database/feed-id.ts';
import { FeedJournal } from './database/feed-journal.ts';
import type { FeedEnd } from './database/feed-records.ts';
import type { RenewedDatabase } from './database/renewed.ts';
import { plainly } from './faults.ts';
import { refuseMixing } from './mixing.ts';
import { archiveByRule } from './portable/archive.ts';
import { type ForgetResult, forgetBaby, sweepLeaving } from './portable/forget.ts';
import { forgetInside } from './portable/forget-folder.ts';
import { babiesCounted, type CountedBaby, countOf } from './portable/whom-to-forget.ts';
import { type SideFiles, sideFilesIn } from './side-files.ts';
import { againAtSamePlace, type RunningFeed, takenOver } from './take-over.ts';

/**
 * Opens the store in `folder`, which is created if needed (see `dataFolder`).
 * With `recording`, captures that a killed process left unpacked are packed; unfinished feeds are left to the caller: `unfinished`.
 * @throws PlainError store-folder, store-full, store-newer, store-foreign, store-damaged, store-busy, store-recording
 */
/** The store of feeds. All calls are synchronous and, unless said otherwise, durable on return; disk errors are PlainErrors. */
export class FeedStore extends FeedJournal implements FeedStorage {
  protected readonly running = new Map<string, RunningFeed>();

  /** Use `openStore`. */
  constructor(
    folder: string,
    database: RenewedDatabase,
    protected readonly captures: Captures,
    protected readonly unlock: (() => void) | null,
    protected readonly softwareVersion: string,
    nowMs: () => number,
    private readonly packsLater: boolean,
    /** Those of studies, and passports of nipples. */
    readonly files: SideFiles = sideFilesIn(folder),
  ) {
    super(folder, database, nowMs);
  }

  /** May be repeated after an error: leftovers of this feed are reused. @throws PlainError store-taken … */
  begin(feed: FeedSummary, calibration: unknown): void {
    this.mustRecord();
    if (!isSafeFeedId(feed.id)) throw new Error(`a feed's id must be safe as a file name, not "${feed.id}"`);
    this.safely(() => {
      refuseMixing(this.folder, this.records.holdsSimulated(), feed.simulated);
      const before = this.records.begunBefore(feed);
      if (before === 'other') throw taken(feed.id);
      const capture = this.captures.begin(feed.id, sidecarOf(feed, calibration, this.softwareVersion));
      try {
        const rawName = this.captures.rawName(feed.id);
        const cursor = before ?? this.records.insert(feed, calibration, this.softwareVersion, rawName);
        this.running.set(feed.id, { cursor, capture });
      } catch (error) {
        this.captures.undoBegin(feed.id, capture);
        throw error;
      }
    });
  }

  /** See `takenOver`. @returns false if no such feed is open, or less of it is stored than was handed over */
  takeOver(feed: FeedSummary, handed?: Handed): boolean {
    this.mustRecord();
    this.running.get(feed.id)?.capture.close();
    const { records, captures, database } = this;
    const running = this.safely(() => takenOver({ records, captures, database }, feed, handed));
    if (running) this.running.set(feed.id, running);
    return running !== null;
  }

  /**
   * After an error the call is repeated with the same part and the data that came since. The bytes are then in the capture already, if the disk
   * accepted them: even if the database fails for good, the feed can be rebuilt from them.
   */
  append(feedId: string, part: FeedPart): void {
    const running = this.running.get(feedId);
    if (!running) throw new Error(`feed ${feedId} is not running`);
    const rows = () => this.safely(() => this.records.append(running.cursor, part));
    againAtSamePlace(running, () => plainly(this.folder, () => running.capture.keep(part.bytes, rows)));
  }

  /** The capture stays unpacked until the next start if the disk is too full to pack it. */
  finish(feedId: string, end: FeedEnd): void {
    this.mustRecord();
    this.mustKnow(feedId);
    const running = this.running.get(feedId);
    this.safely(() =>
      inTransaction(this.database, () => {
        if (running?.isTakenOver) this.records.cutAt(running.cursor);
        this.records.end(feedId, end);
      }),
    );
    this.#closeCapture(feedId);
  }

  discard(feedId: string): void {
    this.mustKnow(feedId);
    this.safely(() => this.records.discard(feedId));
    this.#closeCapture(feedId);
  }

  /** Stores the refined pass of an ended feed; its totals replace the live ones. */
  refine(feedId: string, refined: RefinedFeed): void {
    this.mustRecord();
    this.mustKnow(feedId);
    this.safely(() => this.records.refine(feedId, refined));
  }

  /** Ended feeds whose captures are not packed yet. */
  unsettled(): string[] {
    return this.safely(() => this.captures.rawIds().filter((id) => this.isOver(id)));
  }

  /** Packs a capture; the raw one stays. Any process may do this, also a reader. @returns the packed one's name; null if there is none */
  packCapture(feedId: string): string | null {
    return this.safely(() => (this.isOver(feedId) ? this.captures.pack(feedId) : null));
  }

  /** Replaces the raw capture by the packed one; if the feed was forgotten meanwhile, the packed one is removed. @param packed  from `packCapture` */
  settlePacked(feedId: string, packed: string | null): void {
    this.mustRecord();
    this.safely(() => {
      if (!this.records.summary(feedId)) return this.captures.removeAll(feedId);
      settleFeed(this.records, this.captures, feedId, () => packed);
    });
  }

  /** Feeds left unfinished by a killed process or a power cut, oldest first; not the running one. */
  unfinished(): FeedSummary[] {
    return this.safely(() =>
      this.records.open().filter(({ id }) => !this.running.has(id) && !this.captures.isHeld(id)),
    );
  }

  /** Ends an unfinished feed at its last row, with the refined pass if the caller could make one. */
  recover(feedId: string, refined: RefinedFeed | null): FeedSummary {
    const feed = this.mustKnow(feedId);
    const lastAtSec = this.safely(() => this.records.lastRowAtSec(feedId));
    const endedAtMs = lastAtSec === null ? feed.startedAtMs : feed.sampleZeroAtMs + lastAtSec * 1000;
    this.finish(feedId, { endReason: 'link-ended', endedAtMs, refined });
    return this.mustKnow(feedId);
  }

  /** @returns the capture's absolute path, packed or raw, also if it was archived; null if it is not available */
  capturePath(feedId: string): string | null {
    const { captureFile } = this.mustKnow(feedId);
    return captureFile ? this.safely(() => this.captures.fileOf(feedId, captureFile)) : null;
  }

  isOver(feedId: string): boolean {
    const feed = this.safely(() => this.records.summary(feedId));
    return feed !== null && feed.state !== 'open';
  }

  /** Whether this process records the feed. */
  isRecording = (feedId: string): boolean => this.running.has(feedId);

  hasCapture(feedId: string): boolean {
    return this.safely(() => this.captures.find(feedId) !== null);
  }

  /** Deletes the files that `capturePath` had to make. */
  letGoOfFiles(): void {
    this.captures.close();
  }

  /** All babies with stored data, also those named only in feeds, with the amount of data. */
  babiesKept(): CountedBaby[] {
    return this.safely(() => babiesCounted(this.database));
  }

  /** Deletes a baby and all that belongs to it, for good. @throws PlainError forget-running, forget-nobody, forget-busy */
  forget(baby: string): ForgetResult {
    this.mustRecord();
    if (this.running.size > 0) {
      throw new PlainError(
        'forget-running',
        'A feed is running; meanwhile nothing is deleted.',
        'End the feed first.',
      );
    }
    // In inner stores the baby may be known by its name only.
    const { name } = this.safely(() => countOf(this.database, baby));
    const result = forgetBaby(this.#place, baby);
    forgetInside(this.folder, [baby, name]);
    return result;
  }

  /** Packs captures that a killed process or a full disk left unpacked. Called by `openStore`. */
  settleLeftovers(): void {
    this.#sweepLeaving();
    const rawIds = this.safely(() => this.captures.clearTemporaries());
    for (const id of rawIds) {
      const feed = this.safely(() => this.records.summary(id));
      if (!feed) this.safely(() => this.captures.removeEmpty(id));
      else if (feed.state !== 'open' && !this.packsLater) this.#settleCapture(id);
    }
    archiveByRule(this.#place, this.nowMs());
  }

  /** Closes the store. An open feed stays unfinished, complete up to the last append. */
  close(): void {
    for (const { capture } of this.running.values()) capture.close();
    this.running.clear();
    this.captures.close();
    closeDatabase(this.database);
    this.unlock?.();
  }

  get #place() {
    return { folder: this.folder, database: this.database, captures: this.captures };
  }

  #closeCapture(feedId: string): void {
    const running = this.running.get(feedId);
    running?.capture.close();
    this.running.delete(feedId);
    if (this.unlock && !this.packsLater) this.#settleCapture(feedId);
  }

  #settleCapture(feedId: string): void {
    try {
      this.safely(() => settleFeed(this.records, this.captures, feedId, () => this.captures.pack(feedId)));
    } catch (error) {
      // The feed and its bytes are stored; packing is tried again at the next start.
      if (!(error instanceof PlainError)) throw error;
    }
  }

  /** Removes listed captures; after an error it is tried again at the next start. */
  #sweepLeaving(): void {
    try {
      this.safely(() => sweepLeaving(this.#place));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
    }
  }

  protected mustRecord(): void {
    if (!this.unlock) throw new Error('the store was opened for reading: pass { recording: true }');
  }
}
