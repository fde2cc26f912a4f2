/** Messages between the guiding side and the store thread. Plain data, in order for each feed; repeating one has no further effect. */
import type { CalibrationHistory } from '../../../calibration/walk/history.ts';
import type { FeedSetup, FeedSummary } from '../../../feed/record/feed.ts';
import type { FeedPart, FeedStorage } from '../../../feed/record/feed-storage.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { Trouble } from '../../../feed/record/pending-writes.ts';
import type { Guided } from '../../../feed/recording/guided.ts';
import type { Calibration } from '../../../sensing/index.ts';
import type { LatestFeed } from './latest-feed.ts';

export type StoreOp =
  | { kind: 'begin'; feed: FeedSummary; calibration: unknown }
  /** Continues the feed of another process, which had handed over `handed`. */
  | { kind: 'take-over'; feed: FeedSummary; calibration: unknown; handed: Handed }
  | { kind: 'append'; part: FeedPart }
  | { kind: 'finish'; end: Parameters<FeedStorage['finish']>[1] }
  | { kind: 'discard' }
  | { kind: 'correct'; setup: Partial<FeedSetup> };

/** `no` increases with each write. */
export interface NumberedOp {
  no: number;
  feedId: string;
  op: StoreOp;
}

/** What belongs to a sleeve by the store: its calibration, the baby of the next feed, and that feed's settings. */
export interface SleeveBinding {
  calibration: Calibration;
  /** Without learned corrections, which are in the history. */
  made: Calibration;
  history: CalibrationHistory;
  setup: FeedSetup;
  guided: Guided;
  /** Settings of a feed without a baby. */
  nobody: Guided;
  /** Number of the binding by labels; null without one. */
  bound: number | null;
  simulated: boolean;
}

/** To the thread. */
export type ToStore =
  | { kind: 'keep'; ops: NumberedOp[] }
  | { kind: 'bindings'; ask: number; sleeveNumbers: number[] }
  | { kind: 'latest-feed'; ask: number; sleeveNumber: number }
  /** Not confirmed: a lost entry of a calibration's history does not matter. */
  | { kind: 'history'; history: CalibrationHistory }
  | { kind: 'close' };

/** From the thread. Null for a sleeve without a calibration. */
export type FromStore =
  | { kind: 'open' }
  | { kind: 'kept'; upTo: number; feedId: string }
  /** Null: the trouble is over. */
  | { kind: 'trouble'; trouble: Trouble | null }
  /** The store has less of a feed than was handed over before: it must be replayed from its first byte. */
  | { kind: 'behind'; feedId: string }
  /** This process does not write the feed any more: another has taken it over in the store, or the thread is a new one. */
  | { kind: 'lost'; feedId: string }
  | { kind: 'bindings'; ask: number; bindings: [number, SleeveBinding | null][] }
  | { kind: 'latest-feed'; ask: number; latest: LatestFeed | null }
  | { kind: 'unasked'; ask: number; trouble: Trouble }
  /** A message for whoever runs the program. */
  | { kind: 'said'; text: string }
  | { kind: 'closed' };
