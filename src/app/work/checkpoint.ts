/** The checkpoint that a guide leaves with the sleeve's relay, so that the next guide can continue there without a database or a clock. */
import { deserialize, serialize } from 'node:v8';
import { crc32 } from 'node:zlib';
import type { ShownSnapshot } from '../../feed/live/shown-snapshot.ts';
import type { FeedEvent, ToldCue } from '../../feed/record/feed.ts';
import type { FeedSnapshot } from '../../feed/recording/snapshot.ts';
import type { SleeveBinding } from './storing/store-ops.ts';
import type { StreamPlace } from './stream-places.ts';

/** A snapshot of a feed, and the place of the next byte in the sleeve's stream. */
export interface FeedAt {
  picture: FeedSnapshot;
  /** Place of the first byte after the snapshot. */
  from: StreamPlace;
}

export interface Checkpoint {
  binding: SleeveBinding;
  /** Without a feed: place from which bytes are needed, so that the minute before a latch is complete. */
  from: StreamPlace | null;
  feed: {
    /** The feed at its start. */
    start: FeedAt;
    /** The latest snapshot whose feed is stored completely; null: none yet, or by another version of the program. */
    latest: FeedAt | null;
    noted: readonly FeedEvent[];
    told: readonly ToldCue[];
    shown: ShownSnapshot | null;
  } | null;
}

/** Snapshots are serialized at once, since the feed goes on. */
export type PackedCheckpoint = Omit<Checkpoint, 'feed'> & {
  feed:
    | (Omit<NonNullable<Checkpoint['feed']>, 'start' | 'latest'> & {
        start: Uint8Array;
        latest: Uint8Array | null;
      })
    | null;
};

const VERSION = 4;
/** CRC-32 of what follows, little-endian: a relay's disk may have damaged it. */
const SUM_BYTES = 4;

export const packFeedAt = (at: FeedAt): Uint8Array => serialize(at);

export function encodeCheckpoint(checkpoint: PackedCheckpoint, softwareVersion: string): Uint8Array {
  const body = serialize({ version: VERSION, softwareVersion, ...checkpoint });
  const out = Buffer.alloc(SUM_BYTES + body.length);
  out.writeUInt32LE(crc32(body));
  out.set(body, SUM_BYTES);
  return out;
}

/** @returns null for empty, damaged or unknown data */
export function decodeCheckpoint(bytes: Uint8Array, softwareVersion: string): Checkpoint | null {
  if (bytes.length <= SUM_BYTES) return null;
  const body = bytes.subarray(SUM_BYTES);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.getUint32(0, true) !== crc32(body)) return null;
  try {
    const checkpoint: PackedCheckpoint & { version: number; softwareVersion: string } = deserialize(body);
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
        told: feed.told,
        shown: feed.shown,
      },
    };
  } catch {
    return null;
  }
}
