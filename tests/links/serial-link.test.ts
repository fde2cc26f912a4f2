import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SerialPortMock } from 'serialport';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { LinkState } from '../../firmware-bridge/links/link.ts';
import { cannotOpen } from '../../firmware-bridge/links/serial-errors.ts';
import {
  createSerialLink,
  retryDelayMs,
  type SerialPortClass,
} from '../../firmware-bridge/links/serial-link.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

const PATH = '/dev/ttyTest0';
type Mock = InstanceType<typeof SerialPortMock>;

/** The library's mock, which remembers every port it made and the options it was given. */
const made: Mock[] = [];
const portClass = class extends SerialPortMock {
  constructor(options: ConstructorParameters<typeof SerialPortMock>[0]) {
    super(options);
    made.push(this);
  }
} as unknown as SerialPortClass;

beforeEach(() => SerialPortMock.binding.createPort(PATH, { record: true }));
afterEach(() => {
  SerialPortMock.binding.reset();
  made.length = 0;
});

/** Waits until the mock's pending promises and next-tick callbacks have run. */
const settle = async (): Promise<void> => {
  for (let i = 0; i < 10; i++) await new Promise(setImmediate);
};
const latest = (): Mock => made.at(-1)!;
/** The system reports a pulled cable by a failed read. */
const pullCable = async (): Promise<void> => {
  const port = latest();
  SerialPortMock.binding.reset();
  (port as unknown as { _disconnected(error: Error): void })._disconnected(new Error('read failed'));
  await settle();
};

function makeLink() {
  const clock = createVirtualClock();
  const link = createSerialLink(PATH, { portClass }, clock.scheduler);
  const got: number[] = [];
  const states: LinkState[] = [];
  let complete = false;
  link.bytes$.subscribe({
    next: (bytes) => got.push(...bytes),
    complete: () => {
      complete = true;
    },
  });
  link.state$.subscribe((state) => states.push(state));
  const kinds = (): string[] => states.map(({ kind }) => kind);
  return { clock, link, got, states, kinds, isComplete: () => complete };
}

describe('an open port', () => {
  it('carries bytes both ways, at 115200 baud, without dropping DTR on closing', async () => {
    const { link, got, kinds } = makeLink();
    await link.open();
    latest().port!.emitData(Buffer.from([0xf0, 0x01, 0x55]));
    link.write(Uint8Array.of(1, 2, 3));
    await settle();
    expect(got).toEqual([0xf0, 0x01, 0x55]);
    expect([...latest().port!.recording]).toEqual([1, 2, 3]);
    expect(latest().port!.openOptions).toMatchObject({
      baudRate: 115_200,
      hupcl: false,
      lock: true,
      dataBits: 8,
    });
    expect(kinds()).toEqual(['opening', 'open']);
    await link.close();
  });

  it('closes once and for all', async () => {
    const { clock, link, kinds, isComplete } = makeLink();
    await link.open();
    await link.close();
    await link.close();
    expect(latest().isOpen).toBe(false);
    expect(kinds()).toEqual(['opening', 'open', 'ended']);
    expect(isComplete()).toBe(true);
    link.write(Uint8Array.of(1));
    await clock.advance(10_000);
    expect(made.length).toBe(1);
  });

  it('drops what nobody takes, instead of piling it up', async () => {
    const { link } = makeLink();
    await link.open();
    const port = latest();
    // A device that accepts nothing: the write never ends.
    port.port!.write = () => new Promise(() => {});
    for (let i = 0; i < 1000; i++) link.write(new Uint8Array(100));
    expect(port.writableLength).toBeLessThan(17 * 1024);
  });
});

