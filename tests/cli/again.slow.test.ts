/** A kept feed run again as it ran, from a capture of the fixtures. */
import { describe, expect, onTestFinished, test } from 'vitest';
import { guideFrom } from '../../src/app/babies/babies-service.ts';
import { againFrom } from '../../src/app/review/feed-again.ts';
import { replay } from '../../src/feed/replay.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry } from '../support/babies.ts';
import { readFixture } from '../support/captures.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const START_MS = Date.UTC(2026, 0, 5, 9);
const { bytes, calibration } = readFixture('poured');

function storeHere() {
  const store = openStore(temporaryFolder(), {
    recording: true,
    softwareVersion: '1.2.3',
    nowMs: () => START_MS + 3600_000,
  });
  onTestFinished(() => store.close());
  return store;
}

describe('again', () => {
  test('a guided feed with presses on the page gives the cues that were kept', () => {
    const store = storeHere();
    const { id } = store.addBaby(babyEntry({ pace: 'strict', usualFeedMl: 60 }));
    const setup = { ...EMPTY_SETUP, babyId: id, babyName: 'Wren', portionMl: 60 };
    recordFeed(store, {
      id: 'one',
      bytes,
      calibration,
      startMs: START_MS,
      setup,
      guide: guideFrom(store, () => START_MS, true),
      burpedAfterSec: [40, 70],
    });
    const again = againFrom(store, 'one');
    expect(again).toMatchObject({ sameCues: true, profile: 'scaled', softwareVersion: '1.2.3' });
    expect(again.keptCues.length).toBeGreaterThan(1);
    // A replay without the feed's settings uses the shipped profile and gives other cues.
    expect(replay([bytes], { calibration, portionMl: 60 }).result.cues).not.toEqual(again.keptCues);
  });

  test('a feed that ran bare says so, and is the bare replay', () => {
    const store = storeHere();
    recordFeed(store, { id: 'one', bytes, calibration, startMs: START_MS });
    const again = againFrom(store, 'one');
    expect(again).toMatchObject({ sameCues: true, profile: 'shipped' });
    expect(again.keptCues.length).toBeGreaterThan(0);
  });

  test('a feed that is not there is named', () => {
    expect(() => againFrom(storeHere(), 'none')).toThrow('There is no kept feed none.');
  });
});
