/** The end of `ebbline start` while the disk fails: data that is only in memory is tried again until it is stored, or the person gives up. */
import type { LiveFeed } from '../../feed/live/live.ts';

/** `ebbline start` ended, and part of a feed was not stored. */
export const EXIT_NOT_KEPT = 3;

/** Feeds with pending data, and the reason. */
export interface Unkept {
  feedIds: readonly string[];
  notice: string | null;
}

export interface KeepTryingOptions {
  unkept: () => Unkept;
  /** @returns whether the person asked again to stop */
  nextSecond: () => Promise<boolean>;
  say: (text: string) => void;
}

/** @returns true once all is stored; false if the person stopped it before */
export async function keepTrying(
  live: Pick<LiveFeed, 'keepRest'>,
  { unkept, nextSecond, say }: KeepTryingOptions,
): Promise<boolean> {
  if (live.keepRest()) return true;
  const { notice } = unkept();
  say(
    `ebbline: NOT kept yet: ${whatWaits(unkept())} It is only in the memory of this program. ${notice ?? ''}\n` +
      'Leave this program running: it tries again every second and ends by itself once all is kept.\n',
  );
  for (let isFirst = true; ; isFirst = false) {
    const isAsked = await nextSecond();
    if (live.keepRest()) break;
    // A shell may send one Ctrl-C twice, so within the first second it counts as the same one.
    if (isFirst) say('Stop it once more (Ctrl-C) only if that may be lost.\n');
    if (isFirst || !isAsked) continue;
    say(
      `ebbline: LOST: ${whatWaits(unkept())} What was written before stays, and the next start puts it in order.\n`,
    );
    return false;
  }
  say('ebbline: all is kept now.\n');
  return true;
}

function whatWaits({ feedIds }: Unkept): string {
  if (feedIds.length === 0) return 'what was said last about a feed.';
  return `what was measured last of ${feedIds.length === 1 ? 'the feed' : 'the feeds'} ${feedIds.join(', ')}.`;
}