describe('a pulled cable', () => {
  it('is lost, tried again, and open again when it is back', async () => {
    const { clock, link, got, states, kinds } = makeLink();
    await link.open();
    await pullCable();
    expect(states.at(-1)).toEqual({
      kind: 'lost',
      reason: `The sleeve on ${PATH} is unplugged or switched off.`,
    });
    link.write(Uint8Array.of(9));
    await clock.advance(20_000);
    await settle();
    expect(kinds()).toEqual(['opening', 'open', 'lost']);
    SerialPortMock.binding.createPort(PATH, { record: true });
    await clock.advance(2000);
    await settle();
    expect(kinds()).toEqual(['opening', 'open', 'lost', 'open']);
    latest().port!.emitData(Buffer.from([7]));
    link.write(Uint8Array.of(8));
    await settle();
    expect(got).toEqual([7]);
    // Bytes written while it was unplugged are not sent later.
    expect([...latest().port!.recording]).toEqual([8]);
    await link.close();
  });

  it('is tried after 250 ms first, then after ever longer, 2 s at the most, and anew after each success', async () => {
    expect([1, 2, 3, 4, 5, 50].map(retryDelayMs)).toEqual([250, 500, 1000, 2000, 2000, 2000]);
    const { clock, link } = makeLink();
    await link.open();
    await pullCable();
    const attemptsAfter = async (ms: number): Promise<number> => {
      await clock.advance(ms);
      await settle();
      return made.length - 1;
    };
    expect(await attemptsAfter(240)).toBe(0);
    expect(await attemptsAfter(20)).toBe(1);
    expect(await attemptsAfter(500)).toBe(2);
    expect(await attemptsAfter(1000)).toBe(3);
    SerialPortMock.binding.createPort(PATH);
    expect(await attemptsAfter(2000)).toBe(4);
    await pullCable();
    expect(await attemptsAfter(300)).toBe(5);
    await link.close();
  });

  it('is given up by close', async () => {
    const { clock, link, kinds } = makeLink();
    await link.open();
    await pullCable();
    await link.close();
    const before = made.length;
    await clock.advance(60_000);
    expect(made.length).toBe(before);
    expect(kinds().at(-1)).toBe('ended');
  });

  it('is noticed also where the stream just ends', async () => {
    const { link, kinds } = makeLink();
    await link.open();
    latest().push(null);
    await settle();
    expect(kinds()).toEqual(['opening', 'open', 'lost']);
    await link.close();
  });
});

it('is lost when its device file goes away, though the library notices nothing', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-serial-'));
  const path = join(folder, 'ttyTest');
  writeFileSync(path, '');
  SerialPortMock.binding.createPort(path);
  const clock = createVirtualClock();
  const link = createSerialLink(path, { portClass }, clock.scheduler);
  const kinds: string[] = [];
  link.state$.subscribe(({ kind }) => kinds.push(kind));
  await link.open();
  await clock.advance(60_000);
  expect(kinds).toEqual(['opening', 'open']);
  rmSync(folder, { recursive: true });
  await clock.advance(500);
  expect(kinds).toEqual(['opening', 'open', 'lost']);
  expect(latest().isOpen).toBe(false);
  await link.close();
});

describe('a port that cannot be opened', () => {
  it('that is not there: names those that are', async () => {
    const clock = createVirtualClock();
    const link = createSerialLink('/dev/ttyNone', { portClass }, clock.scheduler);
    await expect(link.open()).rejects.toMatchObject({
      code: 'port-unknown',
      message: 'There is no serial port /dev/ttyNone.',
      remedy: `Ports here: ${PATH}.`,
    });
    // The link does not try again by itself; the caller may.
    await clock.advance(60_000);
    expect(made.length).toBe(1);
    SerialPortMock.binding.createPort('/dev/ttyNone');
    await link.open();
    await link.close();
  });

  it('that another program holds', async () => {
    const first = makeLink().link;
    await first.open();
    await expect(makeLink().link.open()).rejects.toMatchObject({ code: 'port-busy' });
    await first.close();
  });

  it('where the ports cannot be listed: says so and goes on', async () => {
    const noList = class extends SerialPortMock {
      static override list = () => Promise.reject(new Error('spawn udevadm ENOENT'));
    } as unknown as SerialPortClass;
    await expect(createSerialLink('/dev/ttyNone', { portClass: noList }).open()).rejects.toMatchObject({
      code: 'port-unknown',
      remedy: expect.stringContaining('cannot be listed'),
    });
  });

  // The texts are those of the serial library's Linux binding (serialport_unix.cpp, 13.0.1 of bindings-cpp) around strerror.
  it.each([
    ['Error: No such file or directory, cannot open /dev/x', 'port-unknown', /no serial port here now/],
    ['Error: Permission denied, cannot open /dev/x', 'port-no-permission', /usermod -aG dialout/],
    ['Error Resource temporarily unavailable Cannot lock port', 'port-busy', /Close that program/],
    ['Error: Device or resource busy, cannot open /dev/x', 'port-busy', /Close that program/],
    ['Error: Inappropriate ioctl for device setting custom baud rate of 115200', 'port-not-serial', /./],
    ['Error: Input/output error, cannot open /dev/x', 'port-failed', /./],
  ])('%s', (text, code, remedy) => {
    const error = cannotOpen('/dev/x', new Error(text), []);
    expect(error.code).toBe(code);
    expect(error.message).toContain('/dev/x');
    expect(error.remedy).toMatch(remedy);
  });
});
