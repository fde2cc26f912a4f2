/** A storage in memory that can run out of space, and records when it was called. */
import { PlainError } from '../../src/base/errors.ts';
import type { FeedSetup, FeedSummary } from '../../src/feed/record/feed.ts';
import type { FeedPart, FeedStorage } from '../../src/feed/record/feed-storage.ts';
import { EMPTY_SETUP } from './fake-live.ts';
import { joined } from './wire.ts';

export interface FakeFeed {
  summary: FeedSummary;
  calibration: unknown;
  parts: FeedPart[];
  /** When each part came, ms of the given clock. */
  partsAtMs: number[];
  end: Parameters<FeedStorage['finish']>[1] | null;
  discarded: boolean;
}

export class MemoryStorage implements FeedStorage {
  readonly feeds: FakeFeed[] = [];
  setup: FeedSetup = EMPTY_SETUP;
  /** While true, nothing can be written. */
  full = false;
  /** Calls refused while full. */
  refused = 0;

  constructor(private readonly nowMs: () => number) {}

  get only(): FakeFeed {
    if (this.feeds.length !== 1) throw new Error(`${this.feeds.length} feeds were kept, not one`);
    return this.feeds[0]!;
  }

  begin(summary: FeedSummary, calibration: unknown): void {
    this.#write();
    if (this.feeds.some((feed) => feed.summary.id === summary.id))
      throw new Error(`begun twice: ${summary.id}`);
    this.feeds.push({
      summary: { ...summary },
      calibration,
      parts: [],
      partsAtMs: [],
      end: null,
      discarded: false,
    });
  }

  append(feedId: string, part: FeedPart): void {
    this.#write();
    const feed = this.#running(feedId);
    feed.parts.push(structuredClone(part));
    feed.partsAtMs.push(this.nowMs());
  }

  finish(feedId: string, end: Parameters<FeedStorage['finish']>[1]): void {
    this.#write();
    this.#running(feedId).end = end;
  }

  discard(feedId: string): void {
    this.#write();
    this.#find(feedId).discarded = true;
  }

  readSetup = (): FeedSetup => this.setup;

  writeSetup(setup: FeedSetup): void {
    this.#write();
    this.setup = setup;
  }

  #find(feedId: string): FakeFeed {
    const feed = this.feeds.find(({ summary }) => summary.id === feedId);
    if (!feed) throw new Error(`never begun: ${feedId}`);
    return feed;
  }

  #running(feedId: string): FakeFeed {
    const feed = this.#find(feedId);
    if (feed.end || feed.discarded) throw new Error(`over already: ${feedId}`);
    return feed;
  }

  #write(): void {
    if (!this.full) return;
    this.refused++;
    throw new PlainError('store-full', 'The disk is full.', 'Free some space.');
  }
}

/** All stored rows of a feed, joined. */
export const keptRows = (feed: FakeFeed) => feed.parts.flatMap((part) => part.rows);
export const keptCues = (feed: FakeFeed) => feed.parts.flatMap((part) => part.cues);
export const keptTold = (feed: FakeFeed) => feed.parts.flatMap((part) => part.told ?? []);
export const keptEvents = (feed: FakeFeed) => feed.parts.flatMap((part) => part.events);
export const keptBytes = (feed: FakeFeed): Uint8Array => joined(feed.parts.flatMap((part) => part.bytes));
