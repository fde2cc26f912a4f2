import { describe, expect, it } from 'vitest';
import { SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { accelerometerAt, agesOf, EmulatedBench, missingIn } from '../support/emulated.ts';

/** Longest time from the start of the chip to the start of its clock: the chip first sets its memory. The spread tested below does not depend on it. */
const BOOT_SEC = 0.0006;

describe('ten seconds of samples', () => {
  const bench = new EmulatedBench();
  const samples = bench.run(10);
  const settled = samples.filter(({ timeMicros }) => timeMicros > 300_000);

  it('come 80 a second, none lost, none rejected', () => {
    expect(bench.scanner.counts).toMatchObject({ rejected: 0, rejectedIdentities: 0 });
    expect(missingIn(samples)).toBe(0);
    // The first sample is ready 50 ms after the start.
    expect(samples).toHaveLength(Math.floor((10 - 0.05) * 80));
    expect(samples[0]!.sequence).toBe(0);
  });

  it('say which is the first after the reset, and no more', () => {
    expect(samples[0]!.flags & SAMPLE_FLAGS.firstAfterReset).toBeTruthy();
    expect(samples.slice(1).filter(({ flags }) => flags & SAMPLE_FLAGS.firstAfterReset)).toEqual([]);
    expect(settled.every(({ flags }) => flags === 0)).toBe(true);
  });

  it('carry the very counts of the moment that they tell, stamped within 100 µs of the last ready edge', () => {
    for (const { cells, timeMicros } of samples) {
      const ages = agesOf(cells, timeMicros / 1e6 + BOOT_SEC);
      const sinceLast = Math.min(...ages) - BOOT_SEC;
      // A count encodes its time to 10 µs, a time stamp is good to 4 µs, and the clock starts a little after the chip.
      expect(sinceLast).toBeGreaterThan(-BOOT_SEC - 20e-6);
      expect(sinceLast).toBeLessThan(100e-6);
      // The three cells are read within 300 µs, so none of the readings is old.
      expect(Math.max(...ages) - Math.min(...ages)).toBeLessThan(300e-6);
    }
    const offsets = samples.map(({ cells, timeMicros }) => Math.min(...agesOf(cells, timeMicros / 1e6)));
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThan(60e-6);
  });

  it('carry an accelerometer reading at most 6 ms old, its three axes of one moment', () => {
    for (const { accelerometer, timeMicros } of settled) {
      const [x] = accelerometer;
      expect(accelerometer).toEqual(accelerometerAt((x + 0.5) / 1000));
      const ageMs = timeMicros / 1000 - (x % 8000) - (timeMicros / 1000 >= 8000 && x < 8000 ? 8000 : 0);
      expect(((ageMs % 8000) + 8000) % 8000).toBeLessThan(8);
    }
  });

  it('have their turning right behind them, of the same reading as the acceleration', () => {
    const turns = new Map(bench.motions.map(({ sequence, gyroscope }) => [sequence, gyroscope]));
    expect(bench.scanner.counts).toMatchObject({ motions: turns.size, rejectedMotions: 0 });
    for (const { sequence, accelerometer, timeMicros } of samples) {
      const gyroscope = turns.get(sequence);
      // The gyroscope needs time after the start; its first good reading comes before 0.3 s.
      if (gyroscope === undefined) expect(timeMicros).toBeLessThan(300_000);
      // Both encode the time in milliseconds; the emulated chip varies the last digit.
      else expect(Math.abs(accelerometer[0] + gyroscope[1])).toBeLessThanOrEqual(1);
    }
    expect(turns.size).toBeGreaterThan(settled.length - 1);
  });

  it('are heard within 10 ms', () => {
    const latest = Math.max(...samples.map(({ heardAtSec, timeMicros }) => heardAtSec - timeMicros / 1e6));
    expect(latest).toBeLessThan(0.01);
  });
});

describe('what a sample says beside the counts', () => {
  it('tells of the button, debounced', () => {
    const bench = new EmulatedBench();
    bench.run(0.5);
    // A tap of 10 ms is no press.
    bench.buttonDown = true;
    bench.run(0.01);
    bench.buttonDown = false;
    expect(bench.run(0.2).filter(({ flags }) => flags & SAMPLE_FLAGS.buttonDown)).toEqual([]);
    bench.buttonDown = true;
    const pressed = bench.run(0.2);
    expect(pressed.findIndex(({ flags }) => flags & SAMPLE_FLAGS.buttonDown)).toBeLessThanOrEqual(4);
    expect(pressed.at(-1)!.flags).toBe(SAMPLE_FLAGS.buttonDown);
    bench.buttonDown = false;
    bench.run(0.1);
    expect(bench.last.flags).toBe(0);
  });

  it('wraps its sequence', () => {
    // 65,536 samples take 14 minutes; the number is set on the chip instead.
    const bench = new EmulatedBench();
    bench.run(0.5);
    const before = bench.last.sequence + 1;
    const { data } = bench.sleeve.chip.parts.cpu;
    const places = [...data.keys()].filter(
      (place) => place >= 0x100 && place < 0x700 && data[place] === before && data[place + 1] === 0,
    );
    const was = places.map((place) => data[place]);
    bench.run(0.0125);
    const moved = places.filter((place, i) => data[place] === was[i]! + 1);
    expect(moved).toHaveLength(1);
    data[moved[0]!] = 0xfe;
    data[moved[0]! + 1] = 0xff;
    expect(bench.run(0.1).map(({ sequence }) => sequence)).toEqual(
      expect.arrayContaining([65_534, 65_535, 0, 1, 2]),
    );
  });
});
