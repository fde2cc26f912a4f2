/** Hours of feeds one after another on the code that runs live, in virtual time: memory flat, handles constant, nothing piles up on the clock. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, onTestFinished, test } from 'vitest';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import { openStore } from '../../src/store/feed-store.ts';
import { createPlainClock } from '../support/plain-clock.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** A day by hand: EBBLINE_SOAK_HOURS=24. */
const HOURS = Number(process.env.EBBLINE_SOAK_HOURS ?? 1);
const FEED_MIN = 5;

setFlagsFromString('--expose_gc');
const collect = runInNewContext('gc') as () => void;

function used(waiting: number) {
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  const handles = process.platform === 'linux' ? fs.readdirSync('/proc/self/fd').length : 0;
  return { bytes: heapUsed + arrayBuffers, handles, waiting };
}

test(`${HOURS} h of feeds leave memory, handles and clock as they were`, async () => {
  const clock = createPlainClock();
  const sleeve = createScriptedSleeve();
  const store = openStore(join(temporaryFolder(), 'data'), { recording: true, packsLater: true });
  onTestFinished(() => store.close());
  const link = createSimulatedLink(sleeve, {}, clock.scheduler);
  let feeds = 0;
  const live = createLiveFeed(
    {
      link,
      calibration: sleeve.calibration,
      keeper: store,
      outputs: { setLight: () => {}, sound: () => {}, heartbeat: () => {} },
      newFeedId: () => `feed-${++feeds}`,
      wallNowMs: () => Date.UTC(2026, 0, 5) + clock.nowMs,
      simulated: true,
      sleeveId: 'bench-1',
      refinesLater: true,
    },
    clock.scheduler,
  );
  await link.open();
  const rounds = Math.round((HOURS * 60) / FEED_MIN);
  const seen: ReturnType<typeof used>[] = [];
  for (let round = 0; round < rounds; round++) {
    sleeve.milkMl = 90;
    sleeve.mouth = 'out';
    await clock.advance(10_000);
    sleeve.mouth = 'sucking';
    await clock.advance((FEED_MIN * 60 - 10) * 1000);
    live.command({ kind: 'end-feed' });
    seen.push(used(clock.waiting));
  }
  live.stop();
  await link.close();
  expect(feeds).toBe(rounds);
  // From when all is compiled and every cache is filled.
  const [early, late] = [seen[Math.floor(rounds / 3)]!, seen.at(-1)!];
  console.log(
    `soak: ${rounds} feeds, ${(early.bytes / 1e6).toFixed(1)} MB after a third, ${(late.bytes / 1e6).toFixed(1)} MB at the end, ${late.handles} handles`,
  );
  expect(late.bytes).toBeLessThan(early.bytes * 1.1);
  expect(late.handles).toBe(early.handles);
  expect(late.waiting).toBeLessThanOrEqual(early.waiting);
});
