import { describe, expect, it } from 'vitest';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { createEngine, runEngine } from '../../src/feed/engine.ts';
import { type ReplayResult, replay } from '../../src/feed/replay.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { CAPTURE_NAMES, readFixture, readTurning } from '../support/captures.ts';
import { seededRandom } from '../support/random.ts';
import { runs } from '../support/runs.ts';
import { simulateCapture } from '../support/simulated-capture.ts';
import { joined } from '../support/wire.ts';

const FRAME_BYTES = 31;

/** Value of a column at a time, straight lines between rows; before the first row the first, after the last the last. */
function valueAt(times: number[], column: number[], atSec: number): number {
  const next = times.findIndex((time) => time >= atSec);
  if (next === 0) return column[0]!;
  if (next < 0) return column.at(-1)!;
  const share = (atSec - times[next - 1]!) / (times[next]! - times[next - 1]!);
  return column[next - 1]! + share * (column[next]! - column[next - 1]!);
}

function expectTwoRowsASecond(times: number[]): void {
  expect(times.length).toBeGreaterThanOrEqual(2 * (times.at(-1)! - times[0]!));
  for (let i = 1; i < times.length; i++) {
    expect(times[i]! - times[i - 1]!).toBeGreaterThan(0);
    expect(times[i]! - times[i - 1]!).toBeLessThanOrEqual(0.501);
  }
}

