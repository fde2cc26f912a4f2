/**
 * A store in memory that several workers share: what a feed's part replaces, and who may write it, are as on the database server, which
 * `tests/store/postgres-writers.slow.test.ts` tests.
 */
import type { LatestFeed } from '../../../src/app/work/storing/latest-feed.ts';
import type { QueuedStore } from '../../../src/app/work/storing/store-queue.ts';
import { PlainError } from '../../../src/base/errors.ts';
import type { FeedSummary } from '../../../src/feed/record/feed.ts';
import type { FeedPart } from '../../../src/feed/record/feed-storage.ts';
import { type Handed, NOTHING_HANDED } from '../../../src/feed/record/held.ts';
import type { Calibration } from '../../../src/sensing/index.ts';

export interface SharedFeed {
  summary: FeedSummary;
  writer: string;
  rows: FeedPart['rows'];
  cues: FeedPart['cues'];
  told: NonNullable<FeedPart['told']>;
  events: FeedPart['events'];
  bytes: Uint8Array;
  state: 'open' | 'ended' | 'discarded';
}

const LISTS = ['rows', 'cues', 'told', 'events'] as const;

export class SharedStore {
  readonly feeds = new Map<string, SharedFeed>();
  /** Thrown by each call while it is set. */
  trouble: PlainError | null = null;

  get only(): SharedFeed {
    if (this.feeds.size !== 1) throw new Error(`${this.feeds.size} feeds were kept, not one`);
    return [...this.feeds.values()][0]!;
  }

  /** As a worker without a checkpoint asks for it. */
  latest(calibration: Calibration): LatestFeed | null {
    const kept = [...this.feeds.values()].at(-1);
    if (!kept) return null;
    const { summary, state, events, told, bytes } = kept;
    return {
      ...{ feed: { ...summary, state }, calibration, told },
      noted: events.filter(({ kind }) => /^(link|guidance)-/.test(kind)),
      ...{ head: Uint8Array.from(bytes.subarray(0, 64)), tail: Uint8Array.from(bytes.subarray(-64)) },
    };
  }

  /** @param writer  name of the worker */
  connection(writer: string): QueuedStore {
    const running = new Map<string, { at: Handed; isTakenOver: boolean }>();
    const feedOf = (id: string): SharedFeed => {
      if (this.trouble) throw this.trouble;
      const feed = this.feeds.get(id);
      if (!feed) throw new PlainError('store-no-feed', `No feed ${id} is kept.`, '');
      return feed;
    };
    return {
      begin: (summary) => {
        if (this.trouble) throw this.trouble;
        const before = this.feeds.get(summary.id);
        if (before && (before.state !== 'open' || before.bytes.length > 0))
          throw new PlainError('store-taken', `${summary.id} is taken.`, '');
        const nothing = { rows: [], cues: [], told: [], events: [], bytes: new Uint8Array(0) };
        this.feeds.set(summary.id, { summary: { ...summary }, writer, ...nothing, state: 'open' });
        running.set(summary.id, { at: NOTHING_HANDED, isTakenOver: false });
      },
      takeOver: ({ id }, handed) => {
        if (this.trouble) throw this.trouble;
        const feed = this.feeds.get(id);
        const isThere =
          feed?.state === 'open' &&
          feed.bytes.length >= handed.bytes &&
          LISTS.every((what) => feed[what].length >= handed[what]);
        if (!feed || !isThere) return false;
        feed.writer = writer;
        running.set(id, { at: handed, isTakenOver: true });
        return true;
      },
      append: (id, part) => {
        const [feed, own] = [feedOf(id), running.get(id)!];
        if (feed.writer !== writer) throw new PlainError('store-overtaken', `Another keeps ${id} now.`, '');
        const bytes = Buffer.concat([feed.bytes.subarray(0, own.at.bytes), ...part.bytes]);
        // Bytes that come again are not taken twice.
        if (bytes.length > feed.bytes.length) feed.bytes = bytes;
        for (const what of LISTS)
          (feed[what] as unknown[]).splice(own.at[what], part[what]?.length ?? 0, ...(part[what] ?? []));
        own.at = {
          rows: own.at.rows + part.rows.length,
          cues: own.at.cues + part.cues.length,
          told: own.at.told + (part.told?.length ?? 0),
          events: own.at.events + part.events.length,
          bytes: bytes.length,
        };
      },
      finish: (id, { endedAtMs }) => {
        const [feed, own] = [feedOf(id), running.get(id)];
        if (own?.isTakenOver)
          for (const what of LISTS) feed[what].length = Math.min(feed[what].length, own.at[what]);
        feed.state = 'ended';
        feed.summary.endedAtMs = endedAtMs;
        running.delete(id);
      },
      discard: (id) => {
        feedOf(id).state = 'discarded';
        running.delete(id);
      },
      correct: (id, setup) => Object.assign(feedOf(id).summary, setup) as never,
      isOver: (id) => (this.feeds.get(id)?.state ?? 'open') !== 'open',
      isRecording: (id) => running.has(id),
    };
  }
}
