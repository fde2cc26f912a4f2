/** How far a feed is stored, so that a new store thread can go on with it. Pure. */
import type { FeedSummary } from '../../../feed/record/feed.ts';
import { type Handed, NOTHING_HANDED } from '../../../feed/record/held.ts';
import type { NumberedOp, StoreOp } from './store-ops.ts';

export interface Again {
  feed: FeedSummary;
  calibration: unknown;
  /** As confirmed by the store. */
  stored: Handed;
}

type Beginning = Extract<StoreOp, { kind: 'begin' | 'take-over' }>;

export const againFrom = (op: Beginning): Again => ({
  feed: op.feed,
  calibration: op.calibration,
  stored: op.kind === 'take-over' ? op.handed : NOTHING_HANDED,
});

/** @param op  confirmed by the store */
export function againAfter(again: Again, op: StoreOp): Again {
  if (op.kind !== 'append') return again;
  const { rows, cues, told = [], events, bytes } = op.part;
  const { stored } = again;
  return {
    ...again,
    stored: {
      rows: stored.rows + rows.length,
      cues: stored.cues + cues.length,
      told: stored.told + told.length,
      events: stored.events + events.length,
      bytes: stored.bytes + bytes.reduce((sum, { length }) => sum + length, 0),
    },
  };
}

/** @returns the write with which a new thread begins, before those that are unconfirmed; none where they begin the feed themselves */
export function goneOnWith(
  feedId: string,
  { feed, calibration, stored }: Again,
  underWay: readonly NumberedOp[],
): NumberedOp[] {
  const isBegun = underWay.every(({ op }) => op.kind !== 'begin' && op.kind !== 'take-over');
  // Before every other one, and nobody waits for its confirmation.
  return isBegun ? [{ no: 0, feedId, op: { kind: 'take-over', feed, calibration, handed: stored } }] : [];
}
