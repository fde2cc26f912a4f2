import { describe, expect, it, vi } from 'vitest';
import { createSleeveBoard, SLEEVE_PINS } from '../firmware-bridge/board.ts';
import { createFirmataListener } from '../firmware-bridge/firmata-listener.ts';
import { createSimulatedLink } from '../firmware-bridge/links/simulated-link.ts';
import {
  encodeMessage,
  type HostMessage,
  MESSAGES,
  PIN_MODES,
  SAMPLE_FLAGS,
  sleeveAnswers,
} from '../firmware-bridge/wire/index.ts';
import { createFakeSleeve, type FakeSleeve } from './support/fake-sleeve.ts';
import { createVirtualClock, type VirtualClock } from './support/virtual-clock.ts';
import { fromHex, sampleOf, streamOf, toHex } from './support/wire.ts';

async function boardOn(sleeve: FakeSleeve = createFakeSleeve(), clock: VirtualClock = createVirtualClock()) {
  const link = createSimulatedLink(sleeve, { label: 'test sleeve' }, clock.scheduler);
  const board = createSleeveBoard(link, {}, clock.scheduler);
  await link.open();
  return { sleeve, clock, link, board };
}
const GREEN = { red: 0, green: 200, blue: 0 };
const AMBER = { red: 255, green: 90, blue: 1 };
const levels = ({ levels }: FakeSleeve): (number | undefined)[] =>
  [SLEEVE_PINS.red, SLEEVE_PINS.green, SLEEVE_PINS.blue].map((pin) => levels.get(pin));
const kinds = (heard: HostMessage[]): string[] => heard.map(({ kind }) => kind);

describe('becoming ready', () => {
  it('shakes hands as a Firmata host does, and then the light is off and the button is read', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    await board.ready;
    expect(kinds(sleeve.heard).slice(0, 4)).toEqual([
      'version-query',
      'firmware-query',
      'capability-query',
      'analog-mapping-query',
    ]);
    expect(levels(sleeve)).toEqual([0, 0, 0]);
    expect(sleeve.heard).toContainEqual({ kind: 'pin-mode', pin: 4, mode: PIN_MODES.pullup });
    expect(sleeve.heard).toContainEqual({ kind: 'report-digital', port: 0, on: true });
    board.close();
  });

  it('gets there whether the link opens before or after', async () => {
    const clock = createVirtualClock();
    const sleeve = createFakeSleeve();
    const link = createSimulatedLink(sleeve, {}, clock.scheduler);
    await link.open();
    await clock.advance(3000);
    const board = createSleeveBoard(link, {}, clock.scheduler);
    await clock.advance(500);
    await board.ready;
    board.close();
  });

  it('begins anew when an answer got lost', async () => {
    const { sleeve, clock, board } = await boardOn();
    // The capability answer is never sent the first time.
    const receive = sleeve.receive.bind(sleeve);
    sleeve.receive = (bytes) => {
      sleeve.answers = bytes[1] !== 0x6b || clock.nowMs > 1000;
      receive(bytes);
      sleeve.answers = true;
    };
    await clock.advance(1500);
    expect(sleeve.levels.size).toBe(0);
    await clock.advance(1500);
    await board.ready;
    expect(levels(sleeve)).toEqual([0, 0, 0]);
    board.close();
  });

  it('fails when nothing answers, but goes on trying', async () => {
    const { sleeve, clock, board } = await boardOn();
    sleeve.answers = false;
    board.setLight(GREEN);
    const failure = expect(board.ready).rejects.toMatchObject({
      code: 'board-silent',
      message: expect.stringContaining('test sleeve'),
    });
    await clock.advance(10_100);
    await failure;
    sleeve.answers = true;
    await clock.advance(2500);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    board.close();
  });

  it('fails by close, and nobody who does not wait for it is disturbed', async () => {
    const { board } = await boardOn();
    board.close();
    board.close();
    await expect(board.ready).rejects.toMatchObject({ code: 'board-closed' });
  });
});

