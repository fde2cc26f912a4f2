/** A live feed and the replay of the capture that it kept say the same: same rows, same cues, same events. */
import { map } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { boardOutputs } from '../../src/app/sleeve/board-outputs.ts';
import { cueInLight } from '../../src/feed/live/light-language.ts';
import type { FeedEvent, FeedRow } from '../../src/feed/record/feed.ts';
import { replay } from '../../src/feed/replay.ts';
import type { KeptCue } from '../../src/pacing/cues/cue.ts';
import { kindOf } from '../../src/pacing/cues/shown-cues.ts';
import { feedGraphSvg } from '../../src/review/index.ts';
import { type Calibration, parseCalibration } from '../../src/sensing/index.ts';
import { SimulatedSleeve, type SleeveOptions } from '../../src/simulation/sleeve-model.ts';
import { openStore } from '../../src/store/open-store.ts';
import { EMPTY_SETUP } from '../support/fake-live.ts';
import { liveRun } from '../support/live-run.ts';
import { keptBytes, keptCues, keptEvents, keptRows } from '../support/memory-storage.ts';
import { seededRandom } from '../support/random.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { joined } from '../support/wire.ts';

interface Kept {
  rows: FeedRow[];
  cues: KeptCue[];
  events: FeedEvent[];
}

/** Compares figures as the replay rounds them; leaves out events that are not in the capture. */
function expectSame(
  kept: Kept,
  capture: Uint8Array,
  calibration: Calibration,
  portionMl: number | null,
): void {
  const { result } = replay([capture], { calibration, portionMl });
  const { live } = result;
  expect(kept.cues).toEqual(result.cues);
  expect(kept.events.filter(({ kind }) => !/^link|^guidance/.test(kind))).toEqual(result.events);
  const rounded = (figure: number | null, digits: number) =>
    figure === null ? null : Number(figure.toFixed(digits));
  expect(kept.rows.map(({ atSec }) => rounded(atSec, 4))).toEqual(live.atSec);
  expect(kept.rows.map(({ milkMl }) => rounded(milkMl, 3))).toEqual(live.milkMl);
  expect(kept.rows.map(({ flowMlPerMin }) => rounded(flowMlPerMin, 3))).toEqual(live.flowMlPerMin);
  expect(kept.rows.map(({ intakeMl }) => rounded(intakeMl, 3))).toEqual(live.intakeMl);
  expect(kept.rows.map(({ teatInMouth }) => teatInMouth)).toEqual(live.onMouth);
}

const sleeveWith = (options: Partial<SleeveOptions> & Pick<SleeveOptions, 'feed'>) => {
  const sleeve = new SimulatedSleeve(options);
  return { sleeve, calibration: parseCalibration(sleeve.feed.calibration, 'simulated') };
};

