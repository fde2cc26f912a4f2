/** Live feeds to begin a test with, in virtual time. */
import { expect } from 'vitest';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { replay } from '../../src/feed/replay.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { createCapturedSleeve } from './captured-sleeve.ts';
import { readFixture } from './captures.ts';
import { liveRun } from './live-run.ts';
import { type FakeFeed, keptBytes, keptCues, keptEvents, keptRows } from './memory-storage.ts';
import { createScriptedSleeve } from './scripted-sleeve.ts';

/** A scripted sleeve on a live feed, weighed and ready. */
export async function scripted() {
  const sleeve = createScriptedSleeve();
  const run = await liveRun(sleeve, { calibration: sleeve.calibration });
  const sent: Uint8Array[] = [];
  run.link.bytes$.subscribe((bytes) => sent.push(bytes));
  await run.run(8);
  /** Ten samples a second: enough for a bottle that stands on a table. */
  const stand = async (seconds: number) => {
    sleeve.mouth = 'out';
    sleeve.samplesPerSec = 10;
    await run.run(seconds);
    sleeve.samplesPerSec = 80;
  };
  const latch = async () => {
    sleeve.mouth = 'sucking';
    await run.until((view) => view.teatInMouth);
  };
  return { ...run, sleeve, sent, stand, latch, now: () => run.view };
}

/** A feed with cues: the first 90 s of the poured one. */
export async function poured({ speed = 1 } = {}) {
  const { bytes, calibration } = readFixture('poured');
  const run = await liveRun(createCapturedSleeve(bytes), { calibration, speed });
  return { ...run, now: () => run.view };
}
/** To wait for something shown. */
export const showing = (kind: LiveView['showing']) => (view: LiveView) => view.showing === kind;

/** What was stored equals a replay of the stored bytes: nothing lost, nothing twice. */
export function expectWhole(feed: FakeFeed, calibration: Calibration): void {
  const { result } = replay([keptBytes(feed)], { calibration, portionMl: feed.summary.setup.portionMl });
  expect(keptRows(feed).map(({ atSec }) => Number(atSec.toFixed(4)))).toEqual(result.live.atSec);
  expect(keptRows(feed).map(({ intakeMl }) => Number(intakeMl.toFixed(3)))).toEqual(result.live.intakeMl);
  expect(keptCues(feed)).toEqual(result.cues);
  expect(keptEvents(feed).filter(({ kind }) => !/^link|^guidance/.test(kind))).toEqual(result.events);
}
