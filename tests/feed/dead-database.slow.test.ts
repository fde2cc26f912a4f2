/** The connection to the database dies for good while a feed runs, and none can be opened for half an hour. */
import { expect, it } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { replay } from '../../src/feed/replay.ts';
import { CUES } from '../../src/pacing/cues/cues.ts';
import { DATABASE_CALLS } from '../support/failing-storage.ts';
import { failingStore } from '../support/failing-store.ts';
import { liveRun } from '../support/live-run.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';

it('a database that is dead for half an hour: cues come, it is said, and all is kept once it can be opened again', async () => {
  const { storage, store } = failingStore();
  const sleeve = createScriptedSleeve();
  sleeve.samplesPerSec = 40;
  sleeve.milkMl = 150;
  const whole = await liveRun(sleeve, { calibration: sleeve.calibration, storage: () => store });
  const { run, until, live } = whole;
  const now = () => whole.view;
  await run(5);
  sleeve.mouth = 'sucking';
  await until((view) => view.feedState === 'open');
  storage.trouble = { calls: DATABASE_CALLS, code: 'SQLITE_NOTADB' };
  for (let minute = 0; minute < 31; minute++) {
    // In one minute the baby sucks fast enough for a cue.
    sleeve.mlPerSuck = minute === 15 ? 0.4 : 0.05;
    await run(60);
    expect(now()).toMatchObject({
      feedState: 'open',
      notice: expect.stringContaining('not an Ebbline database'),
    });
    expect(now().noticeCodes).not.toContain('raw-lost');
  }
  expect(whole.views.some(({ view }) => view.showing in CUES)).toBe(true);
  expect(storage.failures).toBeGreaterThanOrEqual(31 * 60);
  storage.trouble = null;
  await run(2.5);
  expect(now().notice).toBeNull();
  live.command({ kind: 'end-feed' });
  const feed = store.get(now().feedId!)!;
  const { bytes } = readCapture(store.capturePath(feed.id)!);
  const { result } = replay([bytes], { calibration: sleeve.calibration, portionMl: null });
  expect(feed.rows.map(({ atSec }) => Number(atSec.toFixed(4)))).toEqual(result.live.atSec);
  expect(feed.cues).toEqual(result.cues);
  expect(feed.cues.some(({ atSec }) => atSec > 60 && atSec < 1800)).toBe(true);
});
