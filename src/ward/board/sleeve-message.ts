/**
 * The state of one sleeve for the board of a room: a small retained message on `sleeveTopics(place, number).state`, MQTT 5, QoS 1, JSON. Sent by the
 * worker that guides the sleeve, at each change and every `STATE_EVERY_SEC`. No amounts, no flow, no name of a child: a board looks those up by the
 * sleeve's number, if its reader may see them.
 *
 * Times are ages at the moment of sending, in seconds: so no clocks are compared. A reader adds its own time since the message came.
 * The broker drops a state after `STATE_EXPIRES_SEC`, and a reader treats the state as unknown after that time.
 */
import { z } from 'zod';
import type { Showing } from '../../feed/live/live-view.ts';
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

const LONGEST_SEC = 7 * 24 * 3600;
const seconds = z.number().min(0).max(LONGEST_SEC);

/** Unknown fields of later versions are ignored. */
export const sleeveMessageSchema = z.object({
  version: z.literal(1),
  sleeveNumber: z
    .int()
    .min(0)
    .max(2 ** 32 - 1),
  /** Which worker: 16 hexadecimal digits; `epoch`: a number that grows with each change of guide. A state with a lower one is outdated. */
  worker: z.string(),
  epoch: z.number().int().nonnegative(),
  /** What the sleeve's light and the page show now: a cue, or one of `CALM`. */
  showing: z.enum([...SHOWN_CUES, ...CALM]),
  /** How long it has been shown, s. */
  shownForSec: seconds,
  /** Time since the first latch of the feed that runs; null without a feed. */
  feedForSec: seconds.nullable(),
  /** Why the estimate may not be used; null while it may. */
  doubt: z.enum(DOUBTS).nullable(),
  /** Why the sleeve is not guided, or another problem: a code, and a plain English sentence with its remedy. Null: nothing. */
  trouble: z.object({ code: z.string(), text: z.string() }).nullable(),
});

export type SleeveMessage = z.infer<typeof sleeveMessageSchema>;

const encoder = new TextEncoder();

export const encodeSleeveMessage = (message: SleeveMessage): Uint8Array =>
  encoder.encode(JSON.stringify(message));
