/**
 * The guiding side: a storage for each sleeve whose calls never block. Writes are posted to the store thread; while that fails, the
 * storage refuses, and the recorder holds the data, as with a full disk.
 */
import { Subject } from 'rxjs';
import { PlainError } from '../../../base/errors.ts';
import type { CalibrationHistory } from '../../../calibration/walk/history.ts';
import type { FeedSetup, FeedSummary } from '../../../feed/record/feed.ts';
import type { FeedStorage } from '../../../feed/record/feed-storage.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { Trouble } from '../../../feed/record/pending-writes.ts';
import type { KeptHistory } from '../../sleeve/checked-feeds.ts';
import { type Again, againAfter, againFrom, goneOnWith } from './again.ts';
import type { LatestFeed } from './latest-feed.ts';
import { interned } from './sleeve-bindings.ts';
import type { FromStore, NumberedOp, SleeveBinding, StoreOp, ToStore } from './store-ops.ts';

/** Most pending writes of one feed; beyond that the recorder holds the data. */
const MOST_UNDER_WAY = 4;

type Answer = Extract<FromStore, { kind: 'bindings' | 'latest-feed' }>;

interface Running {
  underWay: NumberedOp[];
  last: number;
  /** What a new thread needs to go on with it; null before its begin, or once its guide is gone. */
  again: Again | null;
  /** An action to do once all writes up to `no` are stored. */
  after: { no: number; act: () => void } | null;
}

export class StoreFront {
  /** Ids of feeds of which the store has less than was handed over. */
  readonly behind$ = new Subject<string>();
  /** Ids of feeds that this process does not write any more: whoever guides them takes them over again. */
  readonly lost$ = new Subject<string>();
  /** Messages for whoever runs the program. */
  readonly said$ = new Subject<string>();
  /** Why the store fails now; null while it works. */
  trouble: Trouble | null = null;
  /** Since when it fails, ms of the given clock; null while it works. */
  troubleSinceMs: number | null = null;
  isOpen = false;
  readonly #post: (message: ToStore) => void;
  readonly #nowMs: () => number;
  readonly #feeds = new Map<string, Running>();
  readonly #asked = new Map<
    number,
    { resolve: (answer: Answer) => void; reject: (error: PlainError) => void }
  >();
  #no = 0;
  #asks = 0;
  #closed: (() => void) | null = null;

  constructor(post: (message: ToStore) => void, nowMs: () => number) {
    this.#post = post;
    this.#nowMs = nowMs;
  }

