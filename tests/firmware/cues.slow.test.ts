import { describe, expect, it } from 'vitest';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { EmulatedBench } from '../support/emulated.ts';

const DARK = { red: 0, green: 0, blue: 0 };
/** What the sleeve itself shows when nobody guides: a dim white blink, 0.25 s of 2 s. */
const QUIET = { red: 24, green: 24, blue: 24 };

const guided = (): EmulatedBench => {
  const bench = new EmulatedBench({ chunkSec: 0.001 });
  bench.beat(true);
  bench.run(0.1);
  return bench;
};

/** All levels that the light shows in `sec` seconds, looked at every 10 ms. */
function looks(bench: EmulatedBench, sec: number): string[] {
  return Array.from({ length: Math.round(sec * 100) }, () => {
    bench.run(0.01);
    return JSON.stringify(bench.sleeve.light());
  });
}

describe('the light', () => {
  it('shows what the host writes, at all levels, each color on its own pin', () => {
    const bench = guided();
    for (const [red, green, blue] of [
      [255, 96, 16],
      [1, 128, 254],
      [0, 255, 0],
      [0, 0, 0],
    ] as const) {
      bench.level(3, red);
      bench.level(5, green);
      bench.level(6, blue);
      bench.run(0.01);
      expect(bench.sleeve.light()).toEqual({ red, green, blue });
    }
  });

  it('shows it within 5 ms of the write, whenever that comes', () => {
    const bench = guided();
    for (let i = 0; i < 40; i++) {
      bench.run(0.0123);
      const level = i % 2 === 0 ? 180 : 20;
      const fromSec = bench.atSec;
      bench.level(5, level);
      while (bench.sleeve.light().green !== level) {
        bench.run(0.00025);
        expect(bench.atSec - fromSec).toBeLessThan(0.005);
      }
    }
  });

  it('is switched by digital writes too: one pin, and a port where only its outputs listen', () => {
    const bench = guided();
    bench.send([0xf4, 3, 1], [0xf4, 5, 3]);
    bench.level(5, 77);
    bench.send([0xf5, 3, 1]);
    bench.run(0.01);
    expect(bench.sleeve.light()).toEqual({ red: 255, green: 77, blue: 0 });
    // Port 0 with pin 5 high and pin 3 low; pin 5 is under PWM and keeps its level.
    bench.send([0x90, 0x20, 0]);
    bench.run(0.01);
    expect(bench.sleeve.light()).toEqual({ red: 0, green: 77, blue: 0 });
  });

  it('takes the wide write for any pin, and what is too much as full', () => {
    const bench = guided();
    bench.send([0xf0, 0x6f, 6, 0x2c, 0x01, 0xf7], [0xf0, 0x6f, 3, 0x10, 0xf7]);
    bench.run(0.01);
    expect(bench.sleeve.light()).toEqual({ red: 16, green: 0, blue: 172 });
    bench.send([0xf0, 0x6f, 6, 0x00, 0x02, 0xf7]);
    bench.run(0.01);
    expect(bench.sleeve.light().blue).toBe(255);
  });

  it('can be driven by a general Firmata host, which knows of no heartbeats', () => {
    const bench = new EmulatedBench({ chunkSec: 0.001 });
    bench.run(0.1);
    bench.send([0xf4, 5, 3]);
    bench.level(5, 200);
    bench.run(0.01);
    expect(bench.sleeve.light()).toEqual({ red: 0, green: 200, blue: 0 });
  });

  it('goes dark with a system reset', () => {
    const bench = guided();
    bench.level(3, 200);
    bench.run(0.01);
    bench.send([0xff]);
    bench.run(0.01);
    expect(bench.sleeve.light()).toEqual(DARK);
  });
});

