/** Events that may happen in a simulated world, and their results. */

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
  /** Events while a feed was open. */
  inFeed: Partial<Record<Turn, number>>;
  /** `cable` events that unplugged it. */
  unplugs: number;
  /** Failed calls of disk and database. */
  failures: number;
  /** What did not hold, each with its time; empty if all did. */
  broken: string[];
}
