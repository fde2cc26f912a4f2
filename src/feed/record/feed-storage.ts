/** What the live feed needs of a disk; src/store implements it. */
import type { KeptCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';
import type { FeedEndReason, FeedEvent, FeedRow, FeedSetup, FeedSummary, ToldCue } from './feed.ts';

/** What has come in a feed since the last call. */
export interface FeedPart {
  rows: FeedRow[];
  cues: KeptCue[];
  /** Absent: not known what was told. */
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
   * Starts a feed; the first part follows by `append`. May be called again after an error, as all of these may.
   * @throws PlainError disk full, folder not writable
   */
  begin(feed: FeedSummary, calibration: unknown): void;
  /**
   * Durable on return: rows, cues and events in one transaction, bytes in the capture, both synced. Called once a second; after an error the
   * same part comes again, longer by what has come since.
   */
  append(feedId: string, part: FeedPart): void;
  /** Ends a feed; packs its capture. `refined` is null when nothing could be refined. */
  finish(
    feedId: string,
    end: { endReason: FeedEndReason; endedAtMs: number; refined: RefinedFeed | null },
  ): void;
  /** "Not a feed": kept on disk, shown in no list unless asked for. */
  discard(feedId: string): void;
  /** Puts what was said of the setup later beside a feed that was begun; without it, nothing is put there. */
  correct?(feedId: string, correction: { kind: 'setup'; setup: Partial<FeedSetup> }): void;
  readSetup(): FeedSetup;
  writeSetup(setup: FeedSetup): void;
}
