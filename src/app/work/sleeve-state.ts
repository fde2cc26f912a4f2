/**
 * What a board of a room is told of one sleeve: a small retained message on `sleeveTopics(place, number).state`, MQTT 5, QoS 1, JSON. Sent by whoever
 * guides the sleeve, at each change and every `STATE_EVERY_SEC`. No amounts, no flow, no name of a child: a board looks those up by the
 * sleeve's number where its reader may see them.
 *
 * Times are ages at the moment of sending, in seconds: no clock is compared with another. A reader adds its own time since the message came.
 * The broker drops a state after `STATE_EXPIRES_SEC`, and a reader that heard no new one for as long knows nothing any more.
 */
import { z } from 'zod';
import type { LiveView } from '../../feed/live/live-view.ts';
import { readSleeveState, type SleeveState } from '../../ward/board/sleeve-state.ts';

export const STATE_EVERY_SEC = 5;
export const STATE_EXPIRES_SEC = 15;

/** Beside what the board shows. */
const ownSchema = z.object({
  /** Which worker: 16 hexadecimal digits; a number that grows each time the sleeve changes hands. A state of a lower one is of the past. */
  worker: z.string(),
  epoch: z.number().int().nonnegative(),
  /** Why the sleeve is not guided: a code, and a plain English sentence with its remedy. Null: it is, or `cause` says all. */
  trouble: z.object({ code: z.string(), text: z.string() }).nullable(),
});

export type ToldState = SleeveState & z.infer<typeof ownSchema>;

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export const encodeSleeveState = (state: ToldState): Uint8Array => encoder.encode(JSON.stringify(state));

/** @returns null for what is no state, such as the empty message that takes one back */
export function decodeSleeveState(payload: Uint8Array): ToldState | null {
  try {
    const told: unknown = JSON.parse(decoder.decode(payload));
    const [state, own] = [readSleeveState(told), ownSchema.safeParse(told)];
    return state && own.success ? { ...state, ...own.data } : null;
  } catch {
    return null;
  }
}

/** @param shownForSec  since `view.showing` is shown */
export const stateOf = (
  view: Pick<
    LiveView,
    'showing' | 'feedId' | 'feedState' | 'feedElapsedSec' | 'qualityReason' | 'because' | 'cause'
  >,
  of: Pick<ToldState, 'sleeve' | 'worker' | 'epoch'>,
  shownForSec: number,
): ToldState => ({
  ...of,
  showing: view.showing,
  shownForSec,
  feedId: view.feedId,
  feedState: view.feedState,
  feedForSec: view.feedState === 'open' ? view.feedElapsedSec : null,
  cause: view.showing === 'no-guidance' ? (view.cause ?? null) : null,
  quality: view.showing === 'cannot-tell' ? view.qualityReason : null,
  trouble:
    view.showing === 'no-guidance' && typeof view.because === 'string'
      ? { code: view.cause ?? 'silent', text: view.because }
      : null,
});

/** Of a sleeve that nobody guides. */
export const unguidedState = (
  of: Pick<ToldState, 'sleeve' | 'worker' | 'epoch'>,
  { code, text }: { code: string; text: string },
): ToldState => ({
  ...of,
  showing: 'no-guidance',
  shownForSec: 0,
  feedId: null,
  feedState: 'none',
  feedForSec: null,
  cause: null,
  quality: null,
  trouble: { code, text },
});
