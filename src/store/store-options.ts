import type { FeedDatabase } from './database/feed-database.ts';
import type { Disk } from './disk.ts';

export interface StoreOptions {
  /** True for the one process that records feeds into the folder; readers come and go beside it. */
  recording?: boolean;
  /** Written beside each feed that is begun. */
  softwareVersion?: string;
  /** The disk's calls; node:fs unless a test hands in a failing one. */
  disk?: Disk;
  /** True where the caller packs captures of ended feeds by itself (`unsettled`, `packCapture`, `settlePacked`), so that no end of a feed waits for it. */
  packsLater?: boolean;
  /** Opens the database; `openDatabase` unless a test hands in a failing one. */
  open?: (file: string) => FeedDatabase;
  /** Wall time, ms; the machine's clock by default. Nothing may be dated after it. */
  nowMs?: () => number;
}
