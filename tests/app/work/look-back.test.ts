/** A sleeve is taken up in the middle of a feed and nobody left a checkpoint: its relay's bytes tell where the feed began. */
import { describe, expect, it } from 'vitest';
import { decodeCheckpoint, encodeCheckpoint, packFeedAt } from '../../../src/app/work/checkpoint.ts';
import { LookBack } from '../../../src/app/work/look-back.ts';
import type { LatestFeed } from '../../../src/app/work/storing/latest-feed.ts';
import type { SleeveBinding } from '../../../src/app/work/storing/store-ops.ts';
import type { Guided } from '../../../src/feed/recording/guided.ts';
import { keepPart } from '../../../src/feed/recording/keep-part.ts';
import { createRecorder, type RecorderOptions, takeBytes } from '../../../src/feed/recording/recorder.ts';
import { resumeRecorder } from '../../../src/feed/recording/snapshot.ts';
import { parseCalibration } from '../../../src/sensing/index.ts';
import { EMPTY_SETUP } from '../../support/fake-live.ts';
import { keptBytes, keptCues, keptRows, MemoryStorage } from '../../support/memory-storage.ts';
import { oneAfterAnother } from '../../support/one-after-another.ts';
import { simulateCapture } from '../../support/simulated-capture.ts';
import { begunFeed } from '../../support/store-samples.ts';

const made = simulateCapture({ scenario: 'hurried-start', seed: 1, longestSec: 110 });
const calibration = parseCalibration(made.calibration, 'of the simulated sleeve');
const perSec = made.bytes.length / 110;
const STREAM = 'a'.repeat(16);
/** Position of the sleeve's first byte in its relay's log. */
const FIRST = 7_000_000;
const NOW_MS = Date.UTC(2026, 0, 5, 9);

const nobody: Guided = { ran: null, notices: ['not-screened'], severalBabies: false };
const binding: SleeveBinding = {
  ...{ calibration, made: calibration, history: [] as never, simulated: true, bound: 7, nobody },
  guided: { ran: null, notices: [], severalBabies: false },
  setup: { ...EMPTY_SETUP, babyId: 'b-7', babyName: 'Ilo' },
};

const latestOf = (
  bytes: Uint8Array,
  part: Partial<LatestFeed['feed']>,
  noted: LatestFeed['noted'] = [],
): LatestFeed => ({
  feed: begunFeed('stored', { sleeveId: '4', ...part }),
  ...{ calibration, noted, told: [], head: bytes.slice(0, 64), tail: bytes.slice(-64) },
});

/** @param frame  size of the relay's messages */
function lookedBack(bytes: Uint8Array, latest: LatestFeed | null = null, frame = 16 * 1024) {
  const seeker = new LookBack({
    sleeveNumber: 4,
    binding,
    latest,
    newFeedId: (ms) => `of-${Math.round(ms / 1000)}`,
  });
  for (let at = 0; at < bytes.length; at += frame) {
    const part = bytes.subarray(at, at + frame);
    seeker.take(part, { stream: STREAM, next: FIRST + at + part.length });
  }
  const found = seeker.found(NOW_MS);
  // Encoded and decoded, as the next worker would read it.
  const { feed, ...rest } = found.checkpoint;
  const packed = { ...rest, feed: feed && { ...feed, start: packFeedAt(feed.start), latest: null } };
  return { ...found, checkpoint: decodeCheckpoint(encodeCheckpoint(packed, '1'), '1')! };
}

const optionsWith = (storage: MemoryStorage): RecorderOptions => ({
  ...{ calibration, storage, newFeedId: () => 'at-home', simulated: true, sleeveId: '4', refinesLater: true },
});

function atHome(bytes: Uint8Array) {
  const storage = new MemoryStorage(() => 0);
  const recorder = createRecorder(optionsWith(storage));
  for (let at = 0; at < bytes.length; at += 92) takeBytes(recorder, bytes.subarray(at, at + 92), 0);
  keepPart(recorder);
  return storage.only;
}

