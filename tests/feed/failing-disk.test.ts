/** A live feed on a disk that takes nothing for a while, with the real store behind a switch: guidance goes on, and afterwards the feed is there, whole. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { replay } from '../../src/feed/replay.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { createCapturedSleeve } from '../support/captured-sleeve.ts';
import { readFixture } from '../support/captures.ts';
import { DATABASE_CALLS, DISK_CALLS, type Trouble } from '../support/failing-storage.ts';
import { failingStore } from '../support/failing-store.ts';
import { type LiveRun, liveRun } from '../support/live-run.ts';
import { runs } from '../support/runs.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';

/** 90 s that are known to bring cues; the latch is at 10.4 s. */
const fixture = readFixture('poured');
const LATCH_SEC = 10.4;
const END_SEC = 80;

async function onFailingDisk(options: { mostHeldBytes?: number } = {}) {
  const { storage, store } = failingStore();
  const run = await liveRun(createCapturedSleeve(fixture.bytes), {
    calibration: fixture.calibration,
    storage: () => store,
    ...options,
  });
  return { ...run, storage, store, now: () => run.view };
}

async function scriptedRun(sleeve: ReturnType<typeof createScriptedSleeve>, store: FeedStore) {
  const run = await liveRun(sleeve, { calibration: sleeve.calibration, storage: () => store });
  return { ...run, now: () => run.view };
}

function expectKeptWhole(store: FeedStore, feedId: string): void {
  const feed = store.get(feedId)!;
  const { bytes } = readCapture(store.capturePath(feedId)!);
  const { result } = replay([bytes], { calibration: fixture.calibration, portionMl: null });
  expect(feed).toMatchObject({ state: 'ended', endReason: 'page' });
  expect(feed.rows.map(({ atSec }) => Number(atSec.toFixed(4)))).toEqual(result.live.atSec);
  expect(feed.rows.at(-1)!.atSec).toBeCloseTo(END_SEC, 0);
  expect(feed.cues).toEqual(result.cues);
  expect(feed.events).toEqual(result.events);
  expect(feed.refined!.totals.intakeMl).toBeGreaterThan(25);
}

