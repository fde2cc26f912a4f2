/**
 * The side that guides: a keeper for each sleeve whose calls never wait. What they hand over goes to the thread; while that takes nothing, a keeper
 * refuses, and the session holds what comes, as with a full disk.
 */
import { Subject } from 'rxjs';
import { PlainError } from '../../../base/errors.ts';
import type { CalibrationNotes } from '../../../calibration/walk/notes.ts';
import type { FeedSetup, FeedSummary } from '../../../feed/record/feed.ts';
import type { Handed } from '../../../feed/record/held.ts';
import type { FeedKeeper } from '../../../feed/record/keeper.ts';
import type { Trouble } from '../../../feed/record/keeping.ts';
import type { KeptNotes } from '../../sleeve/checked-feeds.ts';
import type { ForKeeping, FromKeeping, KeptOp, NumberedOp, SleeveBinding } from './kept-ops.ts';
import { interned } from './sleeve-bindings.ts';

/** Of one feed so many things may be under way; then the session holds what comes. */
const MOST_UNDER_WAY = 4;

interface Running {
  underWay: NumberedOp[];
  last: number;
  /** Done once all up to `no` is kept. */
  after: { no: number; act: () => void } | null;
}

export class KeptFront {
  /** Feeds of which the store has less than was handed over. */
  readonly behind$ = new Subject<string>();
  /** Plain sentences for whoever looks after the program. */
  readonly said$ = new Subject<string>();
  /** Why the store takes nothing now; null while it does. */
  trouble: Trouble | null = null;
  /** Since when, ms of the clock handed in; null while it takes what comes. */
  troubleSinceMs: number | null = null;
  isOpen = false;
  readonly #post: (message: ForKeeping) => void;
  readonly #nowMs: () => number;
  readonly #feeds = new Map<string, Running>();
  readonly #asked = new Map<
    number,
    { resolve: (all: Map<number, SleeveBinding | null>) => void; reject: (error: PlainError) => void }
  >();
  #no = 0;
  #asks = 0;
  #closed: (() => void) | null = null;

  constructor(post: (message: ForKeeping) => void, nowMs: () => number) {
    this.#post = post;
    this.#nowMs = nowMs;
  }

  /** Things that wait to be kept. */
  get waiting(): number {
    let sum = 0;
    for (const { underWay } of this.#feeds.values()) sum += underWay.length;
    return sum;
  }

  hear(message: FromKeeping): void {
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
        this.behind$.next(message.feedId);
        break;
      case 'bindings':
        this.#asked
          .get(message.ask)
          ?.resolve(new Map(message.bindings.map(([number, one]) => [number, one && interned(one)])));
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

  /** The thread was lost: whatever it had not confirmed is told to the next one. */
  startAgain(): void {
    this.isOpen = false;
    const ops = [...this.#feeds.values()].flatMap(({ underWay }) => underWay).sort((a, b) => a.no - b.no);
    if (ops.length > 0) this.#post({ kind: 'keep', ops });
    for (const { reject } of this.#asked.values())
      reject(new PlainError('store-away', 'The store is away.', 'It is tried again.'));
    this.#asked.clear();
  }

  /** @throws PlainError when the store cannot be asked now */
  bindings(sleeveNumbers: number[]): Promise<Map<number, SleeveBinding | null>> {
    const ask = ++this.#asks;
    return new Promise((resolve, reject) => {
      this.#asked.set(ask, { resolve, reject });
      this.#post({ kind: 'bindings', ask, sleeveNumbers });
    });
  }

  /** @param setupNow  the answers before the next feed */
  keeper(setupNow: () => FeedSetup): FeedKeeper {
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
      // What the next feed is of is said by labels, not here.
      writeSetup: () => {},
    };
  }

  /** What feeds find of a sleeve's calibration. @param found  so far */
  notesFrom(found: CalibrationNotes): KeptNotes {
    return {
      read: () => found,
      write: (notes) => {
        found = notes;
        this.#post({ kind: 'notes', notes });
      },
    };
  }

  takeOver(feed: FeedSummary, calibration: unknown, handed: Handed): void {
    this.#push(feed.id, { kind: 'take-over', feed, calibration, handed });
  }

  /** Does `act` once all that was handed over of a feed up to now is kept. One waits at most. @returns whether it will */
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

  /** Nothing of a feed is done here any more; what was handed over is still kept. */
  letGo(feedId: string): void {
    const running = this.#feeds.get(feedId);
    if (!running) return;
    running.after = null;
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
      running = { underWay: [], last: 0, after: null };
      this.#feeds.set(feedId, running);
    }
    return running;
  }

  #push(feedId: string, op: KeptOp): void {
    const running = this.#running(feedId);
    const numbered = { no: ++this.#no, feedId, op };
    running.underWay.push(numbered);
    running.last = numbered.no;
    this.#post({ kind: 'keep', ops: [numbered] });
  }

  #kept(feedId: string, upTo: number): void {
    const running = this.#feeds.get(feedId);
    if (!running) return;
    const last = running.underWay.findLast(({ no }) => no <= upTo);
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