describe('a look back', () => {
  it('finds where the running feed began, and what follows is what it is at home', () => {
    const soFar = made.bytes.subarray(0, Math.floor(70 * perSec));
    const { checkpoint, sinceMs, lost } = lookedBack(soFar);
    const { picture, from } = checkpoint.feed!.start;
    // The simulated baby latches some five seconds after the start.
    expect((NOW_MS - sinceMs!) / 1000).toBeGreaterThan(60);
    expect((NOW_MS - sinceMs!) / 1000).toBeLessThan(66);
    expect(picture.summary).toMatchObject({ startedAtMs: sinceMs, setup: { babyId: 'b-7' }, state: 'open' });
    expect(picture.summary.id).toBe(`of-${Math.round(sinceMs! / 1000)}`);
    expect({ from, lost }).toEqual({ from: { stream: STREAM, next: FIRST }, lost: null });

    const storage = new MemoryStorage(() => 0);
    storage.begin(picture.summary, calibration);
    const recorder = resumeRecorder(optionsWith(storage), picture, checkpoint.feed!.noted);
    takeBytes(recorder, made.bytes.subarray(from.next - FIRST), 0);
    keepPart(recorder);
    const home = atHome(made.bytes);
    expect(keptCues(home).length).toBeGreaterThan(0);
    expect(keptCues(storage.only)).toEqual(keptCues(home));
    expect(keptRows(storage.only)).toEqual(keptRows(home));
    expect(Buffer.compare(keptBytes(storage.only), keptBytes(home))).toBe(0);
  });

  it.each([16 * 1024, 50])(
    'goes on with the feed that the store has begun, from its own first byte (%i bytes at once)',
    (frame) => {
      const before = made.bytes.subarray(0, Math.floor(2 * perSec));
      const own = made.bytes.subarray(before.length, Math.floor(40 * perSec));
      const noted: LatestFeed['noted'] = [{ kind: 'cues-withheld', atSec: 0 }];
      const { checkpoint, sinceMs } = lookedBack(
        made.bytes.subarray(0, Math.floor(70 * perSec)),
        latestOf(own, {}, noted),
        frame,
      );
      const { picture, from } = checkpoint.feed!.start;
      expect(from).toEqual({ stream: STREAM, next: FIRST + before.length });
      expect(picture).toMatchObject({
        summary: { id: 'stored', setup: { babyName: 'Wren' } },
        withheld: true,
        engine: null,
      });
      expect(checkpoint.feed!.noted).toEqual(noted);
      expect(sinceMs).toBe(begunFeed('x').startedAtMs);
    },
  );

  it('makes no feed of what the store has already, and says what cannot go on', () => {
    // The stored feed begins before the oldest byte that the relay still has.
    const own = made.bytes.subarray(0, Math.floor(40 * perSec));
    const since = made.bytes.subarray(Math.floor(20 * perSec), Math.floor(70 * perSec));
    const found = lookedBack(since, latestOf(own, {}));
    expect(found).toMatchObject({ lost: 'stored', sinceMs: null, checkpoint: { feed: null } });
    const over = lookedBack(
      made.bytes.subarray(0, Math.floor(70 * perSec)),
      latestOf(own, { state: 'ended' }),
    );
    expect(over).toMatchObject({
      lost: null,
      sinceMs: null,
      checkpoint: { feed: null, binding: { bound: 7 } },
    });
    expect(over.checkpoint.from!.next).toBeGreaterThanOrEqual(FIRST + own.length);
  });

  it('goes on under the name of a feed of which the store has no byte yet', () => {
    const soFar = made.bytes.subarray(0, Math.floor(70 * perSec));
    const begun = (startedAtMs: number) => latestOf(new Uint8Array(0), { startedAtMs });
    const idOf = ({ checkpoint }: ReturnType<typeof lookedBack>) => checkpoint.feed!.start.picture.summary.id;
    expect(idOf(lookedBack(soFar, begun(NOW_MS - 66_000)))).toBe('stored');
    expect(idOf(lookedBack(soFar, begun(NOW_MS - 3_600_000)))).not.toBe('stored');
  });

  it('passes over a feed that is over, and what was bound for it is not bound for the next', () => {
    const next = simulateCapture({ scenario: 'paced', seed: 1, longestSec: 60 }).bytes;
    const both = oneAfterAnother([made.bytes.subarray(0, Math.floor(40 * perSec)), next]);
    const { checkpoint, sinceMs } = lookedBack(both);
    const { summary } = checkpoint.feed!.start.picture;
    expect((NOW_MS - sinceMs!) / 1000).toBeLessThan(60);
    expect(summary.setup.babyId ?? null).toBeNull();
  });

  it('leaves the minute before a latch to the next guide when no feed runs', () => {
    const still = made.bytes.subarray(0, Math.floor(4 * perSec));
    const { checkpoint, sinceMs } = lookedBack(still);
    expect(sinceMs).toBeNull();
    expect(checkpoint).toMatchObject({ feed: null, from: { stream: STREAM, next: FIRST } });
  });
});
