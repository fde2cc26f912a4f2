/** Turning a sleeve on to guide alone, and fetching what it kept, between the host's own code and the emulated chip. */
import { describe, expect, it } from 'vitest';
import { EmulatedSleeve } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { createSimulatedLink, type SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { aloneBlock } from '../../src/app/sleeve/alone-block.ts';
import { type AloneTalk, aloneTalk } from '../../src/app/sleeve/alone-talk.ts';
import { fetchAloneFeeds } from '../../src/app/sleeve/fetched-alone.ts';
import { aloneFeeds } from '../../src/calibration/alone/kept-feeds.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';
import { keepOwner, PACED } from '../support/alone-sleeve.ts';
import { readFixture } from '../support/captures.ts';
import { accelerometerAt, cellsAt } from '../support/emulated.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

const { calibration } = readFixture('calm');

const resting = (buttonDown: () => boolean = () => false) =>
  new EmulatedSleeve({
    sleeveNumber: 7,
    surroundings: {
      at: (atSec) => ({
        cells: cellsAt(atSec),
        accelerometer: accelerometerAt(atSec),
        buttonDown: buttonDown(),
      }),
    },
  });

async function on(sleeve: SleeveModel) {
  const clock = createVirtualClock();
  const link = createSimulatedLink(sleeve, { label: 'a sleeve' }, clock.scheduler);
  await link.open();
  await clock.advance(500);
  const asked = async <T>(owner: number, act: (talk: AloneTalk) => Promise<T>): Promise<T> => {
    const answer = act(aloneTalk(link, owner, clock.scheduler));
    let settled = false;
    const note = () => {
      settled = true;
    };
    answer.then(note, note);
    for (let i = 0; i < 400 && !settled; i++) await clock.advance(50);
    return answer;
  };
  return { asked };
}

const block = (sleeveNumber = 7) => aloneBlock(calibration, PACED, { sleeveNumber, generation: 1 });

describe('the host and a sleeve that can guide alone', () => {
  it('turns it on and off, and has read back what it keeps', async () => {
    const { asked } = await on(resting());
    await asked(5, (talk) => talk.turnOn(block()));
    expect((await asked(5, (talk) => talk.state())).flags & 3).toBe(3);
    await asked(5, (talk) => talk.turnOff());
    expect((await asked(5, (talk) => talk.state())).flags & 3).toBe(1);
    expect(aloneFeeds(await asked(5, (talk) => talk.fetchFeeds()))).toEqual([]);
  });

  it('says in words why a sleeve refuses, and whose it is', async () => {
    let isDown = false;
    const { asked } = await on(resting(() => isDown));
    await expect(asked(5, (talk) => talk.turnOn(block(8)))).rejects.toThrow(/made for another sleeve/);
    await asked(5, (talk) => talk.turnOn(block()));
    await expect(asked(6, (talk) => talk.turnOff())).rejects.toThrow(/belongs to another computer/);
    isDown = true;
    await asked(6, (talk) => talk.turnOn(block()));
    await expect(asked(5, (talk) => talk.turnOff())).rejects.toThrow(/belongs to another computer/);
  });

  it('says of an older sleeve that it does not answer', async () => {
    const { asked } = await on(new SimulatedSleeve({ feed: { scenario: 'paced', seed: 1 } }));
    await expect(asked(5, (talk) => talk.state())).rejects.toThrow(/does not say whether it can guide alone/);
  });
});

describe('at the next start of the host', () => {
  it('what the sleeve kept is fetched and kept once, however often the host starts', async () => {
    let kept: unknown = null;
    const store = {
      readAloneFeeds: () => kept,
      writeAloneFeeds: (feeds: unknown) => {
        kept = JSON.parse(JSON.stringify(feeds));
      },
    };
    const told: number[] = [];
    for (const owner of [6, null, 5, 5]) {
      const sleeve = resting();
      const { memory } = sleeve.chip.eeprom;
      keepOwner(memory, 5);
      memory.set([...checked([0, 2, 1, 0, 0x70, 0x06, 2]), 103, 206], 464);
      sleeve.reset('power');
      const clock = createVirtualClock();
      const link = createSimulatedLink(sleeve, { label: 'a sleeve' }, clock.scheduler);
      const fetching = fetchAloneFeeds({
        link,
        owner,
        store,
        wallNowMs: () => 1234,
        onKept: (added) => told.push(added),
        scheduler: clock.scheduler,
      });
      await link.open();
      for (let i = 0; i < 200; i++) await clock.advance(50);
      fetching.unsubscribe();
      await link.close();
    }
    expect(told).toEqual([1]);
    expect(kept).toMatchObject([
      { sleeveId: '7', fetchedAtMs: 1234, tooFast: 2, burps: 1, perMinuteMl: [25, 50] },
    ]);
  });
});

/** A head with its check byte. */
const checked = (head: number[]) => [...head, (0x5a - head.reduce((sum, byte) => sum + byte, 0)) & 0xff];

describe('kept feeds', () => {
  it('that were torn keep their whole minutes, and say nothing of cues; torn before the first minute there is none', () => {
    const bytes = new Uint8Array(540).fill(0xff);
    bytes.set([3, 2, 1, 0, 0xff, 0xff, 2, 0, 103, 206], 0);
    bytes.set([4, 2], 54);
    expect(aloneFeeds(bytes)).toMatchObject([
      { serial: 3, tooFast: null, burps: null, perMinuteMl: [25, 50] },
    ]);
    expect(aloneFeeds(bytes)[0]!.intakeMl).toBeCloseTo(75, 6);
  });

  it('are told oldest first, over the wrap of their numbers, with what is uncertain', () => {
    const bytes = new Uint8Array(540).fill(0xff);
    const put = (place: number, serial: number, minutes: number[]) =>
      bytes.set(
        [...checked([serial, 2, 1, 0, (824 * 2) & 0xff, (824 * 2) >> 8, minutes.length]), ...minutes],
        place * 54,
      );
    put(9, 249, [103, 206]);
    put(0, 0, [4]);
    const feeds = aloneFeeds(bytes);
    expect(feeds.map(({ serial }) => serial)).toEqual([249, 0]);
    expect(feeds[0]).toMatchObject({ tooFast: 2, burps: 1 });
    // 824·2/16 g is 103 g: 100 mL.
    expect(feeds[0]!.intakeMl).toBeCloseTo(100, 6);
    expect(feeds[0]!.perMinuteMl).toEqual([25, 50]);
    expect(feeds[0]!.intakeSdMl).toBeGreaterThan(5);
  });
});
