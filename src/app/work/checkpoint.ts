/** What whoever guides a sleeve leaves with its relay, so that the next one goes on where it was: no database and no clock is asked for it. */
import { deserialize, serialize } from 'node:v8';
import type { ShownSnapshot } from '../../feed/live/shown-snapshot.ts';
import type { FeedEvent } from '../../feed/record/feed.ts';
import type { FeedSnapshot } from '../../feed/recording/snapshot.ts';
import type { SleeveBinding } from './storing/store-ops.ts';
import type { StreamPlace } from './stream-places.ts';

/** A feed at a byte of the sleeve's stream. */
export interface FeedAt {
  picture: FeedSnapshot;
  /** The bytes that are to follow begin here. */
  from: StreamPlace;
}

export interface Checkpoint {
  binding: SleeveBinding;
  /** Without a feed: from here the bytes are wanted, so that the minute before a latch is whole. */
  from: StreamPlace | null;
  feed: {
    /** As it began. */
    start: FeedAt;
    /** The latest that the store has all of; null: none yet, or one of another version of the program. */
    latest: FeedAt | null;
    noted: readonly FeedEvent[];
    shown: ShownSnapshot | null;
  } | null;
}

/** Pictures are serialized when they are taken: their feed goes on meanwhile. */
export type PackedCheckpoint = Omit<Checkpoint, 'feed'> & {
  feed:
    | (Omit<NonNullable<Checkpoint['feed']>, 'start' | 'latest'> & {
        start: Uint8Array;
        latest: Uint8Array | null;
      })
    | null;
};

const VERSION = 1;

export const packFeedAt = (at: FeedAt): Uint8Array => serialize(at);

export const encodeCheckpoint = (checkpoint: PackedCheckpoint, softwareVersion: string): Uint8Array =>
  serialize({ version: VERSION, softwareVersion, ...checkpoint });

/** @returns null for what is no checkpoint: empty, cut off, of another format */
export function decodeCheckpoint(bytes: Uint8Array, softwareVersion: string): Checkpoint | null {
  if (bytes.length === 0) return null;
  try {
    const checkpoint: PackedCheckpoint & { version: number; softwareVersion: string } = deserialize(bytes);
    if (checkpoint.version !== VERSION) return null;
    const { binding, from, feed } = checkpoint;
    if (!feed) return { binding, from, feed: null };
    const isOurs = checkpoint.softwareVersion === softwareVersion;
    return {
      binding,
      from,
      feed: {
        start: deserialize(feed.start),
        latest: isOurs && feed.latest ? deserialize(feed.latest) : null,
        noted: feed.noted,
        shown: feed.shown,
      },
    };
  } catch {
    return null;
  }
}