describe.each(CAPTURE_NAMES)('the replay of the first 90 s of "%s"', (name) => {
  const { bytes, calibration, truth } = readFixture(name);
  const options = { calibration, portionMl: null };
  const { result } = replay([bytes], options);
  const { live, refined } = result;

  it('has the form that others read (sleeve contract, section 6)', () => {
    const alike: ReplayResult = JSON.parse(JSON.stringify(result));
    expect(alike).toEqual(result);
    expect(result.version).toBe(1);
    expect(result.frames).toMatchObject({ accepted: 7201, rejected: 0, missing: 0 });
    expect(result.durationSec).toBeCloseTo(90, 2);
    for (const cue of result.cues) {
      expect(['tilt-down', 'burp', 'switch-side', 'offer-stop']).toContain(cue.kind);
      expect(cue.atSec).toBeGreaterThan(0);
      expect(cue.atSec).toBeLessThanOrEqual(result.durationSec);
    }
    for (const block of [live, refined]) {
      const columns: unknown[][] = Object.values(block);
      expect(new Set(columns.map((column) => column.length))).toEqual(new Set([block.atSec.length]));
    }
    for (const column of [live.milkMl, live.flowMlPerMin, refined.milkMl, refined.flowMlPerMin]) {
      expect(column.every((entry) => entry === null || Number.isFinite(entry))).toBe(true);
    }
    expect(live.intakeMl.every(Number.isFinite)).toBe(true);
    expect(live.onMouth.every((entry) => typeof entry === 'boolean')).toBe(true);
  });

  it('has two rows a second in both blocks', () => {
    expectTwoRowsASecond(live.atSec);
    expectTwoRowsASecond(refined.atSec);
  });

  it('knows nothing before the bottle was weighed, and all of it afterwards', () => {
    const firstKnown = live.milkMl.findIndex((milk) => milk !== null);
    expect(live.atSec[firstKnown]).toBeGreaterThan(0.5);
    expect(live.atSec[firstKnown]).toBeLessThan(3);
    expect(live.flowMlPerMin.slice(0, firstKnown).every((flow) => flow === null)).toBe(true);
    expect(live.milkMl.slice(firstKnown)).not.toContain(null);
    expect(live.flowMlPerMin.slice(firstKnown)).not.toContain(null);
  });

  it('never gives a flow below zero', () => {
    for (const flow of [...live.flowMlPerMin, ...refined.flowMlPerMin])
      if (flow !== null) expect(flow).toBeGreaterThanOrEqual(0);
  });

  it('gives as live flow 6 × (intake − intake 10 s before), both as known at that moment', () => {
    const engine = createEngine(options);
    let checked = 0;
    runEngine(engine, bytes, ({ moment }) => {
      const recentIntake = engine.pacingInput.recentIntake!;
      const times = [...recentIntake.atSec.subarray(0, recentIntake.count)];
      const fromSec = moment.atSec - 10;
      if (moment.flowMlPerMin === null || times.length === 0 || times[0]! > fromSec) return;
      const before = valueAt(times, [...recentIntake.intakeMl.subarray(0, recentIntake.count)], fromSec);
      expect(moment.flowMlPerMin).toBeCloseTo(Math.max(0, 6 * (moment.intakeMl - before)), 0);
      checked++;
    });
    expect(checked).toBeGreaterThan(1000);
  });

  it('gives as refined flow 6 × (intake 5 s after − intake 5 s before)', () => {
    refined.flowMlPerMin.forEach((flow, i) => {
      if (flow === null) return;
      const at = refined.atSec[i]!;
      const around = (sec: number) => valueAt(refined.atSec, refined.intakeMl, at + sec);
      // Milk comes in sucks, so a straight line between two rows may be off by 0.25 mL.
      expect(Math.abs(flow - 6 * (around(5) - around(-5)))).toBeLessThan(1.5);
    });
  });

  it('closes: intake + spilt − added is what is missing from the bottle', () => {
    const milk = refined.milkMl.filter((entry) => entry !== null);
    const missing = milk[0]! - milk.at(-1)!;
    expect(Math.abs(result.intakeMl + result.spiltMl - result.addedMl - missing)).toBeLessThan(0.1);
    expect(refined.intakeMl.at(-1)).toBeCloseTo(result.intakeMl, 1);
    expect(Math.abs(result.intakeMl - truth.intakeSoFarMl.at(-1)!)).toBeLessThan(1.5);
  });

  it('cues as the true intake would: too fast in the poured feed only, near its first crossing', () => {
    const first = result.cues.find(({ kind }) => kind === 'tilt-down');
    const crossings = truth.buckets.flatMap((bucket) => bucket.crossings);
    if (crossings.length === 0) expect(first).toBeUndefined();
    else {
      expect(first!.atSec).toBeGreaterThanOrEqual(Math.min(...crossings) - 3);
      expect(first!.atSec).toBeLessThanOrEqual(Math.min(...crossings) + 8);
    }
  });

  it('says the same of any prefix, as far as it goes: 20 cuts, most of them inside a frame', () => {
    const random = seededRandom(name === 'calm' ? 90 : 91);
    for (let i = 0; i < 20; i++) {
      const cut = Math.floor(random() * bytes.length);
      const part = replay([bytes.subarray(0, cut)], { ...options, refinable: false }).result;
      const rows = part.live.atSec.length;
      for (const [column, entries] of Object.entries(part.live)) {
        expect(entries).toEqual(live[column as keyof ReplayResult['live']].slice(0, rows));
      }
      expect(rows).toBe(live.atSec.filter((atSec) => atSec <= part.durationSec).length);
      expect(part.cues).toEqual(result.cues.filter(({ atSec }) => atSec <= part.durationSec));
      expect(part.events).toEqual(result.events.filter(({ atSec }) => atSec <= part.durationSec));
      expect(part.frames).toMatchObject({
        accepted: Math.floor(cut / FRAME_BYTES),
        rejected: cut % FRAME_BYTES > 1 ? 1 : 0,
      });
    }
  });

  it('says the same in any split of the bytes', () => {
    const random = seededRandom(5);
    const chunks: Uint8Array[] = [];
    for (let at = 0; at < bytes.length; ) {
      const length = 1 + Math.floor(random() * (random() < 0.1 ? 9000 : 90));
      chunks.push(bytes.subarray(at, at + length));
      at += length;
    }
    expect(replay(chunks, options).result).toEqual(result);
  });

  it('says the same with other traffic and junk between the frames; only the broken ones are counted', () => {
    const random = seededRandom(6);
    const talk = [
      sleeveAnswers.protocolVersion(2, 5),
      sleeveAnswers.firmware('ebbline-sleeve', 0, 1),
      sleeveAnswers.digitalPort(0, 0x10),
      sleeveAnswers.analogMapping(Array.from({ length: 20 }, () => null)),
      // A string, as Firmata sends texts.
      Uint8Array.of(0xf0, 0x71, 0x68, 0, 0x69, 0, 0xf7),
      Uint8Array.of(0xf7, 0xf7, 0x00, 0x7f, 0xff),
    ];
    let broken = 0;
    const parts: Uint8Array[] = [];
    for (let at = 0; at < bytes.length; at += FRAME_BYTES) {
      if (random() < 0.2) parts.push(talk[Math.floor(random() * talk.length)]!);
      if (random() < 0.05) {
        // The beginning of a sample that was cut off.
        parts.push(bytes.slice(at, at + 2 + Math.floor(random() * (FRAME_BYTES - 3))));
        broken++;
      }
      parts.push(bytes.subarray(at, at + FRAME_BYTES));
    }
    const noisy = replay([joined(parts)], options).result;
    expect(broken).toBeGreaterThan(100);
    expect(noisy.frames).toEqual({ ...result.frames, rejected: broken });
    expect({ ...noisy, frames: null }).toEqual({ ...result, frames: null });
  });
});

