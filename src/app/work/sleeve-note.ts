/** What whoever guides a sleeve leaves with its relay, so that the next one goes on where it was: no database and no clock is asked for it. */
import { deserialize, serialize } from 'node:v8';
import type { ShownPicture } from '../../feed/live/live-picture.ts';
import type { FeedEvent } from '../../feed/record/feed.ts';
import type { FeedPicture } from '../../feed/session/session-picture.ts';
import type { SleeveBinding } from './keeping/kept-ops.ts';
import type { StreamPlace } from './stream-places.ts';

/** A feed at a byte of the sleeve's stream. */
export interface FeedAt {
  picture: FeedPicture;
  /** The bytes that are to follow begin here. */
  from: StreamPlace;
}

export interface SleeveNote {
  binding: SleeveBinding;
  /** Without a feed: from here the bytes are wanted, so that the minute before a latch is whole. */
  from: StreamPlace | null;
  feed: {
    /** As it began. */
    start: FeedAt;
    /** The latest that the store has all of; null: none yet, or one of another version of the program. */
    latest: FeedAt | null;
    noted: readonly FeedEvent[];
    shown: ShownPicture | null;
  } | null;
}

/** Pictures are serialized when they are taken: their feed goes on meanwhile. */
export type PackedNote = Omit<SleeveNote, 'feed'> & {
  feed:
    | (Omit<NonNullable<SleeveNote['feed']>, 'start' | 'latest'> & {
        start: Uint8Array;
        latest: Uint8Array | null;
      })
    | null;
};

const VERSION = 2;

export const packFeedAt = (at: FeedAt): Uint8Array => serialize(at);

export const encodeNote = (note: PackedNote, softwareVersion: string): Uint8Array =>
  serialize({ version: VERSION, softwareVersion, ...note });

/** @returns null for what is no note: empty, cut off, of another format */
export function decodeNote(bytes: Uint8Array, softwareVersion: string): SleeveNote | null {
  if (bytes.length === 0) return null;
  try {
    const note: PackedNote & { version: number; softwareVersion: string } = deserialize(bytes);
    if (note.version !== VERSION) return null;
    const { binding, from, feed } = note;
    if (!feed) return { binding, from, feed: null };
    const isOurs = note.softwareVersion === softwareVersion;
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
