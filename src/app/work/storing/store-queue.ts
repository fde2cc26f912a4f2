/** Queues of writes, one a feed, in order; all are tried again while the store fails. */
import { PlainError } from '../../../base/errors.ts';
import type { FeedSummary } from '../../../feed/record/feed.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { Trouble } from '../../../feed/record/pending-writes.ts';
import type { FeedStore } from '../../../store/feed-store.ts';
import type { NumberedOp, StoreOp } from './store-ops.ts';

/** The part of the store that it needs. */
export type QueuedStore = Pick<
  FeedStore,
  'begin' | 'append' | 'finish' | 'discard' | 'correct' | 'isOver' | 'isRecording'
> & {
  /**
   * Continues a feed that another process began; data stored beyond `handed` are replaced.
   * @returns false when no such feed runs, or less of it is stored
   */
  takeOver(feed: FeedSummary, handed: Handed): boolean;
};

export interface QueueAnswers {
  kept(feedId: string, upTo: number): void;
  behind(feedId: string): void;
  /** Another process has taken the feed over, or this one is new: what it writes is not stored. */
  lost(feedId: string): void;
  trouble(trouble: Trouble | null): void;
  /** A feed is stored by this process from now on. */
  begun(feed: FeedSummary): void;
  /** A feed is over and stored. */
  over(feedId: string): void;
}

/** Errors that concern one feed only. */
const OF_ONE_FEED = /^store-(taken|mixed|no-feed)$/;
/** Another process has taken the feed over. */
const OVERTAKEN = 'store-overtaken';
/** Less of the feed is stored than was handed over. */
const BEHIND = 'store-behind';

export class StoreQueue {
  readonly #store: QueuedStore;
  readonly #answers: QueueAnswers;
  readonly #feeds = new Map<string, NumberedOp[]>();
  /** Feeds that were taken over although they were over and stored: the guide replays their end. */
  readonly #over = new Set<string>();
  #troubled = false;

  constructor(store: QueuedStore, answers: QueueAnswers) {
    this.#store = store;
    this.#answers = answers;
  }

  add(ops: readonly NumberedOp[]): void {
    for (const one of ops) {
      const waiting = this.#feeds.get(one.feedId);
      if (waiting) waiting.push(one);
      else this.#feeds.set(one.feedId, [one]);
    }
  }

  get isEmpty(): boolean {
    return this.#feeds.size === 0;
  }

  /** Tries all queues; after an error of the store itself the rest waits. */
  drain(): void {
    let trouble: Trouble | null = null;
    for (const feedId of [...this.#feeds.keys()]) {
      const refusal = this.#drainFeed(feedId);
      trouble ??= refusal;
      if (refusal && !OF_ONE_FEED.test(refusal.code)) break;
    }
    if (trouble || this.#troubled) this.#answers.trouble(trouble);
    this.#troubled = trouble !== null;
  }

  #drainFeed(feedId: string): Trouble | null {
    const waiting = this.#feeds.get(feedId)!;
    let upTo: number | null = null;
    try {
      while (waiting.length > 0) {
        const { no, op } = waiting[0]!;
        this.#do(feedId, op);
        waiting.shift();
        upTo = no;
        // What belonged to a feed that was over has been done; its sleeve may be bound for the next one.
        if (this.#over.has(feedId)) continue;
        if (op.kind === 'begin' || op.kind === 'take-over') this.#answers.begun(op.feed);
        if (op.kind === 'finish' || op.kind === 'discard') this.#answers.over(feedId);
      }
      this.#feeds.delete(feedId);
      return null;
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      if (error.code === OVERTAKEN || error.code === BEHIND) {
        if (error.code === OVERTAKEN) this.#answers.lost(feedId);
        else this.#answers.behind(feedId);
        upTo = this.#drop(feedId);
        return null;
      }
      return { code: error.code, text: error.text };
    } finally {
      if (upTo !== null) this.#answers.kept(feedId, upTo);
    }
  }

  /** Drops the queue: the feed is stored elsewhere, or is replayed. @returns the number of its last write */
  #drop(feedId: string): number {
    const { no } = this.#feeds.get(feedId)!.at(-1)!;
    this.#feeds.delete(feedId);
    return no;
  }

  #do(feedId: string, op: StoreOp): void {
    if (op.kind === 'take-over' && this.#store.isOver(feedId)) this.#over.add(feedId);
    if (this.#over.has(feedId)) return;
    if (op.kind === 'append' && !this.#store.isRecording(feedId))
      throw new PlainError(
        OVERTAKEN,
        `This process does not write the feed ${feedId}.`,
        'It is taken over again.',
      );
    switch (op.kind) {
      case 'begin':
        this.#store.begin(op.feed, op.calibration);
        break;
      case 'take-over':
        if (this.#store.takeOver(op.feed, op.handed)) break;
        // The other process may not have stored even its beginning.
        if (op.handed.bytes === 0) this.#store.begin(op.feed, op.calibration);
        else throw behind();
        break;
      case 'append':
        this.#store.append(feedId, op.part);
        break;
      case 'finish':
        this.#store.finish(feedId, op.end);
        break;
      case 'discard':
        this.#store.discard(feedId);
        break;
      case 'correct':
        this.#store.correct(feedId, { kind: 'setup', setup: op.setup });
    }
  }
}

/** The guide takes the feed over anew, from its first byte. */
const behind = (): PlainError =>
  new PlainError(BEHIND, 'Less of the feed is kept than was handed over.', 'It is made again.');
