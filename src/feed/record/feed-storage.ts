/** The interface through which the live feed is stored; src/store implements it. */
import type { KeptCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';
import type { FeedEndReason, FeedEvent, FeedRow, FeedSetup, FeedSummary, ToldCue } from './feed.ts';

/** New data of a feed since the last call. */
export interface FeedPart {
  rows: FeedRow[];
  cues: KeptCue[];
  /** Absent: not known which cues were shown. */
  told?: ToldCue[];
  events: FeedEvent[];
  bytes: Uint8Array[];
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
  durationSec: number;
}

export interface FeedStorage {
  /**
   * Starts a feed; the first part follows by `append`. Like all of these calls it may be repeated after an error.
   * @throws PlainError disk full, folder not writable
   */
  begin(feed: FeedSummary, calibration: unknown): void;
  /**
   * Durable on return: rows, cues and events in one transaction, bytes in the capture, both synced. Called once a second; after an error the
   * same part comes again, with the data that has come since.
   */
  append(feedId: string, part: FeedPart): void;
  /** Ends a feed; packs its capture. `refined` is null when the refined pass gave nothing. */
  finish(
    feedId: string,
    end: { endReason: FeedEndReason; endedAtMs: number; refined: RefinedFeed | null },
  ): void;
  /** "Not a feed": it stays on disk, but lists omit it unless asked. */
  discard(feedId: string): void;
  /** Stores answers given after the feed began as a correction of it; optional. */
  correct?(feedId: string, correction: { kind: 'setup'; setup: Partial<FeedSetup> }): void;
  readSetup(): FeedSetup;
  writeSetup(setup: FeedSetup): void;
}
