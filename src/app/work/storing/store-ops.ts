/** What passes between whoever guides sleeves and the thread that keeps feeds. Plain data, in order for each feed; what is done twice is the same as done once. */
import type { FeedSetup, FeedSummary } from '../../../feed/record/feed.ts';
import type { FeedPart, FeedStorage } from '../../../feed/record/feed-storage.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { Trouble } from '../../../feed/record/pending-writes.ts';
import type { Guided } from '../../../feed/recording/guided.ts';
import type { Calibration } from '../../../sensing/index.ts';

export type StoreOp =
  | { kind: 'begin'; feed: FeedSummary; calibration: unknown }
  /** The feed of another process goes on here; it had handed over so much of it. */
  | { kind: 'take-over'; feed: FeedSummary; calibration: unknown; handed: Handed }
  | { kind: 'append'; part: FeedPart }
  | { kind: 'finish'; end: Parameters<FeedStorage['finish']>[1] }
  | { kind: 'discard' }
  | { kind: 'correct'; setup: Partial<FeedSetup> };

/** `no` rises. */
export interface NumberedOp {
  no: number;
  feedId: string;
  op: StoreOp;
}

/** What the store has bound to a sleeve: how its counts become milk, whose feed the next one is, and what it runs with. */
export interface SleeveBinding {
  calibration: Calibration;
  setup: FeedSetup;
  guided: Guided;
  /** What a feed of nobody's runs with. */
  nobody: Guided;
  /** Number of the binding by labels; null without one. */
  bound: number | null;
  simulated: boolean;
}

/** To the thread. */
export type ToStore =
  | { kind: 'keep'; ops: NumberedOp[] }
  | { kind: 'bindings'; ask: number; sleeveNumbers: number[] }
  | { kind: 'close' };

/** From the thread. Of a sleeve that nothing is bound to, null. */
export type FromStore =
  | { kind: 'open' }
  | { kind: 'kept'; upTo: number; feedId: string }
  /** Null: it is over. */
  | { kind: 'trouble'; trouble: Trouble | null }
  /** The store has less of a feed than was handed over before: it is to be made again from its first byte. */
  | { kind: 'behind'; feedId: string }
  | { kind: 'bindings'; ask: number; bindings: [number, SleeveBinding | null][] }
  | { kind: 'unasked'; ask: number; trouble: Trouble }
  | { kind: 'closed' };
