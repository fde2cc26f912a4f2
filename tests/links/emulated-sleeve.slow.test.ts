import { firstValueFrom, skip } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { createSleeveBoard } from '../../firmware-bridge/board.ts';
import { EmulatedSleeve, type EmulatedSleeveOptions } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { surroundingsOf } from '../../firmware-bridge/links/emulated-surroundings.ts';
import { hello } from '../../firmware-bridge/links/hello.ts';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createScanner, type Motion, type Sample, scan } from '../../firmware-bridge/wire/index.ts';
import { DEFAULT_SCENARIO } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { hardships } from '../support/hardships.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

const RESTING: EmulatedSleeveOptions = {
  surroundings: { at: () => ({ cells: [1, 2, 3], accelerometer: [0, 0, 8192], buttonDown: false }) },
};

describe('a johnny-five board on the emulated chip', () => {
  async function boardOn(options: EmulatedSleeveOptions = RESTING) {
    const clock = createVirtualClock();
    const sleeve = new EmulatedSleeve(options);
    const link = createSimulatedLink(sleeve, { label: 'emulated sleeve' }, clock.scheduler);
    const board = createSleeveBoard(link, {}, clock.scheduler);
    await link.open();
    return { clock, sleeve, link, board };
  }

  it('becomes ready, and its light can be read off the pins', async () => {
    const { clock, sleeve, board } = await boardOn();
    await clock.advance(1000);
    await board.ready;
    board.heartbeat(true);
    board.setLight({ red: 255, green: 96, blue: 16 });
    board.sound({ frequencyHz: 440, onMs: 180, offMs: 160, repeats: 2 });
    await clock.advance(100);
    expect(sleeve.light()).toEqual({ red: 255, green: 96, blue: 16 });
    expect(sleeve.buzzerHz).toBeCloseTo(440, 0);
    board.setLight({ red: 0, green: 0, blue: 0 });
    await clock.advance(100);
    expect(sleeve.light()).toEqual({ red: 0, green: 0, blue: 0 });
    board.close();
  });

  it('hears the button', async () => {
    let down = false;
    const { clock, board } = await boardOn({
      surroundings: { at: () => ({ ...RESTING.surroundings.at(0), buttonDown: down }) },
    });
    const heard: boolean[] = [];
    // The library holds presses back for 7 ms of its own clock, so this waits for the event.
    const next = async (): Promise<unknown> =>
      heard.push(await firstValueFrom(board.button$.pipe(skip(heard.length > 0 ? 1 : 0))));
    await clock.advance(1000);
    down = true;
    const pressed = next();
    await clock.advance(200);
    await pressed;
    down = false;
    const released = next();
    await clock.advance(200);
    await released;
    expect(heard).toEqual([true, false]);
    board.close();
  });

  it('puts the light right again after a reset in mid-feed', async () => {
    const { clock, sleeve, board } = await boardOn();
    await clock.advance(1000);
    board.heartbeat(true);
    board.setLight({ red: 6, green: 4, blue: 1 });
    await clock.advance(100);
    sleeve.reset('external');
    await clock.advance(300);
    board.heartbeat(true);
    await clock.advance(100);
    expect(sleeve.light()).toEqual({ red: 6, green: 4, blue: 1 });
    board.close();
  });

  it('and a second one in the same process, with a sleeve of its own', async () => {
    const both = [await boardOn(), await boardOn()];
    for (const { clock } of both) await clock.advance(1000);
    both.forEach(({ board }, i) => {
      board.heartbeat(true);
      board.setLight({ red: 10 + i, green: 0, blue: 0 });
    });
    for (const { clock } of both) await clock.advance(50);
    expect(both.map(({ sleeve }) => sleeve.light().red)).toEqual([10, 11]);
    for (const { board } of both) board.close();
  });
});

it('tells its number when greeted', async () => {
  const clock = createVirtualClock();
  const sleeve = new EmulatedSleeve({ ...RESTING, sleeveNumber: 77 });
  const link = createSimulatedLink(sleeve, {}, clock.scheduler);
  await link.open();
  const greeted = firstValueFrom(hello(link, {}, clock.scheduler));
  await clock.advance(500);
  expect(await greeted).toMatchObject({ sleeveNumber: 77, contractVersion: 2 });
});

