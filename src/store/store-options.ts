import type { FeedDatabase } from './database/feed-database.ts';
import type { Disk } from './disk.ts';

export interface StoreOptions {
  /** True for the one process that records into the folder; others may read it at the same time. */
  recording?: boolean;
  /** Stored with each new feed. */
  softwareVersion?: string;
  /** The disk's calls; default node:fs; tests pass a failing one. */
  disk?: Disk;
  /** True where the caller packs captures of ended feeds by itself (`unsettled`, `packCapture`, `settlePacked`), so that the end of a feed does not wait for it. */
  packsLater?: boolean;
  /** Opens the database; default `openDatabase`; tests pass a failing one. */
  open?: (file: string) => FeedDatabase;
  /** Wall time, ms; the machine's clock by default. No entry may be later. */
  nowMs?: () => number;
}
