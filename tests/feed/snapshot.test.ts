/** A feed that another process takes over goes on as if nothing had happened: same rows, cues and events, nothing handed over twice. */
import { deserialize, serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { createLiveState } from '../../src/feed/live/live-state.ts';
import { goOnShowing, shownSnapshot } from '../../src/feed/live/shown-snapshot.ts';
import type { FeedEvent } from '../../src/feed/record/feed.ts';
import { addBurpByPage, addHostEvent } from '../../src/feed/recording/host-events.ts';
import { keepPart } from '../../src/feed/recording/keep-part.ts';
import {
  createRecorder,
  type Recorder,
  type RecorderOptions,
  takeBytes,
} from '../../src/feed/recording/recorder.ts';
import {
  allNoted,
  type FeedSnapshot,
  feedSnapshot,
  resumeRecorder,
  snapshotAtStart,
} from '../../src/feed/recording/snapshot.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { keptBytes, keptCues, keptEvents, keptRows, MemoryStorage } from '../support/memory-storage.ts';
import { seededRandom } from '../support/random.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { toHex } from '../support/wire.ts';

const made = simulateCapture({ scenario: 'hurried-start', seed: 1, longestSec: 110 });
const calibration = parseCalibration(made.calibration, 'of the simulated sleeve');
const CHUNK = 500;

const optionsWith = (storage: MemoryStorage): RecorderOptions => ({
  calibration,
  storage,
  newFeedId: () => 'one',
  simulated: true,
  sleeveId: 'bench-1',
  refinesLater: true,
});

interface Taken {
  picture: FeedSnapshot;
  noted: readonly FeedEvent[];
  /** Number of bytes before this snapshot. */
  at: number;
}

/** Runs bytes from `from` on; `at` is told after each chunk. */
function run(recorder: Recorder, from: number, at: (position: number) => void = () => {}): void {
  for (let position = from; position < made.bytes.length; ) {
    const end = Math.min(made.bytes.length, position + CHUNK);
    takeBytes(recorder, made.bytes.subarray(position, end), 0);
    position = end;
    if (Math.floor(position / CHUNK) % 8 === 0) keepPart(recorder);
    at(position);
  }
  keepPart(recorder);
}

/** Runs the whole feed in one process and takes snapshots of it, encoded as they are sent. */
function whole(): { storage: MemoryStorage; pictures: Taken[]; start: Taken } {
  const storage = new MemoryStorage(() => 0);
  const pictures: Taken[] = [];
  let start: Taken | null = null;
  const recorder = createRecorder({
    ...optionsWith(storage),
    onOpened: ({ feed }, bytes) => {
      start = {
        picture: deserialize(serialize(snapshotAtStart(feed!))) as FeedSnapshot,
        noted: [],
        at: bytes,
      };
    },
  });
  let burpAt = 0;
  run(recorder, 0, (position) => {
    if (start && start.at >= 0) start = { ...start, at: -(position - start.at) - 1 };
    if (recorder.feed && burpAt === 0 && position > 0.6 * made.bytes.length) {
      burpAt = position;
      addBurpByPage(recorder);
    }
    const picture = feedSnapshot(recorder);
    if (picture)
      pictures.push({
        picture: deserialize(serialize(picture)) as FeedSnapshot,
        noted: structuredClone(recorder.feed!.noted),
        at: position,
      });
  });
  const noted = structuredClone(recorder.feed!.noted);
  const first = start as unknown as Taken;
  return {
    storage,
    pictures: pictures.map((one) => ({ ...one, noted })),
    start: { ...first, noted, at: -first.at - 1 },
  };
}

function resumed({ picture, noted, at }: Taken): MemoryStorage {
  const storage = new MemoryStorage(() => 0);
  storage.begin(picture.summary, calibration);
  const recorder = resumeRecorder(optionsWith(storage), picture, noted);
  run(recorder, at);
  return storage;
}

describe('a feed that is taken over', () => {
  const { storage, pictures, start } = whole();
  const feed = storage.only;

  it('is one with cues, something said on the page, and pictures all along', () => {
    expect(keptCues(feed).length).toBeGreaterThan(0);
    expect(keptEvents(feed).some(({ kind }) => kind === 'burped')).toBe(true);
    expect(pictures.length).toBeGreaterThan(10);
  });

  it('continues from a snapshot with the rows, cues, events and bytes that were still to come', () => {
    const random = seededRandom(3);
    for (let i = 0; i < 3; i++) {
      const taken = pictures[Math.floor(random() * pictures.length)]!;
      const rest = resumed(taken).only;
      const { rows, cues, events, bytes } = taken.picture.handed;
      expect(keptRows(rest)).toEqual(keptRows(feed).slice(rows));
      expect(keptCues(rest)).toEqual(keptCues(feed).slice(cues));
      expect(keptEvents(rest)).toEqual(keptEvents(feed).slice(events));
      expect(toHex(keptBytes(rest))).toBe(toHex(keptBytes(feed).subarray(bytes)));
    }
  });

  it('keeps what was noted at the very time of the snapshot, and what it has not repeated yet', () => {
    const before = new MemoryStorage(() => 0);
    const recorder = createRecorder(optionsWith(before));
    const half = Math.floor(made.bytes.length / 2);
    takeBytes(recorder, made.bytes.subarray(0, half), 0);
    keepPart(recorder);
    const picture = deserialize(serialize(feedSnapshot(recorder))) as FeedSnapshot;
    // Its relay is dead: the link is lost, and no further sample gives it a time of its own.
    addHostEvent(recorder, 'link-lost');
    takeBytes(recorder, made.bytes.subarray(half, half + 10_000), 0);
    addBurpByPage(recorder);
    keepPart(recorder);
    const after = new MemoryStorage(() => 0);
    after.begin(picture.summary, calibration);
    const noted = recorder.feed!.noted;
    const next = resumeRecorder(optionsWith(after), picture, noted);
    expect(allNoted(next.feed!)).toEqual(noted);
    run(next, half);
    expect(keptEvents(after.only).filter(({ kind }) => /^(link|burped)/.test(kind))).toEqual(noted);
    expect(allNoted(next.feed!)).toEqual(noted);
  });

  it('is made again from its first byte where there is no picture', () => {
    const again = resumed(start).only;
    expect(keptRows(again)).toEqual(keptRows(feed));
    expect(keptCues(again)).toEqual(keptCues(feed));
    expect(keptEvents(again)).toEqual(keptEvents(feed));
    expect(toHex(keptBytes(again))).toBe(toHex(keptBytes(feed)));
  });

  it('is not pictured while the storage takes nothing', () => {
    const full = new MemoryStorage(() => 0);
    const recorder = createRecorder(optionsWith(full));
    let seen = 0;
    let wasOpen = false;
    run(recorder, 0, () => {
      full.full = recorder.feed !== null;
      if (full.full) wasOpen = true;
      if (full.full && feedSnapshot(recorder)) seen++;
    });
    expect(wasOpen).toBe(true);
    // At most the one that was stored at the opening.
    expect(seen).toBeLessThanOrEqual(1);
  });

  it('shows what was shown, since when it was shown, and owes no second sound', () => {
    const state = createLiveState(optionsWith(new MemoryStorage(() => 0)), 5000);
    state.show = { showing: 'tilt-down', sinceMs: 2000, doubt: null, troubleMs: 0, wasHeard: true };
    state.sounding = { lastMs: 2000, owed: false, notes: null };
    state.telling = { cue: { shown: 'tilt-down', sinceMs: 2000, sinceSec: 1, by: ['light'] }, told: [] };
    const shown = shownSnapshot(state, 5000);
    expect(shown).toMatchObject({ showing: 'tilt-down', sinceSec: -3, soundedSec: -3, owed: false });
    const other = createLiveState(optionsWith(new MemoryStorage(() => 0)), 777_000);
    goOnShowing(other, deserialize(serialize(shown)), 777_000);
    expect(other.show).toMatchObject({ showing: 'tilt-down', sinceMs: 774_000 });
    expect(other.sounding).toEqual({ lastMs: 774_000, owed: false, notes: null });
    expect(other.telling.cue).toEqual({ shown: 'tilt-down', sinceMs: 774_000, sinceSec: 1, by: ['light'] });
  });
});