describe('the light', () => {
  it('goes out as three PWM levels, byte for byte', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    sleeve.received.length = 0;
    board.setLight(AMBER);
    // Firmata protocol 2.5, analog message: 0xE0 | pin, bits 0-6, bits 7-13. 255 = 7F 01, 90 = 5A 00, 1 = 01 00.
    expect(toHex(Uint8Array.from(sleeve.received))).toBe('e37f01' + 'e55a00' + 'e60100');
    board.close();
  });

  it('is sent only when it changes', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    sleeve.received.length = 0;
    board.setLight({ ...GREEN });
    expect(sleeve.received).toEqual([]);
    board.setLight(AMBER);
    board.setLight({ red: 0, green: 0, blue: 0 });
    expect(levels(sleeve)).toEqual([0, 0, 0]);
    board.close();
  });

  it('that was set before the board was ready is shown as soon as it is', async () => {
    const { sleeve, clock, board } = await boardOn();
    board.setLight(AMBER);
    await clock.advance(500);
    expect(levels(sleeve)).toEqual([255, 90, 1]);
    board.close();
  });
});

describe('our own messages', () => {
  it('carry sound, heartbeat and stream', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.heartbeat(true);
    sleeve.heard.length = 0;
    sleeve.received.length = 0;
    const sound = { frequencyHz: 880, onMs: 120, offMs: 80, repeats: 2 };
    board.sound(sound);
    board.heartbeat(true);
    board.heartbeat(false);
    board.stream(false);
    expect(sleeve.heard).toEqual([
      { kind: 'sound', ...sound },
      { kind: 'heartbeat', guidanceOn: 1 },
      { kind: 'heartbeat', guidanceOn: 0 },
      { kind: 'stream', on: 0 },
    ]);
    expect(sleeve.received.slice(0, 14)).toEqual([...encodeMessage(MESSAGES.SOUND, sound)]);
    board.close();
  });

  it('do not wait for the handshake', async () => {
    const { sleeve, board } = await boardOn();
    sleeve.heard.length = 0;
    board.heartbeat(true);
    expect(kinds(sleeve.heard)).toContain('heartbeat');
    board.close();
  });
});

describe('what the sleeve may have forgotten', () => {
  it('is sent again when the link is back', async () => {
    const { sleeve, clock, link, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    link.unplug();
    sleeve.reset();
    sleeve.heard.length = 0;
    board.setLight(AMBER);
    await clock.advance(5000);
    expect(sleeve.heard).toEqual([]);
    link.replug();
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([255, 90, 1]);
    expect(sleeve.heard).toContainEqual({ kind: 'report-digital', port: 0, on: true });
    board.close();
  });

  it('is sent again when the chip was reset on an open link', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    board.stream(false);
    sleeve.reset();
    expect(levels(sleeve)).toEqual([undefined, undefined, undefined]);
    sleeve.heard.length = 0;
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    expect(sleeve.heard).toContainEqual({ kind: 'stream', on: 0 });
    board.close();
  });

  it('is sent again when only the flag of the first sample tells of the reset', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    sleeve.levels.clear();
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([undefined, undefined, undefined]);
    sleeve.say(sleeveAnswers.sample(sampleOf(0, { flags: SAMPLE_FLAGS.firstAfterReset })));
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([0, 0, 0]);
    board.close();
  });

  it('is sent again when the reset chip only says who it is', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    sleeve.samples = false;
    sleeve.reset();
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    board.close();
  });

  it('is sent again after heartbeats had stopped, for the sleeve then shows a sign of its own', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    board.heartbeat(true);
    await clock.advance(1000);
    sleeve.levels.clear();
    board.heartbeat(true);
    expect(levels(sleeve)).toEqual([undefined, undefined, undefined]);
    await clock.advance(2500);
    board.heartbeat(true);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    board.close();
  });

  it('is sent again with the first heartbeat that guides: before it the sleeve took none', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    board.setLight(GREEN);
    for (const before of [null, false]) {
      if (before !== null) board.heartbeat(before);
      sleeve.levels.clear();
      board.heartbeat(true);
      expect(levels(sleeve)).toEqual([0, 200, 0]);
      sleeve.levels.clear();
      board.heartbeat(true);
      expect(sleeve.levels.size).toBe(0);
    }
    board.close();
  });

  it('comes late when the link is lost in the middle of the handshake', async () => {
    const { sleeve, clock, link, board } = await boardOn();
    board.setLight(GREEN);
    await clock.advance(30);
    link.unplug();
    await clock.advance(4000);
    link.replug();
    await clock.advance(500);
    await board.ready;
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    board.close();
  });
});

