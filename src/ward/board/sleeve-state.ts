/** What is told of one sleeve of a room, complete each time. Ages instead of clock times: the clocks of a house may be minutes apart. */
import { z } from 'zod';
import type { LinkCause, Showing } from '../../feed/live/live-view.ts';
import { SHOWN_CUES } from '../../pacing/cues/cues.ts';
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

/** What a later program tells besides is passed over. */
const schema = z.object({
  sleeve: z
    .int()
    .min(0)
    .max(2 ** 32 - 1),
  showing: z.enum(SHOWINGS),
  shownForSec: age,
  feedId: z.string().max(80).nullable(),
  feedState: z.enum(['none', 'open', 'ended', 'discarded']),
  feedForSec: age.nullable(),
  cause: z.enum(CAUSES).nullable().default(null),
  quality: z.enum(QUALITIES).nullable().default(null),
});

/** @returns null for what is no state of a sleeve, of which nothing may be shown */
export function readSleeveState(data: unknown): SleeveState | null {
  const parsed = schema.safeParse(data);
  return parsed.success ? parsed.data : null;
}
