/**
 * What a board of a room is told of one sleeve: a small retained message on `sleeveTopics(place, number).state`, MQTT 5, QoS 1, JSON. Sent by whoever
 * guides the sleeve, at each change and every `STATE_EVERY_SEC`. No amounts, no flow, no name of a child: a board looks those up by the
 * sleeve's number where its reader may see them.
 *
 * Times are ages at the moment of sending, in seconds: no clock is compared with another. A reader adds its own time since the message came.
 * The broker drops a state after `STATE_EXPIRES_SEC`, and a reader that heard no new one for as long knows nothing any more.
 */
import { z } from 'zod';
import type { LiveView, Showing } from '../../feed/live/live-view.ts';
import { SHOWN_CUES } from '../../pacing/cues/shown-cues.ts';
import type { QualityReason } from '../../sensing/moment.ts';

export const STATE_EVERY_SEC = 5;
export const STATE_EXPIRES_SEC = 15;

/** What is shown where there is no cue; meanings: `Showing`. */
const CALM = [
  'gentle',
  'held-steeply',
  'cannot-tell',
  'no-guidance',
  'guidance-off',
  'cues-withheld',
  'waiting',
] as const satisfies readonly Showing[];

const DOUBTS = [
  'not-weighed',
  'no-bottle',
  'roll',
  'cell',
  'accelerometer',
  'motion',
  'gap',
  'sucks',
  'push',
] as const satisfies readonly QualityReason[];

const seconds = z.number().nonnegative();

export const sleeveStateSchema = z.object({
  version: z.literal(1),
  sleeveNumber: z.number().int().nonnegative(),
  /** Which worker: 16 hexadecimal digits; a number that grows each time the sleeve changes hands. A state of a lower one is of the past. */
  worker: z.string(),
  epoch: z.number().int().nonnegative(),
  /** The one thing that the sleeve's light and the page show now: a cue, or one of `CALM`. */
  showing: z.enum([...SHOWN_CUES, ...CALM]),
  /** For so long it has been shown. */
  shownForSec: seconds,
  /** Time since the first latch of the feed that runs; null while none does. */
  feedForSec: seconds.nullable(),
  /** Why the estimate may not be acted on; null while it may. */
  doubt: z.enum(DOUBTS).nullable(),
  /** Why the sleeve is not guided, or what else hinders: a code, and a plain English sentence with its remedy. Null: nothing. */
  trouble: z.object({ code: z.string(), text: z.string() }).nullable(),
});

export type SleeveState = z.infer<typeof sleeveStateSchema>;

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export const encodeSleeveState = (state: SleeveState): Uint8Array => encoder.encode(JSON.stringify(state));

/** @returns null for what is no state, such as the empty message that takes one back */
export function decodeSleeveState(payload: Uint8Array): SleeveState | null {
  try {
    return sleeveStateSchema.parse(JSON.parse(decoder.decode(payload)));
  } catch {
    return null;
  }
}

/** @param shownForSec  since `view.showing` is shown */
export const stateOf = (
  view: Pick<LiveView, 'showing' | 'feedState' | 'feedElapsedSec' | 'qualityReason' | 'because' | 'cause'>,
  of: Pick<SleeveState, 'sleeveNumber' | 'worker' | 'epoch'>,
  shownForSec: number,
): SleeveState => ({
  version: 1,
  ...of,
  showing: view.showing,
  shownForSec,
  feedForSec: view.feedState === 'open' ? view.feedElapsedSec : null,
  doubt: view.showing === 'cannot-tell' ? view.qualityReason : null,
  trouble:
    view.showing === 'no-guidance' && typeof view.because === 'string'
      ? { code: view.cause ?? 'silent', text: view.because }
      : null,
});

/** Of a sleeve that nobody guides. */
export const unguidedState = (
  of: Pick<SleeveState, 'sleeveNumber' | 'worker' | 'epoch'>,
  { code, text }: { code: string; text: string },
): SleeveState => ({
  version: 1,
  ...of,
  showing: 'no-guidance',
  shownForSec: 0,
  feedForSec: null,
  doubt: null,
  trouble: { code, text },
});
