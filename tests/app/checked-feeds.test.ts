/** The check at every feed beside a live feed, over the bytes of a simulated sleeve in virtual time. */
import { config } from 'rxjs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { historyText } from '../../src/app/calibration/kept-calibrations.ts';
import { checkedFeeds, keptHistory } from '../../src/app/sleeve/checked-feeds.ts';
import { PlainError } from '../../src/base/errors.ts';
import { drawnCountsPerGram, EXAMPLE_DESIGN } from '../../src/calibration/walk/sleeve-design.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { liveRun } from '../support/live-run.ts';

const historyStore = (kept: unknown = null) => ({
  kept,
  readCalibrationHistories() {
    return this.kept;
  },
  writeCalibrationHistories(history: unknown) {
    this.kept = JSON.parse(JSON.stringify(history));
  },
});

/** The calibration of the simulated sleeve, with the front cell's zero off by `frontGrams`. */
function calibrationOf(sleeve: SimulatedSleeve, frontGrams: number): Calibration {
  const content = structuredClone(sleeve.feed.calibration);
  content.zeroCounts[1] += frontGrams * drawnCountsPerGram(EXAMPLE_DESIGN)[1]!;
  return parseCalibration(content, 'of the simulated sleeve');
}

async function watched(frontGrams: number, store: ReturnType<typeof historyStore>) {
  const sleeve = new SimulatedSleeve({ feed: { scenario: 'paced', seed: 1 } });
  const calibration = calibrationOf(sleeve, frontGrams);
  const run = await liveRun(sleeve, { calibration });
  const history = keptHistory(store, 'bench-1', calibration);
  const live = checkedFeeds(run.live, {
    link: run.link,
    calibration,
    history,
    learns: false,
    wallNowMs: () => run.clock.nowMs,
  });
  let view: LiveView | null = null;
  live.view$.subscribe((next) => {
    view = next;
  });
  return { run, live, history, calibration, seen: () => view! };
}

describe('beside a live feed', () => {
  it('a history that cannot be read when the feed ends loses one entry, and nothing else stops', async () => {
    const store = historyStore();
    const { run, live } = await watched(0, store);
    await run.until(({ feedState }) => feedState === 'open', 30);
    await run.run(20);
    store.readCalibrationHistories = () => {
      throw new PlainError('store-away', 'The disk does not answer.', 'Connect it again.');
    };
    const faults: unknown[] = [];
    config.onUnhandledError = (error) => faults.push(error);
    onTestFinished(() => {
      config.onUnhandledError = null;
    });
    live.stop();
    await new Promise((resolve) => setTimeout(resolve));
    expect(faults).toEqual([]);
    expect(run.view.feedState).toBe('ended');
  });

  it('says nothing of a sleeve that is as it was calibrated, and keeps the check with the feed', async () => {
    const store = historyStore();
    const { run, live, history, seen } = await watched(0, store);
    await run.until(({ feedState }) => feedState === 'open', 30);
    expect(seen().calibration ?? null).toBeNull();
    await run.run(20);
    live.stop();
    expect(history.read().checks).toMatchObject([
      { verdict: 'good', inSleeve: 'bottle', feedId: null },
      { verdict: 'good', inSleeve: 'bottle', feedId: 'feed-1' },
    ]);
  });

  it('says before the feed and in it that the zero has moved far, and says it at once the next time', async () => {
    const store = historyStore();
    const first = await watched(10, store);
    await first.run.run(4.5);
    expect(first.seen()).toMatchObject({ feedState: 'none', calibration: 'zero-far' });
    await first.run.until(({ feedState }) => feedState === 'open', 30);
    await first.run.run(1);
    expect(first.seen()).toMatchObject({ feedState: 'open', calibration: 'zero-far' });
    first.live.stop();

    const next = await watched(10, store);
    await next.run.run(0.3);
    expect(next.seen().calibration).toBe('zero-far');
    expect(historyText(next.calibration, next.history.read(), '2026-01-06')).toMatch(
      /The cells have moved by about .* Calibrate again/,
    );
    next.live.stop();

    // A new calibration begins with an empty list of checks.
    const anew = await watched(0, store);
    const fresh = { ...anew.calibration, calibratedAt: '2026-02-01T00:00:00Z' };
    expect(keptHistory(store, 'bench-1', fresh).read().checks).toEqual([]);
    anew.live.stop();
  });

  it('is silent in a feed where the cues can still be gone by', async () => {
    const { run, live, seen } = await watched(4, historyStore());
    await run.run(4.5);
    expect(seen()).toMatchObject({ feedState: 'none', calibration: 'zero-moved' });
    await run.until(({ feedState }) => feedState === 'open', 30);
    await run.run(1);
    expect(seen().calibration).toBeNull();
    live.stop();
  });

  it('loses no feed to a disk that is full', async () => {
    const full = {
      readCalibrationHistories: () => null,
      writeCalibrationHistories(): void {
        throw new PlainError('store-full', 'The disk is full.', 'Make room.');
      },
    };
    const sleeve = new SimulatedSleeve({ feed: { scenario: 'paced', seed: 1 } });
    const calibration = calibrationOf(sleeve, 10);
    const run = await liveRun(sleeve, { calibration });
    const live = checkedFeeds(run.live, {
      link: run.link,
      calibration,
      history: keptHistory(full, 'bench-1', calibration),
      learns: false,
      wallNowMs: () => 0,
    });
    await run.until(({ feedState }) => feedState === 'open', 30);
    await run.run(2);
    live.stop();
    expect(run.view.feedState).toBe('ended');
  });
});