describe('live and replayed', () => {
  it('agree through board, light, a caregiver who follows it, and the store on disk', async () => {
    const { sleeve, calibration } = sleeveWith({
      feed: { scenario: 'hurried-start', seed: 1, follows: true },
      perceive: (light) => cueInLight(light),
    });
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true, softwareVersion: 'test' });
    const { live, run, said } = await liveRun(sleeve, {
      calibration,
      speed: 4,
      storage: () => store,
      outputs(link, clock) {
        const board = createSleeveBoard(link, {}, clock.scheduler);
        return boardOutputs(board);
      },
    });
    live.command({ kind: 'setup', setup: { ...EMPTY_SETUP, portionMl: 30 } });
    await run(45);
    live.command({ kind: 'end-feed' });

    const feed = store.get('feed-1')!;
    expect(feed).toMatchObject({
      state: 'ended',
      endReason: 'page',
      simulated: true,
      setup: { portionMl: 30 },
    });
    expect(feed.cues.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['tilt-down', 'burp', 'switch-side']),
    );
    expectSame(feed, readCapture(store.capturePath('feed-1')!).bytes, calibration, 30);
    // The sleeve itself heard all of it.
    expect(sleeve.received.HEARTBEAT).toBe(said.heartbeat.length);
    expect(sleeve.received.SOUND).toBe(said.sound.length);
    expect(said.sound.length).toBeGreaterThan(0);
    // No page was open, so only light and sound are recorded, and only for cues that a rule found.
    const told = feed.told!;
    expect(new Set(told.map(({ output }) => output))).toEqual(new Set(['light', 'sound']));
    expect(told.filter(({ output }) => output === 'sound')).toHaveLength(said.sound.length);
    for (const { shown, sinceSec } of told)
      expect(feed.cues.some(({ kind, atSec }) => kind === kindOf(shown) && atSec <= sinceSec)).toBe(true);
    expect(sleeve.tones.length).toBeGreaterThan(0);
    expect(sleeve.guidanceOn).toBe(true);
    // The refined totals are near the truth, and the graph of the kept feed can be drawn.
    const { truth } = sleeve.feed;
    expect(Math.abs(feed.intakeMl - truth.intakeMl)).toBeLessThan(1.5);
    expect(feedGraphSvg(feed)).toContain('Simulated feed');
    store.close();

    // Opened again, the store gives the same.
    const again = openStore(folder);
    expect(again.get('feed-1')).toEqual(feed);
    again.close();
  });

  it('agree with junk and broken frames on the line, and the cable pulled and put back', async () => {
    const { sleeve, calibration } = sleeveWith({ feed: { scenario: 'tipped-up', seed: 5 } });
    const random = seededRandom(11);
    const { link, run, live, storage } = await liveRun(sleeve, {
      calibration,
      speed: 4,
      wrap: (inner) => ({ ...inner, bytes$: inner.bytes$.pipe(map((bytes) => noisy(bytes, random))) }),
    });
    await run(12);
    link.unplug();
    await run(3);
    link.replug();
    await run(15);
    live.command({ kind: 'end-feed' });
    const feed = storage.only;
    expect(keptCues(feed).length).toBeGreaterThan(1);
    const kept = { rows: keptRows(feed), cues: keptCues(feed), events: keptEvents(feed) };
    const kinds = kept.events.map(({ kind }) => kind);
    expect(kinds).toEqual(expect.arrayContaining(['link-lost', 'link-back', 'samples-lost']));
    const { result } = replay([keptBytes(feed)], { calibration, portionMl: null });
    expect(result.frames.rejected).toBeGreaterThan(100);
    expect(result.frames.missing).toBeGreaterThan(12 * 80);
    expectSame(kept, keptBytes(feed), calibration, null);
  });

  it('agree when the chip starts anew in the middle, and drops samples', async () => {
    const { sleeve, calibration } = sleeveWith({
      feed: {
        scenario: 'tipped-up',
        seed: 6,
        overrides: { chip: { resetsAtSec: [60, 61.5], lossChance: 0.01 } },
      },
    });
    const { run, live, storage } = await liveRun(sleeve, { calibration, speed: 4 });
    await run(25);
    live.command({ kind: 'end-feed' });
    const feed = storage.only;
    const kept = { rows: keptRows(feed), cues: keptCues(feed), events: keptEvents(feed) };
    expect(kept.events.filter(({ kind }) => kind === 'chip-reset')).toHaveLength(2);
    expectSame(kept, keptBytes(feed), calibration, null);
  });
});

/** The same bytes with other traffic, beginnings of samples that were cut off, and one byte in two thousand broken. */
function noisy(bytes: Uint8Array, random: () => number): Uint8Array {
  const broken = bytes.map((byte) =>
    random() < 0.0005 ? (byte ^ (1 << Math.floor(random() * 8))) & 0xff : byte,
  );
  const before = random() < 0.1 ? bytes.subarray(0, Math.floor(random() * 20)) : new Uint8Array(0);
  const after = random() < 0.2 ? sleeveAnswers.digitalPort(0, 0x10) : new Uint8Array(0);
  return joined([before, broken, after]);
}
