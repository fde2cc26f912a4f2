/** A sleeve swapped within a feed: the feed is over and kept with its own calibration, the next one goes by the other's. */
import { describe, expect, it } from 'vitest';
import { liveRun, RUN_STARTS_MS } from '../support/live-run.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';

describe('another sleeve', () => {
  it('ends the open feed and takes over with its own calibration', async () => {
    const sleeve = createScriptedSleeve();
    const { run, until, live, storage } = await liveRun(sleeve, { calibration: sleeve.calibration });
    await run(8);
    sleeve.mouth = 'sucking';
    await until((view) => view.teatInMouth);
    await run(5);
    storage.full = true;
    const other = { ...sleeve.calibration, sleeveId: 'nursery', calibratedAt: '2026-01-04T09:00:00Z' };
    live.changeSleeve({ calibration: other, sleeveId: '12' });
    storage.full = false;
    sleeve.mouth = 'out';
    await run(8);
    sleeve.mouth = 'sucking';
    await until((view) => view.teatInMouth);
    await run(3);
    const [first, second] = storage.feeds;
    // This holds too where the disk took the feed only after the swap.
    expect(first).toMatchObject({ calibration: sleeve.calibration, summary: { sleeveId: 'bench-1' } });
    expect(first!.end).toMatchObject({ endReason: 'link-ended' });
    expect(first!.end!.endedAtMs).toBeGreaterThan(RUN_STARTS_MS);
    expect(second).toMatchObject({ calibration: other, end: null, summary: { sleeveId: '12' } });
  });

  it('that nothing is known of ends the feed, and says so', async () => {
    const sleeve = createScriptedSleeve();
    const { run, until, live, storage } = await liveRun(sleeve, { calibration: sleeve.calibration });
    await run(8);
    sleeve.mouth = 'sucking';
    await until((view) => view.teatInMouth);
    live.changeSleeve(null);
    expect(storage.only.end).toMatchObject({ endReason: 'link-ended' });
  });
});
