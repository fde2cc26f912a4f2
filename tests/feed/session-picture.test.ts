/** A feed that another process takes over goes on as if nothing had happened: same rows, cues and events, nothing handed over twice. */
import { deserialize, serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { goOnShowing, pictureOfShown } from '../../src/feed/live/live-picture.ts';
import { createLiveState } from '../../src/feed/live/live-state.ts';
import type { FeedEvent } from '../../src/feed/record/feed.ts';
import {
  createSession,
  type Session,
  type SessionOptions,
  takeBytes,
} from '../../src/feed/session/session.ts';
import { keepPart } from '../../src/feed/session/session-keep.ts';
import { noteBurpedByPage } from '../../src/feed/session/session-notes.ts';
import {
  type FeedPicture,
  pictureOf,
  pictureOfStart,
  resumeSession,
} from '../../src/feed/session/session-picture.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { simulateCapture } from '../../src/simulation/simulated-capture.ts';
import { FakeKeeper, keptBytes, keptCues, keptEvents, keptRows } from '../support/fake-keeper.ts';
import { seededRandom } from '../support/random.ts';
import { toHex } from '../support/wire.ts';

const made = simulateCapture({ scenario: 'hurried-start', seed: 1, longestSec: 110 });
const calibration = parseCalibration(made.calibration, 'of the simulated sleeve');
const CHUNK = 500;

const optionsWith = (keeper: FakeKeeper): SessionOptions => ({
  calibration,
  keeper,
  newFeedId: () => 'one',
  simulated: true,
  sleeveId: 'bench-1',
  refinesLater: true,
});

interface Taken {
  picture: FeedPicture;
  noted: readonly FeedEvent[];
  /** Bytes before it. */
  at: number;
}

/** Runs bytes from `from` on; `at` is told after each chunk. */
function run(session: Session, from: number, at: (position: number) => void = () => {}): void {
  for (let position = from; position < made.bytes.length; ) {
    const end = Math.min(made.bytes.length, position + CHUNK);
    takeBytes(session, made.bytes.subarray(position, end), 0);
    position = end;
    if (Math.floor(position / CHUNK) % 8 === 0) keepPart(session);
    at(position);
  }
  keepPart(session);
}

/** The whole feed in one process, with pictures of it, each as it would go over a line. */
function whole(): { keeper: FakeKeeper; pictures: Taken[]; start: Taken } {
  const keeper = new FakeKeeper(() => 0);
  const pictures: Taken[] = [];
  let start: Taken | null = null;
  const session = createSession({
    ...optionsWith(keeper),
    onOpened: ({ feed }, bytes) => {
      start = { picture: deserialize(serialize(pictureOfStart(feed!))) as FeedPicture, noted: [], at: bytes };
    },
  });
  let burpAt = 0;
  run(session, 0, (position) => {
    if (start && start.at >= 0) start = { ...start, at: -(position - start.at) - 1 };
    if (session.feed && burpAt === 0 && position > 0.6 * made.bytes.length) {
      burpAt = position;
      noteBurpedByPage(session);
    }
    const picture = pictureOf(session);
    if (picture)
      pictures.push({
        picture: deserialize(serialize(picture)) as FeedPicture,
        noted: structuredClone(session.feed!.noted),
        at: position,
      });
  });
  const noted = structuredClone(session.feed!.noted);
  const first = start as unknown as Taken;
  return {
    keeper,
    pictures: pictures.map((one) => ({ ...one, noted })),
    start: { ...first, noted, at: -first.at - 1 },
  };
}

function resumed({ picture, noted, at }: Taken): FakeKeeper {
  const keeper = new FakeKeeper(() => 0);
  keeper.begin(picture.summary, calibration);
  const session = resumeSession(optionsWith(keeper), picture, noted);
  run(session, at);
  return keeper;
}

describe('a feed that is taken over', () => {
  const { keeper, pictures, start } = whole();
  const feed = keeper.only;

  it('is one with cues, something said on the page, and pictures all along', () => {
    expect(keptCues(feed).length).toBeGreaterThan(0);
    expect(keptEvents(feed).some(({ kind }) => kind === 'burped')).toBe(true);
    expect(pictures.length).toBeGreaterThan(10);
  });

  it('goes on from a picture with the rows, cues, events and bytes that were still to come', () => {
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

  it('is made again from its first byte where there is no picture', () => {
    const again = resumed(start).only;
    expect(keptRows(again)).toEqual(keptRows(feed));
    expect(keptCues(again)).toEqual(keptCues(feed));
    expect(keptEvents(again)).toEqual(keptEvents(feed));
    expect(toHex(keptBytes(again))).toBe(toHex(keptBytes(feed)));
  });

  it('is not pictured while the keeper takes nothing', () => {
    const full = new FakeKeeper(() => 0);
    const session = createSession(optionsWith(full));
    let seen = 0;
    let wasOpen = false;
    run(session, 0, () => {
      full.full = session.feed !== null;
      if (full.full) wasOpen = true;
      if (full.full && pictureOf(session)) seen++;
    });
    expect(wasOpen).toBe(true);
    // The one that was kept as it opened.
    expect(seen).toBeLessThanOrEqual(1);
  });

  it('shows what was shown, since when it was shown, and owes no second sound', () => {
    const state = createLiveState(optionsWith(new FakeKeeper(() => 0)), 5000);
    state.show = { showing: 'tilt-down', sinceMs: 2000, doubt: null, troubleMs: 0, wasHeard: true };
    state.sounding = { lastMs: 2000, owed: false, notes: null };
    state.telling = { cue: { shown: 'tilt-down', sinceMs: 2000, sinceSec: 1, by: ['light'] }, told: [] };
    const shown = pictureOfShown(state, 5000);
    expect(shown).toMatchObject({ showing: 'tilt-down', sinceSec: -3, soundedSec: -3, owed: false });
    const other = createLiveState(optionsWith(new FakeKeeper(() => 0)), 777_000);
    goOnShowing(other, deserialize(serialize(shown)), 777_000);
    expect(other.show).toMatchObject({ showing: 'tilt-down', sinceMs: 774_000 });
    expect(other.sounding).toEqual({ lastMs: 774_000, owed: false, notes: null });
    expect(other.telling.cue).toEqual({ shown: 'tilt-down', sinceMs: 774_000, sinceSec: 1, by: ['light'] });
  });
});
