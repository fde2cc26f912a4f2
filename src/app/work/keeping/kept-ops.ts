/** What passes between whoever guides sleeves and the thread that keeps feeds. Plain data, in order for each feed; what is done twice is the same as done once. */

import type { CalibrationNotes } from '../../../calibration/walk/notes.ts';
import type { FeedSetup, FeedSummary } from '../../../feed/record/feed.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { FeedKeeper, FeedPart } from '../../../feed/record/keeper.ts';
import type { Trouble } from '../../../feed/record/keeping.ts';
import type { Guided } from '../../../feed/session/guided.ts';
import type { Calibration } from '../../../sensing/index.ts';

export type KeptOp =
  | { kind: 'begin'; feed: FeedSummary; calibration: unknown }
  /** The feed of another process goes on here; it had handed over so much of it. */
  | { kind: 'take-over'; feed: FeedSummary; calibration: unknown; handed: Handed }
  | { kind: 'append'; part: FeedPart }
  | { kind: 'finish'; end: Parameters<FeedKeeper['finish']>[1] }
  | { kind: 'discard' }
  | { kind: 'correct'; setup: Partial<FeedSetup> };

/** `no` rises. */
export interface NumberedOp {
  no: number;
  feedId: string;
  op: KeptOp;
}

/** What the store has bound to a sleeve: how its counts become milk, whose feed the next one is, and what it runs with. */
export interface SleeveBinding {
  calibration: Calibration;
  /** As it was made, and what feeds have found and taught since. */
  made: Calibration;
  notes: CalibrationNotes;
  setup: FeedSetup;
  guided: Guided;
  /** What a feed of nobody's runs with. */
  nobody: Guided;
  /** Number of the binding by labels; null without one. */
  bound: number | null;
  simulated: boolean;
}

/** To the thread. */
export type ForKeeping =
  | { kind: 'keep'; ops: NumberedOp[] }
  | { kind: 'bindings'; ask: number; sleeveNumbers: number[] }
  /** Nobody waits for it: a note that is lost is a note less. */
  | { kind: 'notes'; notes: CalibrationNotes }
  | { kind: 'close' };

/** From the thread. Of a sleeve that nothing is bound to, null. */
export type FromKeeping =
  | { kind: 'open' }
  | { kind: 'kept'; upTo: number; feedId: string }
  /** Null: it is over. */
  | { kind: 'trouble'; trouble: Trouble | null }
  /** The store has less of a feed than was handed over before: it is to be made again from its first byte. */
  | { kind: 'behind'; feedId: string }
  | { kind: 'bindings'; ask: number; bindings: [number, SleeveBinding | null][] }
  | { kind: 'unasked'; ask: number; trouble: Trouble }
  /** For whoever looks after the program. */
  | { kind: 'said'; text: string }
  | { kind: 'closed' };
