/** A sleeve without a checkpoint: nobody guided it before, or what the last guide left cannot be read. Its relay's bytes tell whether a feed runs. */
import type { SchedulerLike } from 'rxjs';
import type { BrokerAddress } from '../../../firmware-bridge/links/broker/broker-address.ts';
import { createBrokerLink } from '../../../firmware-bridge/links/broker/broker-link.ts';
import type { Place } from '../../../firmware-bridge/links/broker/topics.ts';
import { newFeedId } from '../../store/database/feed-id.ts';
import { newId } from '../relay/broker-choice.ts';
import { type Found, LookBack } from './look-back.ts';
import type { LatestFeed } from './storing/latest-feed.ts';
import type { SleeveBinding } from './storing/store-ops.ts';

/** How far back the begin of a feed is looked for: two hours of a sleeve with a gyroscope, three of one without. Own choice: a feed is over sooner. */
const REACH_BACK_BYTES = 2 * 3600 * 3700;

export interface MissingOptions {
  address: BrokerAddress;
  place: Place;
  sleeveNumber: number;
  epoch: number;
  binding: SleeveBinding;
  latest: LatestFeed | null;
  wallNowMs: () => number;
}

/** While it reads, the relay takes it for its guide, and the sleeve shows "no guidance". @throws PlainError when the bytes do not come */
export async function lookBack(options: MissingOptions, scheduler: SchedulerLike): Promise<Found> {
  const { wallNowMs, binding, latest, ...where } = options;
  const { sleeveNumber } = where;
  const seeker = new LookBack({
    ...{ sleeveNumber, binding, latest },
    newFeedId: (startedAtMs) => newFeedId(startedAtMs, Math.random),
  });
  const link = createBrokerLink({ ...where, newId, reachBackBytes: REACH_BACK_BYTES }, scheduler);
  link.bytes$.subscribe((bytes) => seeker.take(bytes, link.received!));
  try {
    await link.open();
    return seeker.found(wallNowMs());
  } finally {
    await link.close();
  }
}

/** @returns what was found of a feed, for whoever runs the program; null: nothing to tell */
export function wordsOf({ sinceMs, lost }: Found, sleeveNumber: number): string | null {
  const since = sinceMs === null ? null : `${new Date(sinceMs).toISOString().slice(11, 19)} UTC`;
  const missing =
    lost === null
      ? ''
      : ` Feed ${lost} of it cannot go on: its first bytes are no longer at the relay. What came between it and ${since ?? 'now'} is missing.`;
  if (since === null) return missing === '' ? null : `Sleeve ${sleeveNumber}:${missing}`;
  return `Sleeve ${sleeveNumber}: its feed since ${since} goes on, from the bytes that its relay has stored.${missing}`;
}