describe('when the host falls silent', () => {
  const TILT_DOWN = { red: 255, green: 96, blue: 16 };

  function abandoned(): EmulatedBench {
    const bench = guided();
    bench.level(3, TILT_DOWN.red);
    bench.level(5, TILT_DOWN.green);
    bench.level(6, TILT_DOWN.blue);
    bench.sound({ frequencyHz: 440, onMs: 60_000, offMs: 0, repeats: 255 });
    bench.run(0.02);
    bench.beat(false);
    bench.heartbeat();
    return bench;
  }

  it('leaves light and buzzer alone for 2 s after the last heartbeat', () => {
    const bench = abandoned();
    expect(new Set(looks(bench, 1.99))).toEqual(new Set([JSON.stringify(TILT_DOWN)]));
    expect(bench.sleeve.buzzerHz).toBeCloseTo(440, 0);
  });

  it('then shows its own quiet sign and no more, and silences the buzzer', () => {
    const bench = abandoned();
    bench.run(2.01);
    expect(bench.sleeve.buzzerHz).toBe(0);
    const seen = looks(bench, 6);
    expect(new Set(seen)).toEqual(new Set([JSON.stringify(QUIET), JSON.stringify(DARK)]));
    const lit = seen.filter((look) => look === JSON.stringify(QUIET)).length / 100;
    expect(lit).toBeGreaterThan(0.65);
    expect(lit).toBeLessThan(0.85);
    expect(bench.sleeve.buzzerHz).toBe(0);
  });

  it('never shows the last cue again: neither by itself nor when the host is back', () => {
    const bench = abandoned();
    bench.run(3);
    bench.beat(true);
    bench.run(0.1);
    expect(bench.sleeve.light()).toEqual(DARK);
    expect(bench.sleeve.buzzerHz).toBe(0);
    bench.level(5, 50);
    bench.run(0.02);
    expect(bench.sleeve.light()).toEqual({ red: 0, green: 50, blue: 0 });
  });

  it('is not fooled by writes of a host that no longer beats', () => {
    const bench = abandoned();
    bench.run(2.1);
    bench.level(3, 255);
    bench.sound({ frequencyHz: 440, onMs: 1000, offMs: 0, repeats: 1 });
    expect(looks(bench, 1)).not.toContain(JSON.stringify({ red: 255, green: 0, blue: 0 }));
    expect(bench.sleeve.buzzerHz).toBe(0);
  });

  it('takes a damaged heartbeat for none', () => {
    const bench = abandoned();
    bench.run(1.5);
    const damaged = encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 });
    damaged[3]! ^= 0x04;
    bench.send(damaged);
    bench.run(0.6);
    expect(bench.sleeve.buzzerHz).toBe(0);
  });

  it('holds for a general host as well: 2 s after its last write', () => {
    const bench = new EmulatedBench();
    bench.run(0.05);
    bench.level(3, 255);
    bench.run(1.9);
    expect(bench.sleeve.light().red).toBe(255);
    bench.run(0.2);
    expect(bench.sleeve.light().red).toBeLessThanOrEqual(QUIET.red);
  });

  it('silences a sound at once when guidance is switched off', () => {
    const bench = guided();
    bench.beat(false);
    bench.sound({ frequencyHz: 500, onMs: 5000, offMs: 0, repeats: 1 });
    bench.run(0.05);
    expect(bench.sleeve.buzzerHz).toBeGreaterThan(0);
    bench.heartbeat(0);
    bench.run(0.02);
    expect(bench.sleeve.buzzerHz).toBe(0);
  });

  it('shows nothing and plays nothing of a host that says it does not guide, until it says it does', () => {
    const bench = guided();
    bench.beat(false);
    bench.level(3, 255);
    bench.run(0.05);
    expect(bench.sleeve.light().red).toBe(255);
    bench.heartbeat(0);
    bench.run(0.02);
    bench.level(3, 255);
    bench.sound({ frequencyHz: 500, onMs: 5000, offMs: 0, repeats: 1 });
    expect(new Set(looks(bench, 1.5))).toEqual(new Set([JSON.stringify(QUIET), JSON.stringify(DARK)]));
    expect(bench.sleeve.buzzerHz).toBe(0);
    bench.heartbeat(0);
    expect(new Set(looks(bench, 1.5))).toEqual(new Set([JSON.stringify(QUIET), JSON.stringify(DARK)]));
    bench.heartbeat(1);
    bench.run(0.05);
    expect(bench.sleeve.light()).toEqual(DARK);
    bench.level(3, 255);
    bench.sound({ frequencyHz: 500, onMs: 5000, offMs: 0, repeats: 1 });
    bench.run(0.05);
    expect(bench.sleeve.light().red).toBe(255);
    expect(bench.sleeve.buzzerHz).toBeCloseTo(500, 0);
  });

  it('remembers over a change of pin modes that its host beats', () => {
    const bench = abandoned();
    bench.run(1);
    bench.send([0xf4, 3, 3], [0xf4, 5, 1]);
    bench.level(3, 255);
    bench.run(0.9);
    expect(bench.sleeve.light().red).toBe(255);
    // 2 s from the last heartbeat, not from the last write.
    bench.run(0.2);
    expect(bench.sleeve.light().red).toBeLessThanOrEqual(QUIET.red);
    expect(bench.sleeve.buzzerHz).toBe(0);
    bench.send([0xf4, 3, 3]);
    bench.level(3, 255);
    bench.run(0.05);
    expect(bench.sleeve.light().red).toBeLessThanOrEqual(QUIET.red);
  });
});

