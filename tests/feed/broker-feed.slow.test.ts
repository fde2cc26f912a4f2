/** A feed behind a relay and a broker has the rows, cues and events of the same capture at home, over restarts of the broker too. */
import { describe, expect, it } from 'vitest';
import type { SleeveLink } from '../../firmware-bridge/links/link.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import { replay } from '../../src/feed/replay.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { createTestBroker, noBroker } from '../support/broker.ts';
import { keptBytes, keptCues, keptEvents, keptRows, MemoryStorage } from '../support/memory-storage.ts';
import { seededRandom } from '../support/random.ts';
import { startLink, startRelay } from '../support/relayed.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { toHex } from '../support/wire.ts';

const STARTS_MS = Date.UTC(2026, 0, 5, 9, 0, 0);

describe.skipIf(noBroker !== null)(`a feed through a broker ${noBroker ?? ''}`, () => {
  it.each([
    ['hurried-start', 1],
    ['paced', 2],
  ] as const)('%s is told as at home', async (scenario, seed) => {
    const random = seededRandom(seed);
    const { bytes, calibration: made } = simulateCapture({ scenario, seed, longestSec: 400 });
    const calibration = parseCalibration(made, 'of the simulated sleeve');
    const folder = temporaryFolder();
    const broker = await createTestBroker({ folder });
    await broker.start();
    const { port } = startRelay(broker, folder);
    const there = startLink(broker);
    const followed = (link: SleeveLink) => {
      const storage = new MemoryStorage(() => 0);
      const live = createLiveFeed({
        link,
        calibration,
        storage,
        outputs: { setLight() {}, sound() {}, heartbeat() {} },
        newFeedId: () => 'one',
        wallNowMs: () => STARTS_MS,
        simulated: true,
        sleeveId: 'bench-1',
      });
      return { storage, live };
    };
    const { storage, live } = followed(there.link);
    const atHome = followed(port);
    await there.link.open();
    const parts = 4;
    for (let part = 0; part < parts; part++) {
      const [from, until] = [part, part + 1].map((one) => Math.floor((one * bytes.length) / parts));
      for (let at = from!; at < until!; ) {
        const end = Math.min(until!, at + 1 + Math.floor(random() * 3000));
        port.send(bytes.subarray(at, end));
        at = end;
      }
      if (part === 1) {
        await broker.kill();
        await broker.start();
      }
    }
    await expect.poll(() => there.length).toBe(bytes.length);
    live.stop();
    atHome.live.stop();
    expect(toHex(there.bytes)).toBe(toHex(bytes));

    const feed = storage.only;
    const home = atHome.storage.only;
    expect(keptRows(feed)).toEqual(keptRows(home));
    expect(keptCues(feed)).toEqual(keptCues(home));
    expect(toHex(keptBytes(feed))).toBe(toHex(keptBytes(home)));
    // A replay of the stored capture gives the same.
    const { result } = replay([keptBytes(feed)], { calibration, portionMl: null });
    expect(keptCues(feed)).toEqual(result.cues);
    expect(result.cues.length).toBeGreaterThan(scenario === 'paced' ? -1 : 0);
    expect(keptEvents(feed).filter(({ kind }) => !/^link|^guidance/.test(kind))).toEqual(result.events);
    const rows = keptRows(feed);
    expect(rows.length).toBeGreaterThan(500);
    const rounded = (figure: number | null, digits: number): number | null =>
      figure === null ? null : Number(figure.toFixed(digits));
    expect(rows.map(({ atSec }) => rounded(atSec, 4))).toEqual(result.live.atSec);
    expect(rows.map(({ milkMl }) => rounded(milkMl, 3))).toEqual(result.live.milkMl);
    expect(rows.map(({ intakeMl }) => rounded(intakeMl, 3))).toEqual(result.live.intakeMl);
    expect(rows.map(({ flowMlPerMin }) => rounded(flowMlPerMin, 3))).toEqual(result.live.flowMlPerMin);
  });
});
