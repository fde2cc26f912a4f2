import { describe, expect, it } from 'vitest';
import { createSampleReader, type TimedSample } from '../../firmware-bridge/wire/index.ts';
import { readTurning } from '../support/captures.ts';

const { bytes } = readTurning();

function read(splitBytes: number, ends: boolean): TimedSample[] {
  const samples: TimedSample[] = [];
  const reader = createSampleReader((sample) => samples.push(sample));
  for (let at = 0; at < bytes.length; at += splitBytes) reader.take(bytes.subarray(at, at + splitBytes));
  if (ends) reader.end();
  return samples;
}

describe('a reader of samples', () => {
  it('gives the same in any split, each sample after the first with its turning', () => {
    const whole = read(bytes.length, true);
    expect(whole.length).toBeGreaterThan(19 * 80);
    expect(whole.slice(1).every(({ gyroscope }) => gyroscope !== null)).toBe(true);
    for (const splitBytes of [1, 7, 1000]) expect(read(splitBytes, true)).toEqual(whole);
  });

  it('passes on the last sample at the end, where its motion never came', () => {
    const samples: TimedSample[] = [];
    const reader = createSampleReader((sample) => samples.push(sample));
    // The last message is the motion of the last sample.
    reader.take(bytes.subarray(0, bytes.length - 3));
    const before = samples.length;
    reader.end();
    expect(samples.length).toBe(before + 1);
    expect(samples.at(-1)).toMatchObject({ gyroscope: null });
  });
});
