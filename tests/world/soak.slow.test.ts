/** Hours of feeds one after another on the code that runs live, in virtual time: memory flat, handles constant, nothing piles up on the clock. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { createPlainClock } from '../support/plain-clock.ts';
import { soak } from '../support/soak.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** A day by the real clock: npm run bench soak. */
const HOURS = Number(process.env.EBBLINE_SOAK_HOURS ?? 1);
const FEED_MIN = 5;

test(`${HOURS} h of feeds leave memory, handles and clock as they were`, async () => {
  const clock = createPlainClock();
  const { seen, kept } = await soak({
    folder: join(temporaryFolder(), 'data'),
    hours: HOURS,
    feedMin: FEED_MIN,
    samplesPerSec: 80,
    speed: 1,
    scheduler: clock.scheduler,
    waiting: () => clock.waiting,
    pass: (sec) => clock.advance(sec * 1000),
  });
  expect(kept).toBe(Math.round((HOURS * 60) / FEED_MIN));
  // From when all is compiled and every cache is filled.
  const [early, late] = [seen[Math.floor(seen.length / 3)]!, seen.at(-1)!];
  console.log(
    `soak: ${kept} feeds, ${(early.bytes / 1e6).toFixed(1)} MB after a third, ${(late.bytes / 1e6).toFixed(1)} MB at the end, ${late.handles} handles`,
  );
  expect(late.bytes).toBeLessThan(early.bytes * 1.1);
  expect(late.handles).toBe(early.handles);
  expect(late.waiting).toBeLessThanOrEqual(early.waiting);
});
