/** What is told of one sleeve of a room, complete each time. Ages instead of clock times: the clocks of a house may be minutes apart. */
import { z } from 'zod';
import type { LinkCause, Showing } from '../../feed/live/live-view.ts';
import { SHOWN_CUES } from '../../pacing/cues/shown-cues.ts';
import type { QualityReason } from '../../sensing/moment.ts';

export interface SleeveState {
  sleeve: number;
  showing: Showing;
  /** For how long that has been shown, seconds, when it was told. */
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

const SHOWINGS = [
  ...SHOWN_CUES,
  ...(['gentle', 'held-steeply', 'cannot-tell', 'no-guidance'] as const),
  ...(['guidance-off', 'cues-withheld', 'waiting'] as const),
] satisfies Showing[];
const CAUSES = [
  ...(['lost', 'ended', 'silent', 'sleeve-nameless', 'other-sleeve', 'too-busy'] as const),
] satisfies LinkCause[];
const QUALITIES = [
  ...(['not-weighed', 'no-bottle', 'roll', 'cell', 'accelerometer'] as const),
  ...(['motion', 'gap', 'sucks', 'push'] as const),
] satisfies QualityReason[];
const LONGEST_SEC = 7 * 24 * 3600;
const age = z.number().min(0).max(LONGEST_SEC);

/** The message of whoever guides the sleeve. What a later program tells besides is passed over. */
const schema = z.object({
  version: z.literal(1),
  sleeveNumber: z
    .int()
    .min(0)
    .max(2 ** 32 - 1),
  showing: z.enum(SHOWINGS),
  shownForSec: age,
  /** Null while no feed runs. */
  feedForSec: age.nullable(),
  doubt: z.enum(QUALITIES).nullable(),
  trouble: z.object({ code: z.string() }).nullable(),
});

/** @returns null for what is no state of a sleeve, of which nothing may be shown */
export function readSleeveState(data: unknown): SleeveState | null {
  const parsed = schema.safeParse(data);
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
