/** The part of a feed that is not on disk yet: written to the storage once a second, held in memory while the disk fails. */
import type { FeedSummary, ToldCue } from './feed.ts';
import type { FeedPart, FeedStorage } from './feed-storage.ts';

/**
 * Most bytes held for all feeds together while the disk fails: three and a half hours at a sleeve's 2,500 bytes a second.
 * Rows (two a second), cues and events are small and are always held.
 */
export const MOST_HELD_BYTES = 32 * 1024 * 1024;
/** For a sleeve that sends 80 samples of 31 bytes a second (sleeve contract); only to say how much was lost. */
const BYTES_PER_MIN = 60 * 80 * 31;
/** Chunks are joined into blocks: a sleeve sends some hundred small ones a second, and each costs memory of its own. */
const BLOCK_BYTES = 16 * 1024;

/** How much of a feed the storage has taken: counts of rows, cues, shown cues, events and bytes. */
export interface Handed {
  rows: number;
  cues: number;
  told: number;
  events: number;
  bytes: number;
}

export const NOTHING_HANDED: Handed = { rows: 0, cues: 0, told: 0, events: 0, bytes: 0 };

export interface HeldFeed {
  readonly summary: FeedSummary;
  /** Calibration of the sleeve that measured this feed, even when another sleeve is attached now. */
  readonly calibration: unknown;
  part: Omit<FeedPart, 'bytes' | 'told'> & { told: ToldCue[] };
  blocks: { bytes: Uint8Array; filled: number }[];
  heldBytes: number;
  /** Bytes that did not fit into memory either; they are missing in the capture. */
  lostBytes: number;
  /** What the storage has taken of it. */
  handed: Handed;
  /** False until the storage has begun the feed. */
  begun: boolean;
  /** Its end was stored: nothing follows. */
  over: boolean;
}

const emptyPart = (): HeldFeed['part'] => ({
  rows: [],
  cues: [],
  told: [],
  events: [],
  intakeMl: 0,
  spiltMl: 0,
  addedMl: 0,
  durationSec: 0,
});

export const holdFeed = (calibration: unknown, summary: FeedSummary): HeldFeed => ({
  summary,
  calibration,
  part: emptyPart(),
  blocks: [],
  heldBytes: 0,
  lostBytes: 0,
  handed: NOTHING_HANDED,
  begun: false,
  over: false,
});

/** Copies `bytes`, since the caller may reuse its buffer. @param room  bytes that may still be held */
export function holdBytes(held: HeldFeed, bytes: Uint8Array, room: number): void {
  if (bytes.length > room) {
    held.lostBytes += bytes.length;
    return;
  }
  let block = held.blocks.at(-1);
  if (!block || block.filled + bytes.length > block.bytes.length) {
    block = { bytes: new Uint8Array(Math.max(BLOCK_BYTES, bytes.length)), filled: 0 };
    held.blocks.push(block);
  }
  block.bytes.set(bytes, block.filled);
  block.filled += bytes.length;
  held.heldBytes += bytes.length;
}

/** Writes all that is held; begins the feed in the storage if needed. After an error everything is still held. */
export function writeHeld(held: HeldFeed, storage: FeedStorage): void {
  if (held.over) return;
  if (!held.begun) {
    storage.begin(held.summary, held.calibration);
    held.begun = true;
  }
  const { rows, cues, told, events } = held.part;
  if (rows.length + cues.length + told.length + events.length + held.heldBytes === 0) return;
  const bytes = held.blocks.map((block) => block.bytes.subarray(0, block.filled));
  storage.append(held.summary.id, { ...held.part, bytes });
  held.handed = {
    rows: held.handed.rows + rows.length,
    cues: held.handed.cues + cues.length,
    told: held.handed.told + told.length,
    events: held.handed.events + events.length,
    bytes: held.handed.bytes + held.heldBytes,
  };
  const { intakeMl, spiltMl, addedMl, durationSec } = held.part;
  held.part = { ...emptyPart(), intakeMl, spiltMl, addedMl, durationSec };
  held.blocks = [];
  held.heldBytes = 0;
}

/** @returns a sentence about lost bytes; null when none were lost */
export function lossText({ lostBytes }: HeldFeed): string | null {
  if (lostBytes === 0) return null;
  const minutes = Math.max(1, Math.round(lostBytes / BYTES_PER_MIN));
  return `The disk took nothing for so long that memory is used up: ${minutes} min of this feed's raw measurements are lost. Its milk, cues and times are not.`;
}