it('hands on a simulated feed to the count', () => {
  const feed = createSimulatedFeed({ scenario: DEFAULT_SCENARIO, seed: 5 });
  const given: Sample[] = [];
  const sleeve = new EmulatedSleeve({
    surroundings: surroundingsOf({
      get nextSec() {
        return feed.nextSec;
      },
      step() {
        const { sample } = feed.step();
        if (sample) given.push(sample);
        return { sample };
      },
    }),
  });
  const heard: Sample[] = [];
  const scanner = createScanner();
  for (let atSec = 0.25; atSec <= 5; atSec += 0.25) {
    scan(scanner, sleeve.advance(atSec), { sample: (sample) => heard.push(sample) });
  }
  const first = given.findIndex(({ cells }) => cells.every((count, i) => count === heard[0]!.cells[i]));
  expect(first).toBeGreaterThanOrEqual(0);
  expect(heard.length).toBeGreaterThan(390);
  heard.forEach(({ cells }, i) => {
    expect(cells).toEqual(given[first + i]!.cells);
  });
  // The accelerometer is read 200 times a second: the latest step, or the one before.
  heard.slice(30).forEach(({ accelerometer }, i) => {
    const near = given.slice(first + i + 29, first + i + 31).map(({ accelerometer: axes }) => axes.join());
    expect(near).toContain(accelerometer.join());
  });
});

it('hands on how a simulated feed turns, as its gyroscope shows it', () => {
  const overrides = hardships('a real hand, gyroscope');
  const feed = createSimulatedFeed({ scenario: DEFAULT_SCENARIO, seed: 5, overrides });
  const given: Motion['gyroscope'][] = [];
  const sleeve = new EmulatedSleeve({
    surroundings: surroundingsOf({
      get nextSec() {
        return feed.nextSec;
      },
      step() {
        const step = feed.step();
        if (step.motion) given.push(step.motion.gyroscope);
        return step;
      },
    }),
  });
  const heard: Motion[] = [];
  const scanner = createScanner();
  for (let atSec = 0.25; atSec <= 6; atSec += 0.25) {
    scan(scanner, sleeve.advance(atSec), { sample: () => {}, motion: (motion) => heard.push(motion) });
  }
  // 80 a second, less what the chip needs to start.
  expect(heard.length).toBeGreaterThan(450);
  // The bottle is lifted from 3.5 s on: then the rates are large, and no two readings are the same.
  const turning = heard.slice(-160).map(({ gyroscope }) => gyroscope);
  expect(new Set(turning.map((axes) => axes.join())).size).toBeGreaterThan(150);
  // The emulated chip varies the last digit.
  const near = (a: Motion['gyroscope'], b: Motion['gyroscope']) =>
    a.every((count, i) => Math.abs(count - b[i]!) <= 1);
  for (const shown of turning) expect(given.some((axes) => near(axes, shown))).toBe(true);
});

it('lets the one who looks see light and tones 20 times a second of device time', () => {
  const looks: number[] = [];
  const sleeve = new EmulatedSleeve({
    ...RESTING,
    onLook: ({ atSec, light }) => looks.push(atSec, light.red),
  });
  sleeve.advance(1);
  expect(looks.length / 2).toBe(21);
  expect(looks.filter((_, i) => i % 2 === 1).slice(1, 4)).toEqual([24, 24, 24]);
});

it('ends when what is around it is over', () => {
  let over = false;
  const sleeve = new EmulatedSleeve({ ...RESTING, isOver: () => over });
  expect(sleeve.ended).toBe(false);
  over = true;
  expect(sleeve.ended).toBe(true);
});

it('unplugged it runs on: nothing is heard of it, and it hears nothing', () => {
  const sleeve = new EmulatedSleeve(RESTING);
  sleeve.advance(0.5);
  sleeve.unplug();
  expect(sleeve.advance(1)).toHaveLength(0);
  sleeve.receive(Uint8Array.of(0xf9));
  sleeve.plugIn();
  expect(Buffer.from(sleeve.advance(1.1)).toString('hex')).not.toContain('f90205');
});