  /** Number of pending writes. */
  get waiting(): number {
    let sum = 0;
    for (const { underWay } of this.#feeds.values()) sum += underWay.length;
    return sum;
  }

  hear(message: FromStore): void {
    switch (message.kind) {
      case 'open':
        this.isOpen = true;
        break;
      case 'kept':
        this.#kept(message.feedId, message.upTo);
        break;
      case 'trouble':
        this.trouble = message.trouble;
        this.troubleSinceMs = message.trouble === null ? null : (this.troubleSinceMs ?? this.#nowMs());
        break;
      case 'behind':
      case 'lost': {
        const running = this.#feeds.get(message.feedId);
        // What waits to be stored is dropped.
        if (running) running.after = null;
        (message.kind === 'behind' ? this.behind$ : this.lost$).next(message.feedId);
        break;
      }
      case 'bindings':
      case 'latest-feed':
        this.#asked.get(message.ask)?.resolve(message);
        this.#asked.delete(message.ask);
        break;
      case 'unasked':
        this.#asked.get(message.ask)?.reject(new PlainError(message.trouble.code, message.trouble.text, ''));
        this.#asked.delete(message.ask);
        break;
      case 'said':
        this.said$.next(message.text);
        break;
      case 'closed':
        this.#closed?.();
    }
  }

  /** The thread was lost: the next one takes up each feed where it was stored, and all unconfirmed writes. */
  startAgain(): void {
    this.isOpen = false;
    const running = [...this.#feeds].flatMap(([feedId, { underWay, again }]) =>
      again ? [...goneOnWith(feedId, again, underWay), ...underWay] : underWay,
    );
    const ops = running.sort((a, b) => a.no - b.no);
    if (ops.length > 0) this.#post({ kind: 'keep', ops });
    for (const { reject } of this.#asked.values())
      reject(new PlainError('store-away', 'The store is away.', 'It is tried again.'));
    this.#asked.clear();
  }

  /** @throws PlainError when the store cannot be asked now; like `latestFeed` */
  async bindings(sleeveNumbers: number[]): Promise<Map<number, SleeveBinding | null>> {
    const answer = await this.#ask((ask) => ({ kind: 'bindings', ask, sleeveNumbers }));
    const bindings = answer.kind === 'bindings' ? answer.bindings : [];
    return new Map(bindings.map(([number, one]) => [number, one && interned(one)]));
  }

  async latestFeed(sleeveNumber: number): Promise<LatestFeed | null> {
    const answer = await this.#ask((ask) => ({ kind: 'latest-feed', ask, sleeveNumber }));
    return answer.kind === 'latest-feed' ? answer.latest : null;
  }

  #ask(question: (ask: number) => ToStore): Promise<Answer> {
    const ask = ++this.#asks;
    return new Promise((resolve, reject) => {
      this.#asked.set(ask, { resolve, reject });
      this.#post(question(ask));
    });
  }

  /** @param setupNow  gives the answers before the next feed */
  storage(setupNow: () => FeedSetup): FeedStorage {
    return {
      begin: (feed, calibration) => this.#push(feed.id, { kind: 'begin', feed: { ...feed }, calibration }),
      append: (feedId, part) => {
        const { length } = this.#running(feedId).underWay;
        if (length >= MOST_UNDER_WAY) throw this.#refusal();
        this.#push(feedId, { kind: 'append', part });
      },
      finish: (feedId, end) => this.#push(feedId, { kind: 'finish', end }),
      discard: (feedId) => this.#push(feedId, { kind: 'discard' }),
      correct: (feedId, { setup }) => this.#push(feedId, { kind: 'correct', setup }),
      readSetup: setupNow,
      // The baby of the next feed is set by labels, not here.
      writeSetup: () => {},
    };
  }

  /** The history of a sleeve's calibration. @param latest  so far */
  historyFrom(latest: CalibrationHistory): KeptHistory {
    return {
      read: () => latest,
      write: (history) => {
        latest = history;
        this.#post({ kind: 'history', history });
      },
    };
  }

  takeOver(feed: FeedSummary, calibration: unknown, handed: Handed): void {
    this.#push(feed.id, { kind: 'take-over', feed, calibration, handed });
  }

  /** Calls `act` once everything handed over of a feed so far is stored. At most one action waits. @returns whether it was accepted */
  onceKept(feedId: string, act: () => void): boolean {
    const running = this.#feeds.get(feedId);
    if (!running || running.underWay.length === 0) {
      act();
      return true;
    }
    if (running.after) return false;
    running.after = { no: running.last, act };
    return true;
  }

  /** This process is done with the feed; data handed over are still stored. */
  letGo(feedId: string): void {
    const running = this.#feeds.get(feedId);
    if (!running) return;
    running.after = null;
    // Whoever guides it now is not disturbed.
    running.again = null;
    if (running.underWay.length === 0) this.#feeds.delete(feedId);
  }

  close(): Promise<void> {
    return new Promise((resolve) => {
      this.#closed = resolve;
      this.#post({ kind: 'close' });
    });
  }

  #running(feedId: string): Running {
    let running = this.#feeds.get(feedId);
    if (!running) {
      running = { underWay: [], last: 0, again: null, after: null };
      this.#feeds.set(feedId, running);
    }
    return running;
  }

  #push(feedId: string, op: StoreOp): void {
    const running = this.#running(feedId);
    const numbered = { no: ++this.#no, feedId, op };
    running.underWay.push(numbered);
    running.last = numbered.no;
    if (op.kind === 'begin' || op.kind === 'take-over') running.again = againFrom(op);
    this.#post({ kind: 'keep', ops: [numbered] });
  }

  #kept(feedId: string, upTo: number): void {
    const running = this.#feeds.get(feedId);
    if (!running) return;
    const last = running.underWay.findLast(({ no }) => no <= upTo);
    for (const { no, op } of running.underWay)
      if (no <= upTo && running.again) running.again = againAfter(running.again, op);
    running.underWay = running.underWay.filter(({ no }) => no > upTo);
    if (running.after && running.after.no <= upTo) {
      const { act } = running.after;
      running.after = null;
      act();
    }
    const isOver = last?.op.kind === 'finish' || last?.op.kind === 'discard';
    if (isOver && running.underWay.length === 0) this.#feeds.delete(feedId);
  }

  #refusal(): PlainError {
    const { trouble } = this;
    return trouble
      ? new PlainError(trouble.code, trouble.text, '')
      : new PlainError(
          'store-slow',
          'The database is slow; what comes is held in memory meanwhile.',
          'See to its disk and its other work.',
        );
  }
}