describe('a replay', () => {
  it('of nothing is nothing, and no error', () => {
    const { calibration } = readFixture('calm');
    const { result } = replay([], { calibration, portionMl: null });
    expect(result.frames.accepted).toBe(0);
    expect(result).toMatchObject({ durationSec: 0, intakeMl: 0, cues: [], live: { atSec: [] } });
  });

  it('of a lossy line still has two rows a second', () => {
    const { bytes, calibration } = simulateCapture({
      scenario: 'paced',
      seed: 3,
      longestSec: 60,
      overrides: { chip: { lossChance: 0.02, lossRun: [1, 3] } },
    });
    const { result } = replay([bytes], {
      calibration: parseCalibration(calibration, 'simulated'),
      portionMl: null,
    });
    expect(result.frames.missing).toBeGreaterThan(50);
    expectTwoRowsASecond(result.live.atSec);
  });

  it('tells how far it is', () => {
    const { bytes, calibration } = readFixture('calm');
    const done: number[] = [];
    const chunks = [bytes.subarray(0, 1000), bytes.subarray(1000, 1500)];
    replay(chunks, { calibration, portionMl: null }, (bytesDone) => done.push(bytesDone));
    expect(done).toEqual([1000, 1500]);
  });
});

describe('the replay of a sleeve with a gyroscope', () => {
  const { bytes, calibration } = readTurning();
  const options = { calibration, portionMl: null };
  const whole = replay([bytes], options).result;
  const SAMPLE_AND_MOTION_BYTES = 46;

  it('counts samples, not motions', () => {
    expect(whole.frames).toEqual({ accepted: 1600, rejected: 0, missing: 0, duplicates: 0 });
  });

  it('says the same of a prefix cut at each byte of two samples, as far as it goes', () => {
    const end = bytes.length - 40 * SAMPLE_AND_MOTION_BYTES;
    const step = runs({ quick: 3, all: 1 });
    for (let cut = end; cut < end + 2 * SAMPLE_AND_MOTION_BYTES; cut += step) {
      const { live, cues } = replay([bytes.subarray(0, cut)], { ...options, refinable: false }).result;
      expect(live.atSec.length).toBeGreaterThan(40);
      for (const [name, column] of Object.entries(live)) {
        expect(column).toEqual(whole.live[name as keyof typeof live].slice(0, column.length));
      }
      expect(cues).toEqual(whole.cues.slice(0, cues.length));
    }
  });

  it('says the same in any split of the bytes', () => {
    const bytewise = Array.from(bytes, (byte) => Uint8Array.of(byte));
    expect(replay(bytewise, options).result).toEqual(whole);
  });
});
