/** What may happen in a world, and what came of it. */

export const CODES = [
  'ENOSPC',
  'EIO',
  'ESTALE',
  'ETIMEDOUT',
  'ENXIO',
  'EAGAIN',
  'EINTR',
  'EBUSY',
  'EMFILE',
  'EROFS',
  'EDQUOT',
] as const;

export const TURNS = [
  'mouth',
  'mouth',
  'mouth',
  'cable',
  'cable',
  'reset',
  'disk',
  'full-disk',
  'late-write',
  'kill',
  'clock',
  'lost-bytes',
  'busy',
  'silence',
  'order',
  'order',
  'stop',
] as const;
export type Turn = (typeof TURNS)[number];

export interface WorldResult {
  seed: number;
  virtualSec: number;
  feeds: number;
  turns: Partial<Record<Turn, number>>;
  /** Those while a feed was open. */
  inFeed: Partial<Record<Turn, number>>;
  /** Turns of `cable` that pulled it. */
  unplugs: number;
  /** Calls of disk and database that failed. */
  failures: number;
  /** What did not hold, each with when; empty when all did. */
  broken: string[];
}