/** Light and heartbeats of a run without a disk failure, for comparison. */
let plain: LiveRun['said'];
beforeAll(async () => {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-test-'));
  const store = openStore(folder, { recording: true });
  const run = await liveRun(createCapturedSleeve(fixture.bytes), {
    calibration: fixture.calibration,
    storage: () => store,
  });
  await run.run(END_SEC);
  run.live.command({ kind: 'end-feed' });
  expectKeptWhole(store, run.view.feedId!);
  plain = run.said;
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

/** All error codes are treated alike; the quick lane tries two of them, the slow one all. */
const EVERY_CODE = [
  ...['EIO', 'ESTALE', 'ETIMEDOUT', 'ENXIO', 'ENODEV', 'ENOMEM', 'EAGAIN', 'EINTR', 'EBUSY', 'EMFILE'],
  'EPROTO',
];
const CODES = EVERY_CODE.slice(0, runs({ quick: 2, all: EVERY_CODE.length }));
const ALL_CALLS = [...DISK_CALLS, ...DATABASE_CALLS];
const FULL: Trouble = { calls: ['writeSync', 'mkdirSync', 'run'], code: 'ENOSPC' };

describe('a disk that takes nothing', () => {
  it.each([
    ['from before the latch to the middle', 0, 40],
    ['from before the latch to after the end', 0, 84],
    ['in the middle', 30, 50],
    ['from the middle to after the end', 50, 84],
    ['only while the feed ends', 79.95, 80.5],
  ])(
    '%s: cues, light and heartbeats go on, the feed is kept whole, and is not said to be before',
    async (_when, fromSec, toSec) => {
      const { run, live, storage, store, now, said } = await onFailingDisk();
      const at = { sec: 0 };
      const on = async (toSec: number) => {
        await run(toSec - at.sec);
        at.sec = toSec;
      };
      const fail = async () => {
        await on(fromSec);
        storage.trouble = FULL;
      };
      await fail();
      if (toSec < END_SEC) {
        await on(toSec);
        expect(now()).toMatchObject({
          feedState: 'open',
          notice: expect.stringMatching(/disk that holds .* is full/),
        });
        storage.trouble = null;
      }
      await on(END_SEC);
      live.command({ kind: 'end-feed' });
      const feedId = now().feedId!;
      expect(said).toEqual(plain);
      if (toSec > END_SEC) {
        expect(now()).toMatchObject({
          feedState: 'ended',
          unkept: [feedId],
          notice: expect.stringContaining('full'),
        });
        expect(live.keepRest()).toBe(false);
        await on(toSec);
        expect(now().unkept).toEqual([feedId]);
        storage.trouble = null;
        await on(toSec + 1.1);
      }
      expect(storage.failures).toBeGreaterThan(0);
      expect(now()).toMatchObject({ feedState: 'ended', notice: null });
      expect(now()).not.toHaveProperty('unkept');
      expect(live.keepRest()).toBe(true);
      expectKeptWhole(store, feedId);
    },
  );

  it.each(CODES)(
    'with %s from every call, from before the latch on, kills neither the program nor the guidance',
    async (code) => {
      const { run, live, storage, store, now, said } = await onFailingDisk();
      storage.trouble = { calls: ALL_CALLS, code };
      await run(END_SEC);
      expect(now()).toMatchObject({ feedState: 'open', notice: expect.any(String) });
      live.command({ kind: 'end-feed' });
      expect(said).toEqual(plain);
      expect(now().unkept).toEqual([now().feedId]);
      storage.trouble = null;
      expect(live.keepRest()).toBe(true);
      expectKeptWhole(store, now().feedId!);
    },
  );
});

it('holds bytes up to a bound, says when it is reached, and keeps all else', async () => {
  const { run, live, storage, store, now } = await onFailingDisk({ mostHeldBytes: 100_000 });
  storage.trouble = FULL;
  await run(30);
  expect(now().notice).not.toMatch(/memory is used up/);
  await run(END_SEC - 30);
  expect(now().notice).toMatch(/is full.*memory is used up: 1 min of this feed's raw measurements are lost/);
  storage.trouble = null;
  live.command({ kind: 'end-feed' });
  expect(now()).not.toHaveProperty('unkept');
  // The notice stays after everything is stored.
  expect(now().notice).toMatch(/^The disk took nothing for so long/);
  const feed = store.get(now().feedId!)!;
  const { bytes } = readCapture(store.capturePath(feed.id)!);
  expect(bytes.length).toBeGreaterThan(97_000);
  expect(bytes.length).toBeLessThanOrEqual(100_000);
  expect(feed.rows.at(-1)!.atSec).toBeCloseTo(END_SEC, 0);
  expect(feed.cues.length).toBeGreaterThan(0);
});

it('holds half an hour and more by itself', async () => {
  const { MOST_HELD_BYTES } = await import('../../src/feed/record/held.ts');
  // Sleeve contract: 80 samples a second; 33 bytes leaves room for what comes between them.
  expect(MOST_HELD_BYTES / (80 * 33 * 60)).toBeGreaterThan(3 * 30);
});

it('a second feed may follow while the first one waits: both are kept, each with its own', async () => {
  const { storage, store } = failingStore();
  const sleeve = createScriptedSleeve();
  const { run, until, live, now } = await scriptedRun(sleeve, store);
  storage.trouble = FULL;
  const feedOfSec = async (seconds: number): Promise<string> => {
    await run(8);
    sleeve.mouth = 'sucking';
    await until((view) => view.feedState === 'open');
    await run(seconds);
    sleeve.mouth = 'out';
    live.command({ kind: 'end-feed' });
    return now().feedId!;
  };
  const first = await feedOfSec(12);
  const second = await feedOfSec(6);
  expect(now().unkept).toEqual([first, second]);
  live.command({ kind: 'discard-feed' });
  storage.trouble = null;
  expect(live.keepRest()).toBe(true);
  expect(store.list({ discarded: true }).map(({ id, state }) => [id, state])).toEqual([
    [second, 'discarded'],
    [first, 'ended'],
  ]);
  for (const id of [first, second]) {
    const { bytes } = readCapture(store.capturePath(id)!);
    const { result } = replay([bytes], { calibration: sleeve.calibration, portionMl: null });
    expect(store.get(id)!.rows.map(({ atSec }) => Number(atSec.toFixed(4)))).toEqual(result.live.atSec);
  }
});

it('a mistake of the program itself is not taken for the disk’s', async () => {
  const { live, now, run, store } = await onFailingDisk();
  await run(LATCH_SEC + 2);
  expect(now().feedState).toBe('open');
  store.append = () => {
    throw new TypeError('no such thing');
  };
  expect(() => live.keepRest()).toThrow(TypeError);
});
