/** The complete state of one sleeve of a room. Ages instead of clock times, since clocks of different computers may differ by minutes. */
import type { LinkCause, Showing } from '../../feed/live/live-view.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import { sleeveMessageSchema } from './sleeve-message.ts';

export interface SleeveState {
  sleeve: number;
  showing: Showing;
  /** How long that had been shown when the message was sent, seconds. */
  shownForSec: number;
  feedId: string | null;
  feedState: 'none' | 'open' | 'ended' | 'discarded';
  /** Since the first latch, seconds; null before a feed. */
  feedForSec: number | null;
  /** With `no-guidance`: why. */
  cause: LinkCause | null;
  /** With `cannot-tell`: why. */
  quality: QualityReason | null;
}

const CAUSES = [
  ...(['lost', 'ended', 'silent', 'sleeve-nameless', 'other-sleeve', 'too-busy'] as const),
] satisfies LinkCause[];
/** @returns null for data that are not a valid state */
export function readSleeveState(data: unknown): SleeveState | null {
  const parsed = sleeveMessageSchema.safeParse(data);
  if (!parsed.success) return null;
  const { sleeveNumber, showing, shownForSec, feedForSec, doubt, trouble } = parsed.data;
  return {
    sleeve: sleeveNumber,
    showing,
    shownForSec,
    feedId: null,
    feedState: feedForSec === null ? 'none' : 'open',
    feedForSec,
    cause: CAUSES.find((cause) => cause === trouble?.code) ?? null,
    quality: doubt,
  };
}
