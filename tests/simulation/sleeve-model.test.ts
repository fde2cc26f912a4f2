import { EventEmitter } from 'node:events';
import firmataIo from 'firmata-io';
import { describe, expect, it } from 'vitest';
import {
  createScanner,
  encodeMessage,
  encodeRequest,
  type Identity,
  MESSAGES,
  SAMPLE_FLAGS,
  type Sample,
  scan,
} from '../../firmware-bridge/wire/index.ts';
import { SimulatedSleeve, type SleeveOptions } from '../../src/simulation/sleeve-model.ts';

const make = (more: Partial<SleeveOptions> = {}): SimulatedSleeve =>
  new SimulatedSleeve({ feed: { scenario: 'paced', seed: 9 }, ...more });

function scanned(...chunks: Uint8Array[]) {
  const samples: Sample[] = [];
  const identities: Identity[] = [];
  const scanner = createScanner();
  for (const chunk of chunks) {
    scan(scanner, chunk, {
      sample: (sample) => samples.push({ ...sample }),
      identity: (identity) => identities.push(identity),
    });
  }
  return { samples, identities, counts: scanner.counts };
}

const heartbeat = (on = true): Uint8Array => encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: on ? 1 : 0 });
const beep = (frequencyHz: number): Uint8Array =>
  encodeMessage(MESSAGES.SOUND, { frequencyHz, onMs: 200, offMs: 100, repeats: 2 });
const level = (pin: number, value: number): Uint8Array => Uint8Array.of(0xe0 | pin, value & 0x7f, value >> 7);
const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

