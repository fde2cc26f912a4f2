/** The complete state of one sleeve of a room. Ages instead of clock times, since clocks of different computers may differ by minutes. */
import { keysOf } from '../../base/typed.ts';
import type { LinkCause, Showing } from '../../feed/live/live-view.ts';
import { CALIBRATION_DOUBTS, type CalibrationDoubt } from '../../pacing/cues/words-calibration.ts';
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
  cause: LinkCause | Unguided | null;
  /** With `cannot-tell`: why. */
  quality: QualityReason | null;
  /** What makes its calibration doubtful, whatever is shown. */
  calibration: CalibrationDoubt | null;
}

/** Nobody guides it, and nobody will until that is put right: its calibration is not kept here, or the store cannot be asked. */
export type Unguided = 'sleeve-unknown' | 'not-guided';

const CAUSES = [
  ...(['lost', 'ended', 'silent', 'sleeve-nameless', 'other-sleeve', 'too-busy'] as const),
  'sleeve-unknown' as const,
] satisfies (LinkCause | Unguided)[];

/** Code of a trouble that is a doubt about the calibration. */
export const calibrationCode = (doubt: CalibrationDoubt): string => `calibration-${doubt}`;

/** @returns null for data that are not a valid state */
export function readSleeveState(data: unknown): SleeveState | null {
  const parsed = sleeveMessageSchema.safeParse(data);
  if (!parsed.success) return null;
  const { sleeveNumber, showing, shownForSec, feedForSec, doubt, trouble } = parsed.data;
  // What happens to the link of a sleeve in use has a cause of its own.
  const calibration =
    keysOf(CALIBRATION_DOUBTS.en).find((one) => calibrationCode(one) === trouble?.code) ?? null;
  const isUnguided =
    showing === 'no-guidance' && feedForSec === null && trouble !== null && calibration === null;
  return {
    sleeve: sleeveNumber,
    showing,
    shownForSec,
    feedId: null,
    feedState: feedForSec === null ? 'none' : 'open',
    feedForSec,
    cause: CAUSES.find((cause) => cause === trouble?.code) ?? (isUnguided ? 'not-guided' : null),
    quality: doubt,
    calibration,
  };
}