describe('the button', () => {
  it('is told as the Firmata library reads it', async () => {
    const { sleeve, clock, board } = await boardOn();
    const told: boolean[] = [];
    // The library holds presses back for 7 ms of its own clock, so this waits for the events.
    const next = (): Promise<void> =>
      new Promise((resolve) => {
        const listening = board.button$.subscribe((down) => {
          if (told.at(-1) === down) return;
          told.push(down);
          queueMicrotask(() => listening.unsubscribe());
          resolve();
        });
      });
    await clock.advance(500);
    sleeve.press(true);
    await clock.advance(50);
    await next();
    sleeve.press(false);
    await clock.advance(50);
    await next();
    expect(told).toEqual([true, false]);
    board.close();
  });
});

describe('whatever comes over the line', () => {
  it('a broken answer does no harm, nor does an endless one', async () => {
    const { sleeve, clock, board } = await boardOn();
    await clock.advance(500);
    // Pin state of pin 100, which is not there: the library's handler throws. Then a message without end.
    sleeve.say(fromHex('f06e640100f7'));
    sleeve.say(Uint8Array.from([0xf0, 0x71, ...new Array(5000).fill(0x20)]));
    await clock.advance(100);
    board.setLight(GREEN);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    sleeve.reset();
    await clock.advance(100);
    expect(levels(sleeve)).toEqual([0, 200, 0]);
    board.close();
  });
});

it('leaves the process as it was: no signal handler, no timer that goes on, even with the button held', async () => {
  const handlersBefore = process.listenerCount('SIGINT');
  const running = new Set<unknown>();
  const { setInterval, clearInterval } = globalThis;
  vi.stubGlobal('setInterval', (...args: Parameters<typeof setInterval>) => {
    const timer = setInterval(...args);
    running.add(timer);
    return timer;
  });
  vi.stubGlobal('clearInterval', (timer: NodeJS.Timeout) => {
    running.delete(timer);
    clearInterval(timer);
  });
  const { sleeve, clock, board, link } = await boardOn();
  await clock.advance(500);
  await board.ready;
  expect(process.listenerCount('SIGINT')).toBe(handlersBefore);
  sleeve.press(true);
  await clock.advance(50);
  expect(running.size).toBe(1);
  board.close();
  await link.close();
  expect(running.size).toBe(0);
  vi.unstubAllGlobals();
});

it('lets the library hear ordinary messages and none of ours', async () => {
  const link = createSimulatedLink(createFakeSleeve(), {}, createVirtualClock().scheduler);
  const listener = createFirmataListener(link, () => {});
  const heard: string[] = [];
  listener.io.transport.on('data', (message: Uint8Array) => heard.push(toHex(message)));
  for (const hex of ['f90205', toHex(streamOf(1, 1)), 'f00f00f7', 'f07100f7', '901000'])
    listener.hear(fromHex(hex));
  expect(heard).toEqual(['f90205', 'f07100f7', '901000']);
  // Pin state of a pin that is not there: the library's own handler throws.
  expect(() => listener.io.transport.emit('data', fromHex('f06e640100f7'))).toThrow(TypeError);
  expect(() => listener.hear(fromHex('f06e640100f7'))).not.toThrow();
  listener.close();
});

it('keeps several boards in one process apart', async () => {
  const clock = createVirtualClock();
  const one = await boardOn(createFakeSleeve(), clock);
  const two = await boardOn(createFakeSleeve(), clock);
  await clock.advance(500);
  await Promise.all([one.board.ready, two.board.ready]);
  one.board.setLight(GREEN);
  two.board.setLight(AMBER);
  expect(levels(one.sleeve)).toEqual([0, 200, 0]);
  expect(levels(two.sleeve)).toEqual([255, 90, 1]);
  one.board.close();
  one.sleeve.received.length = 0;
  one.board.setLight(AMBER);
  one.board.heartbeat(true);
  two.board.setLight(GREEN);
  await clock.advance(5000);
  expect(one.sleeve.received).toEqual([]);
  expect(levels(two.sleeve)).toEqual([0, 200, 0]);
  two.board.close();
});