describe('the simulated sleeve on a line', () => {
  it('tells version, name and identity after power-on, then sends 80 samples a second', () => {
    const sleeve = make({ sleeveNumber: 77 });
    const bytes = sleeve.advance(10 - 1e-6);
    expect(bytes[0]).toBe(0xf9);
    expect(hex(bytes.subarray(3))).toContain('f079');
    const { samples, identities, counts } = scanned(bytes);
    expect(samples).toHaveLength(800);
    expect(counts.rejected).toBe(0);
    expect(identities).toEqual([
      { contractVersion: 2, firmwareVersion: [0, 1, 0], sleeveNumber: 77, resetCause: 0 },
    ]);
  });

  it('tells MOTION right after each SAMPLE when it has a gyroscope', () => {
    const overrides = { sensors: { gyroscope: true } };
    const sleeve = make({ feed: { scenario: 'paced', seed: 9, overrides } });
    const order: string[] = [];
    scan(createScanner(), sleeve.advance(5 - 1e-6), {
      sample: ({ sequence }) => order.push(`sample ${sequence}`),
      motion: ({ sequence }) => order.push(`motion ${sequence}`),
    });
    expect(order).toHaveLength(800);
    for (let i = 0; i < order.length; i += 2)
      expect(order[i + 1]).toBe(order[i]!.replace('sample', 'motion'));
    sleeve.receive(encodeMessage(MESSAGES.STREAM, { on: 0 }));
    sleeve.advance(5.1);
    expect(hex(sleeve.advance(6))).not.toContain('f006');
  });

  it('makes a general Firmata host ready, drives its light and reports its button', async () => {
    // firmata-io is a host made by others: when it reports "ready", the handshake is right.
    const sleeve = make();
    const transport = Object.assign(new EventEmitter(), {
      write(bytes: Uint8Array, done?: () => void) {
        sleeve.receive(bytes);
        done?.();
        queueMicrotask(() => transport.emit('data', sleeve.advance(sleeve.atSec + 0.025)));
      },
    });
    const io = new firmataIo.Firmata(transport);
    clearTimeout(io.reportVersionTimeoutId);
    const ready = new Promise<void>((resolve) => io.once('ready', resolve));
    transport.write(Uint8Array.of(0xf9));
    transport.write(Uint8Array.of(0xf0, 0x79, 0xf7));
    await ready;
    // The library's types do not declare `firmware`.
    expect(io).toMatchObject({ firmware: { name: 'ebbline-sleeve' } });

    sleeve.receive(heartbeat());
    sleeve.receive(Uint8Array.of(0xf4, 3, io.MODES.PWM));
    sleeve.receive(level(3, 200));
    sleeve.receive(level(5, 7));
    expect(sleeve.light()).toEqual({ red: 200, green: 7, blue: 0 });

    const presses: unknown[] = [];
    io.on('digital-read-4', (high: unknown) => presses.push(high));
    io.pinMode(4, io.MODES.PULLUP);
    io.reportDigitalPin(4, 1);
    sleeve.pressButton();
    transport.emit('data', sleeve.advance(sleeve.atSec + 0.025));
    expect(presses.at(-1)).toBe(0);
    sleeve.releaseButton();
    transport.emit('data', sleeve.advance(sleeve.atSec + 0.025));
    expect(presses.at(-1)).toBe(1);
    io.removeAllListeners();
  });

  it('answers the rest of Firmata that it must: pin state, digital write, extended analogue, text', () => {
    const sleeve = make();
    sleeve.advance(0.1);
    sleeve.receive(heartbeat());
    sleeve.receive(Uint8Array.of(0xf4, 6, 1));
    sleeve.receive(Uint8Array.of(0x90, 0x40, 0));
    expect(sleeve.light().blue).toBe(255);
    sleeve.receive(Uint8Array.of(0xf5, 6, 0));
    expect(sleeve.light().blue).toBe(0);
    sleeve.receive(Uint8Array.of(0xf0, 0x6f, 3, 0x10, 0x01, 0xf7));
    expect(sleeve.light().red).toBe(0x90);
    sleeve.receive(Uint8Array.of(0xf0, 0x6d, 3, 0xf7));
    expect(hex(sleeve.advance(0.12))).toContain('f06e03011001f7');
    sleeve.receive(Uint8Array.of(0xf0, 0x71, 0x68, 0, 0x69, 0, 0xf7));
    expect(sleeve.texts).toEqual(['hi']);
    // The buzzer's pin belongs to SOUND.
    sleeve.receive(Uint8Array.of(0xf4, 9, 3));
    sleeve.receive(level(9, 255));
    expect(sleeve.light()).toEqual({ red: 0x90, green: 0, blue: 0 });
  });

  it('answers IDENTITY, and turns the stream off and on', () => {
    const sleeve = make();
    sleeve.advance(0.1);
    sleeve.receive(encodeRequest(MESSAGES.IDENTITY));
    sleeve.receive(encodeMessage(MESSAGES.STREAM, { on: 0 }));
    const off = scanned(sleeve.advance(1.1));
    expect(off.identities).toHaveLength(1);
    expect(off.samples).toHaveLength(0);
    sleeve.receive(encodeMessage(MESSAGES.STREAM, { on: 1 }));
    expect(scanned(sleeve.advance(2.1 - 1e-6)).samples.length).toBeGreaterThan(78);
    expect(sleeve.received).toMatchObject({ IDENTITY: 1, STREAM: 2, unknown: 0 });
  });

  it('beeps as SOUND says, by device time', () => {
    const sleeve = make();
    sleeve.advance(1);
    sleeve.receive(heartbeat());
    sleeve.receive(beep(880));
    const heard = [0.1, 0.25, 0.4, 0.7].map((after) => {
      sleeve.advance(1 + after);
      return sleeve.buzzerHz;
    });
    expect(heard).toEqual([880, 0, 880, 0]);
    expect(sleeve.tones).toMatchObject([{ atSec: 1, frequencyHz: 880, repeats: 2, stoppedAtSec: null }]);
    sleeve.receive(beep(440));
    sleeve.advance(1.75);
    sleeve.receive(beep(0));
    sleeve.advance(1.76);
    expect(sleeve.buzzerHz).toBe(0);
    expect(sleeve.tones.at(-1)!.stoppedAtSec).toBeCloseTo(1.75, 6);
  });

  it('shows "no guidance" and is silent from 2 s after the last heartbeat, never the last cue', () => {
    const sleeve = make();
    const glimmers = (fromSec: number): string[] => {
      const seen = new Set<string>();
      for (let i = 0; i < 130; i++) {
        sleeve.advance(fromSec + i * 0.05);
        const { red, green, blue } = sleeve.light();
        expect(red + green + blue).toBeLessThan(40);
        seen.add(`${red} ${green} ${blue}`);
      }
      return [...seen].sort();
    };
    expect(glimmers(0.1)).toEqual(['0 0 0', '16 12 6']); // before the first heartbeat already
    sleeve.receive(heartbeat());
    sleeve.receive(level(3, 255));
    const long = { frequencyHz: 500, onMs: 60_000, offMs: 0, repeats: 1 };
    sleeve.receive(encodeMessage(MESSAGES.SOUND, long));
    const beatSec = sleeve.atSec;
    sleeve.advance(beatSec + 1.9);
    expect(sleeve.light()).toEqual({ red: 255, green: 0, blue: 0 });
    expect(sleeve.buzzerHz).toBe(500);
    sleeve.advance(beatSec + 2.1);
    expect(sleeve.buzzerHz).toBe(0);
    expect(glimmers(beatSec + 2.1)).toEqual(['0 0 0', '16 12 6']);
    // After heartbeats return, the light stays dark until the host sets a color.
    sleeve.receive(heartbeat());
    expect(sleeve.light()).toEqual({ red: 0, green: 0, blue: 0 });
    expect(sleeve.guidanceOn).toBe(true);
    sleeve.receive(heartbeat(false));
    expect(sleeve.guidanceOn).toBe(false);
  });

  it('shows nothing and plays nothing of a host that says it does not guide, until it says it does', () => {
    const sleeve = make();
    sleeve.advance(0.5);
    const cue = (): void => {
      sleeve.receive(level(3, 255));
      sleeve.receive(encodeMessage(MESSAGES.SOUND, { frequencyHz: 500, onMs: 60_000, offMs: 0, repeats: 1 }));
      sleeve.advance(sleeve.atSec + 0.05);
    };
    sleeve.receive(heartbeat());
    cue();
    expect([sleeve.light().red, sleeve.buzzerHz]).toEqual([255, 500]);
    sleeve.receive(heartbeat(false));
    expect(sleeve.light().red).toBeLessThan(40);
    expect(sleeve.buzzerHz).toBe(0);
    cue();
    expect(sleeve.light().red).toBeLessThan(40);
    expect(sleeve.buzzerHz).toBe(0);
    sleeve.receive(heartbeat());
    expect(sleeve.light()).toEqual({ red: 0, green: 0, blue: 0 });
    cue();
    expect([sleeve.light().red, sleeve.buzzerHz]).toEqual([255, 500]);
  });

  it('flags the button in its samples', () => {
    const sleeve = make();
    sleeve.advance(0.5);
    sleeve.pressButton();
    const down = scanned(sleeve.advance(1)).samples;
    expect(down.every((sample) => (sample.flags & SAMPLE_FLAGS.buttonDown) !== 0)).toBe(true);
    sleeve.releaseButton();
    const up = scanned(sleeve.advance(1.5)).samples;
    expect(up.some((sample) => (sample.flags & SAMPLE_FLAGS.buttonDown) !== 0)).toBe(false);
  });

  it('resets: silent for a second, then flag, fresh clock and sequence, identity with the cause', () => {
    const sleeve = make();
    sleeve.receive(heartbeat());
    sleeve.receive(level(3, 255));
    sleeve.receive(encodeMessage(MESSAGES.STREAM, { on: 0 }));
    sleeve.advance(3);
    sleeve.reset('watchdog');
    const { samples, identities } = scanned(sleeve.advance(6));
    expect(identities).toMatchObject([{ resetCause: 2 }]);
    expect(samples[0]!.flags & SAMPLE_FLAGS.firstAfterReset).not.toBe(0);
    expect(samples[1]!.flags & SAMPLE_FLAGS.firstAfterReset).toBe(0);
    expect(samples[0]!.sequence).toBe(0);
    expect(samples[0]!.timeMicros).toBeLessThan(1e6);
    expect(samples.length).toBeGreaterThan(1.7 * 80);
    expect(samples.length).toBeLessThan(1.9 * 80);
    sleeve.receive(heartbeat());
    expect(sleeve.light().red).toBe(0);
    expect(sleeve.feed.truth.events.map((event) => event.kind)).toContain('chip-reset');
  });

  it('runs on while the cable is out', () => {
    const sleeve = make();
    sleeve.advance(1);
    sleeve.unplug();
    sleeve.receive(heartbeat());
    expect(sleeve.advance(3)).toHaveLength(0);
    sleeve.plugIn();
    const { samples } = scanned(sleeve.advance(4));
    expect(samples.length).toBeGreaterThan(78);
    expect(samples.length).toBeLessThan(82);
    expect(sleeve.received.HEARTBEAT).toBe(0);
  });

  it('ignores what makes no sense and keeps sampling', () => {
    const sleeve = make();
    const spoilt = beep(880);
    spoilt[5]! ^= 1;
    let state = 12345;
    const noise = Uint8Array.from({ length: 20_000 }, () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state >>> 24;
    });
    sleeve.receive(heartbeat());
    sleeve.receive(spoilt);
    expect(sleeve.received).toMatchObject({ SOUND: 0, unknown: 1 });
    sleeve.receive(noise);
    sleeve.receive(Uint8Array.of(0xf7));
    expect(scanned(sleeve.advance(2 - 1e-6)).samples).toHaveLength(160);
    sleeve.receive(heartbeat());
    sleeve.receive(beep(880));
    sleeve.advance(2.1);
    expect(sleeve.buzzerHz).toBe(880);
  });

  it('lets its caregiver see the light: a red one makes her lower the bottle', () => {
    const play = (red: number): number => {
      const sleeve = new SimulatedSleeve({
        feed: { scenario: 'tipped-up', seed: 4, follows: true },
        perceive: (light) => (light.red > 100 && light.green === 0 ? 'tilt-down' : null),
      });
      for (let sec = 1; sec <= 60; sec++) {
        sleeve.receive(heartbeat());
        if (sec > 30) sleeve.receive(level(3, red));
        sleeve.advance(sec);
      }
      return sleeve.feed.truth.intakeMl;
    };
    expect(play(255)).toBeLessThan(play(0) - 5);
  });

  it('ends with the feed when asked to, else goes on standing', () => {
    const short = { scenario: 'tipped-up', seed: 4, overrides: { milkMl: 8 } } as const;
    const ending = make({ feed: short, endsWithFeed: true });
    const staying = make({ feed: short });
    ending.advance(90);
    staying.advance(90);
    expect(ending.ended).toBe(true);
    expect(staying.ended).toBe(false);
    expect(staying.feed.done).toBe(true);
    expect(scanned(staying.advance(91)).samples.length).toBeGreaterThan(78);
  });
});
