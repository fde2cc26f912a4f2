/** A whole feed through a radio instead of a wire, with delay, loss and doubled packets: cues come, none from old data, and losses are counted. */
import { describe, expect, it } from 'vitest';
import { createCapturedSleeve } from '../support/captured-sleeve.ts';
import { liveRun } from '../support/live-run.ts';
import { keptBytes, keptCues, keptRows } from '../support/memory-storage.ts';
import { type Radio, throughRadio } from '../support/radio.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

const LONGEST_SEC = 330;
const feed = simulateCapture({
  scenario: 'tipped-up',
  seed: 3,
  longestSec: LONGEST_SEC,
  // Samples without motions, as the captured sleeve sends them.
  overrides: { sensors: { gyroscope: false } },
});

/** Time before the end of the capture, as bytes: a frame of 31 bytes 80 times a second. */
const RUN_SEC = Math.floor(feed.bytes.length / (31 * 80)) - 3;

async function feedThrough(radio: Radio | null) {
  const run = await liveRun(createCapturedSleeve(feed.bytes), {
    calibration: feed.calibration as never,
    ...(radio && { wrap: (link, clock) => throughRadio(link, clock, radio) }),
  });
  await run.run(RUN_SEC);
  return run;
}

const firstShown = ({ views }: Awaited<ReturnType<typeof feedThrough>>, what: string): number =>
  views.find(({ view }) => view.showing === what)!.atMs / 1000;

describe('a radio that loses 2 % of its packets and sends them again, up to 300 ms late', () => {
  it('gives the very feed of the wire: every byte once and in order, the same rows and cues', async () => {
    const [wire, radio] = [
      await feedThrough(null),
      await feedThrough({ seed: 1, lostShare: 0.02, resends: true, latestMs: 300 }),
    ];
    const [bytes, heard] = [wire, radio].map(({ storage }) => keptBytes(storage.only));
    // The last third of a second has not arrived yet. In both, the feed begins with the minute before the latch.
    expect(heard!.length).toBeGreaterThan(bytes!.length - 80 * 60);
    expect(Buffer.compare(heard!.subarray(0, 100_000), bytes!.subarray(0, 100_000))).toBe(0);
    const cues = keptCues(wire.storage.only);
    expect(cues.length).toBeGreaterThan(1);
    expect(keptCues(radio.storage.only)).toEqual(cues);
    expect(keptRows(radio.storage.only).slice(0, 500)).toEqual(keptRows(wire.storage.only).slice(0, 500));
    expect(radio.view.numbers.missing).toBe(wire.view.numbers.missing);
    // Shown later by the radio's delay, a third of a second at most.
    const later = firstShown(radio, 'tilt-down') - firstShown(wire, 'tilt-down');
    expect(later).toBeGreaterThanOrEqual(0);
    expect(later).toBeLessThan(0.5);
    expect(radio.views.some(({ view }) => view.feedState === 'open' && view.showing === 'no-guidance')).toBe(
      false,
    );
  });
});

describe('a radio without numbers of its own, that loses 2 % and doubles 1 %', () => {
  it.each([1, 2, 3])(
    'loses samples, which are counted; the feed goes on, and a doubled one is taken once (seed %i)',
    async (seed) => {
      const radio = await feedThrough({
        seed,
        lostShare: 0.02,
        resends: false,
        doubledShare: 0.01,
        latestMs: 300,
      });
      const { numbers } = radio.view;
      const sent = RUN_SEC * 80;
      expect(numbers.missing).toBeGreaterThan(0.005 * sent);
      expect(numbers.missing).toBeLessThan(0.06 * sent);
      expect(firstShown(radio, 'tilt-down')).toBeLessThan(120);
      const { intakeMl } = keptRows(radio.storage.only).at(-1)!;
      const { truth } = feed;
      const at = truth.atSec.findLastIndex((sec) => sec <= RUN_SEC - 1);
      expect(Math.abs(intakeMl - truth.intakeSoFarMl[at]!)).toBeLessThan(3);
    },
  );
});