describe('the buzzer', () => {
  it.each([15, 16, 31, 110, 440, 659, 1000, 2731, 4000, 10_000])(
    'sounds %i Hz, measured at its pin',
    (frequencyHz) => {
      const bench = guided();
      bench.sound({ frequencyHz, onMs: frequencyHz < 30 ? 500 : 200, offMs: 0, repeats: 1 });
      bench.run(frequencyHz < 30 ? 0.48 : 0.19);
      const tone = bench.sleeve.tones.at(-1)!;
      // The timer counts half periods in steps of 0.5 µs (16 µs below 16 Hz).
      const stepSec = frequencyHz < 16 ? 16e-6 : 0.5e-6;
      expect(Math.abs(tone.frequencyHz / frequencyHz - 1)).toBeLessThanOrEqual(stepSec * frequencyHz + 1e-6);
    },
  );

  it('beeps as often and as long as it was told', () => {
    const bench = guided();
    bench.sound({ frequencyHz: 440, onMs: 180, offMs: 160, repeats: 3 });
    bench.run(1.5);
    const { tones } = bench.sleeve;
    expect(tones).toHaveLength(3);
    for (const { fromSec, toSec } of tones) expect(Math.abs(toSec - fromSec - 0.18)).toBeLessThan(0.004);
    expect(tones[1]!.fromSec - tones[0]!.fromSec).toBeCloseTo(0.34, 2);
    expect(tones[2]!.fromSec - tones[1]!.fromSec).toBeCloseTo(0.34, 2);
  });

  it('is silent at frequency 0, which also cuts a sound short; so do length 0 and number 0', () => {
    const bench = guided();
    for (const silence of [
      { frequencyHz: 0, onMs: 100, offMs: 100, repeats: 1 },
      { frequencyHz: 440, onMs: 0, offMs: 0, repeats: 9 },
      { frequencyHz: 440, onMs: 100, offMs: 0, repeats: 0 },
    ]) {
      bench.sound({ frequencyHz: 440, onMs: 5000, offMs: 0, repeats: 1 });
      bench.run(0.05);
      expect(bench.sleeve.buzzerHz).toBeCloseTo(440, 0);
      bench.sound(silence);
      bench.run(0.02);
      expect(bench.sleeve.buzzerHz).toBe(0);
    }
  });

  it('keeps a longer sound going without a gap where no pause is asked for', () => {
    const bench = guided();
    bench.sound({ frequencyHz: 500, onMs: 100, offMs: 0, repeats: 5 });
    bench.run(0.7);
    expect(bench.sleeve.tones).toHaveLength(1);
    const { fromSec, toSec } = bench.sleeve.tones[0]!;
    expect(toSec - fromSec).toBeCloseTo(0.5, 2);
  });
});
