/** Feeds with a story in which the sleeve or its bottle differs from the calibration. */
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { checkedFeeds, keptHistory } from '../../src/app/sleeve/checked-feeds.ts';
import { drawnCountsPerGram, EXAMPLE_DESIGN } from '../../src/calibration/walk/sleeve-design.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { scripted, showing } from './live-feeds.ts';
import { type LiveRun, liveRun, RUN_STARTS_MS } from './live-run.ts';
import { MemoryStorage } from './memory-storage.ts';
import { FOR_WREN, guideOf, inFeed, out, type Story, simulated, teller, WREN } from './story-tools.ts';

/** A small bottle is emptied, and another one is put in. */
export async function secondBottle(): Promise<Story> {
  const run = await simulated('second-bottle');
  const { take, story } = teller(run);
  await run.until(inFeed, 60);
  await run.until((view) => out(view) && (view.numbers.intakeMl ?? 0) > 36, 900);
  take('first-bottle-out');
  await run.until(
    () =>
      run.storage.feeds[0]?.parts.some(({ events }) => events.some(({ kind }) => kind === 'refill')) ?? false,
    120,
  );
  take('second-bottle-in');
  await run.until((view) => inFeed(view) && view.showing !== 'cannot-tell', 120);
  take('goes-on');
  return story();
}

/** At the calibration one cell's zero differed by 10 g. */
export async function wrongCalibration(): Promise<Story> {
  const sleeve = new SimulatedSleeve({ feed: { scenario: 'paced', seed: 1 } });
  const content = structuredClone(sleeve.feed.calibration);
  content.zeroCounts[1] += 10 * drawnCountsPerGram(EXAMPLE_DESIGN)[1]!;
  const calibration = parseCalibration(content, 'of the simulated sleeve');
  const run = await liveRun(sleeve, {
    calibration,
    storage: (clock) => {
      const storage = new MemoryStorage(() => clock.nowMs);
      storage.setup = FOR_WREN;
      return storage;
    },
    guide: guideOf([WREN]),
  });
  let kept: unknown = null;
  const store = {
    readCalibrationHistories: () => kept,
    writeCalibrationHistories: (history: unknown) => {
      kept = structuredClone(history);
    },
  };
  const live = checkedFeeds(run.live, {
    link: run.link,
    calibration,
    history: keptHistory(store, 'bench-1', calibration),
    learns: false,
    wallNowMs: () => RUN_STARTS_MS + run.clock.nowMs,
  });
  const views: LiveRun['views'] = [];
  live.view$.subscribe((view) => views.push({ atMs: run.clock.nowMs, view }));
  const { take, story } = teller({ views });
  await run.until(
    () => views.at(-1)!.view.calibration === 'zero-far' && views.at(-1)!.view.showing === 'waiting',
    20,
  );
  take('before');
  await run.until(inFeed, 30);
  await run.run(30);
  take('in-the-feed');
  run.live.command({ kind: 'end-feed' });
  await run.run(2);
  take('ended');
  live.stop();
  return story();
}

/** During a feed one cell falls silent, then the accelerometer fails, then both come back. */
export async function doubt(): Promise<Story> {
  const run = await scripted();
  const { sleeve } = run;
  const { take, story } = teller(run);
  await run.latch();
  await run.run(20);
  sleeve.faults = SAMPLE_FLAGS.frontCellFault;
  await run.run(10);
  take('a-cell-is-silent');
  sleeve.faults = SAMPLE_FLAGS.accelerometerFault;
  await run.until(showing('cannot-tell'), 20);
  take('cannot-tell');
  sleeve.faults = 0;
  await run.until((view) => view.showing !== 'cannot-tell', 60);
  take('back');
  return story();
}
