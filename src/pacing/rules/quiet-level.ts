/**
 * After feeds that needed few cues the sleeve grows quieter by itself: a pure function of what was recorded in earlier feeds. Own design, no source.
 * It goes back at once when a feed needed more. "Too fast" and "enough?" are never held back.
 *
 * Before a feed: what each earlier feed needed (`needOf` in feed/guided.ts), newest first, through `quietLevel`, into `Guidance.quiet`; words.quiet says that it did.
 * What a feed needed is what fired, not what was shown: else a quiet sleeve would keep itself quiet.
 */
export type QuietLevel = 'usual' | 'quieter' | 'quietest';

/** What one earlier feed needed, by its record. */
export interface FeedNeed {
  tiltDowns: number;
  /** All cues that fired, shown or not. */
  cues: number;
  durationSec: number;
}

/** Shorter ones tell nothing. */
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
