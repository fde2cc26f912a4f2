/**
 * After feeds that needed few cues the sleeve becomes quieter by itself, computed from the records of earlier feeds. Own design, no source.
 * It goes back at once when a feed needed more. "Too fast" and "enough?" are never suppressed.
 *
 * Before a feed the needs of earlier feeds (`needOf` in feed/recording/guided.ts), newest first, go through `quietLevel` into `Guidance.quiet`;
 * words.quiet tells the family. The need counts cues that fired, not those shown: otherwise a quiet sleeve would keep itself quiet.
 */
export type QuietLevel = 'usual' | 'quieter' | 'quietest';

/** What one earlier feed needed, from its record. */
export interface FeedNeed {
  tiltDowns: number;
  /** All cues that fired, shown or not. */
  cues: number;
  durationSec: number;
}

/** Shorter feeds are not counted. */
const TELLING_SEC = 5 * 60;

const STEPS: readonly { level: QuietLevel; feeds: number; tiltDowns: number; cues: number }[] = [
  { level: 'quietest', feeds: 6, tiltDowns: 0, cues: 3 },
  { level: 'quieter', feeds: 3, tiltDowns: 1, cues: 4 },
];

/** @param earlier feeds of this baby and this caregiver, newest first */
export function quietLevel(earlier: readonly FeedNeed[]): QuietLevel {
  const telling = earlier.filter((feed) => feed.durationSec >= TELLING_SEC);
  for (const { level, feeds, tiltDowns, cues } of STEPS) {
    const latest = telling.slice(0, feeds);
    const calm = latest.every((feed) => feed.tiltDowns <= tiltDowns && feed.cues <= cues);
    if (latest.length === feeds && calm) return level;
  }
  return 'usual';
}
