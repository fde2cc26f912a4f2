/** Which earlier feeds tell the next one what a suck gives: same baby, nipple, bottle and milk, of late, and none in a study. */
import { expect, onTestFinished, test } from 'vitest';
import { babyService, guideFrom } from '../../src/app/babies/babies-service.ts';
import { sucksBefore } from '../../src/app/babies/sucks-before.ts';
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import { earlierSucks, profileKnowing } from '../../src/feed/recording/earlier-sucks.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/profile/shipped-profile.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry } from '../support/babies.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 0, 30, 12);
const HOUR_MS = 3600_000;
const GRAMS_PER_ML = 1.03;

/** A minute and a half of sucks, one a second, each of so many mL. */
const refinedOf = (mlPerSuck: number) => {
  const atSec = Array.from({ length: 90 }, (_, i) => i);
  const known = atSec.map(() => 1);
  const intakeMl = atSec.map((sec) => mlPerSuck * sec);
  return {
    atSec,
    intakeMl,
    milkMl: known,
    flowMlPerMin: known,
    milkSdMl: known,
    teatInMouth: atSec.map(() => true),
    totals: { intakeMl: intakeMl.at(-1)!, spiltMl: 0, addedMl: 0 },
    suckAtSec: atSec,
    events: [],
  };
};

function house() {
  const store = openStore(temporaryFolder(), { recording: true, nowMs: () => NOW_MS });
  onTestFinished(() => store.close());
  const { baby } = babyService(store, () => NOW_MS).add(babyEntry());
  const setup: FeedSetup = {
    ...begunFeed('any').setup,
    ...{ babyId: baby.id, babyName: baby.name, babyBirthDate: baby.birthDate },
    ...{ teatName: 'round one', teatFlow: 'slow', bottleName: 'glass', milkKind: 'expressed' },
  };
  let count = 0;
  const addFeed = (mlPerSuck: number, part: Partial<FeedSetup> = {}, hoursAgo = 30 - count) => {
    const id = `feed-${count++}`;
    const startedAtMs = NOW_MS - hoursAgo * HOUR_MS;
    const feed = begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs, setup: { ...setup, ...part } });
    store.begin(feed, null);
    store.append(id, partOfSecond(1));
    const refined = refinedOf(mlPerSuck);
    store.finish(id, { endReason: 'button', endedAtMs: startedAtMs + 90_000, refined });
    return id;
  };
  const guide = guideFrom(store, () => NOW_MS, false);
  return {
    store,
    addFeed,
    setup,
    earlier: (part: Partial<FeedSetup> = {}) => guide({ ...setup, ...part }).ran,
  };
}

const startOf = (...mlPerSuck: number[]) =>
  earlierSucks(mlPerSuck.map((ml) => ml * GRAMS_PER_ML))!.levelGrams;

test('a feed starts from the latest three with this nipple, and a first one as ever', () => {
  const { addFeed, earlier } = house();
  expect(earlier()).not.toHaveProperty('earlierSucks');
  expect(earlier()!.profile).toEqual(SHIPPED_PROFILE);
  for (const ml of [0.9, 0.3, 0.4, 0.5]) addFeed(ml);
  const { earlierSucks: started, profile } = earlier()!;
  expect(started!.levelGrams).toBeCloseTo(startOf(0.5, 0.4, 0.3), 6);
  expect(profile).toEqual(profileKnowing(SHIPPED_PROFILE, started!));
  expect(profile).not.toEqual(SHIPPED_PROFILE);
});

test('feeds with another nipple, bottle or milk, long ago, or of no feed at all do not count', () => {
  const { store, addFeed, earlier } = house();
  addFeed(0.3);
  addFeed(0.9, { teatName: 'square one' });
  addFeed(0.9, { teatFlow: 'fast' });
  addFeed(0.9, { bottleName: 'steel' });
  addFeed(0.9, { milkKind: 'formula' });
  addFeed(0.9, { babyId: null, babyName: 'Sol' });
  addFeed(0.9, {}, 24 * 15);
  store.discard(addFeed(0.9));
  expect(earlier()!.earlierSucks!.levelGrams).toBeCloseTo(startOf(0.3), 6);
  expect(earlier({ teatName: 'ROUND ONE' })!.earlierSucks!.levelGrams).toBeCloseTo(startOf(0.3), 6);
  expect(earlier({ teatName: 'square one' })!.earlierSucks!.levelGrams).toBeCloseTo(startOf(0.9), 6);
});

test('what was corrected afterwards counts as corrected', () => {
  const { store, addFeed, earlier } = house();
  const id = addFeed(0.3);
  addFeed(0.9);
  store.correct('feed-1', { kind: 'setup', setup: { teatName: 'square one' } });
  expect(id).toBe('feed-0');
  expect(earlier()!.earlierSucks!.levelGrams).toBeCloseTo(startOf(0.3), 6);
});

test('without a named nipple nothing is taken over, nor in a session of a study', () => {
  const { addFeed, earlier } = house();
  addFeed(0.3, { teatName: null, teatFlow: null });
  addFeed(0.3);
  expect(earlier({ teatName: null, teatFlow: null })).not.toHaveProperty('earlierSucks');
  expect(earlier({ study: 'S1', participant: 'P01' })).not.toHaveProperty('earlierSucks');
  expect(earlier()).toHaveProperty('earlierSucks');
});

test('an old feed that cannot be read is passed over', () => {
  const { store, addFeed, setup } = house();
  addFeed(0.3);
  addFeed(0.9);
  const broken = {
    list: store.list.bind(store),
    get: (id: string) => {
      if (id === 'feed-1') throw new RangeError('broken');
      return store.get(id);
    },
  };
  const [grams, ...more] = sucksBefore(broken, setup.babyId!, setup, NOW_MS);
  expect(grams).toBeCloseTo(0.3 * GRAMS_PER_ML, 6);
  expect(more).toEqual([]);
});
