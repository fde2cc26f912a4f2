import { describe, expect, it } from 'vitest';
import { gyroscopeEntry, gyroscopeWords, gyroscopeZero } from '../../src/calibration/fit/gyroscope.ts';
import { type Hold, type HoldSample, holdFromSamples } from '../../src/calibration/walk/hold.ts';
import { outcomeOf } from '../../src/calibration/walk/outcome.ts';
import { begun, benchFor, walked } from '../support/calibration-walk.ts';
import { seededRandom } from '../support/random.ts';

type Triple = [number, number, number];

const resting = (gyroscope: (i: number) => Triple | null | undefined, count = 240): HoldSample[] =>
  Array.from({ length: count }, (_, i) => {
    const turn = gyroscope(i);
    return {
      atSec: i / 80,
      cells: [1000 + (i % 2), 2000, 3000],
      accelerometer: [0, 0, 8192],
      flags: 0,
      missingBefore: 0,
      resetBefore: false,
      ...(turn !== undefined && { gyroscope: turn }),
    };
  });
const showing = (dps: Triple): Hold =>
  holdFromSamples(resting((i) => dps.map((v) => 65.5 * v + (i % 2 ? 3 : -3)) as Triple));

describe('a hold', () => {
  it('has the mean of the gyroscope where most samples came with it, and none else', () => {
    expect(holdFromSamples(resting(() => [65, -131, 3])).gyroscope).toEqual([65, -131, 3]);
    expect(holdFromSamples(resting((i) => (i % 10 === 0 ? null : [65, -131, 3]))).gyroscope).toEqual([
      65, -131, 3,
    ]);
    expect(holdFromSamples(resting((i) => (i > 100 ? null : [65, -131, 3]))).gyroscope).toBeUndefined();
    expect(holdFromSamples(resting(() => undefined))).not.toHaveProperty('gyroscope');
  });
});

describe('the zero of the gyroscope', () => {
  it('is what it shows at rest, in °/s; a hold with a hand in it does not move it', () => {
    const holds = Array.from({ length: 9 }, (_, i) => showing([0.4 + 0.01 * (i - 4), -1.1, 0.2]));
    const zero = gyroscopeZero([...holds, showing([30, 12, -20])]);
    expect(zero.kind).toBe('good');
    const entry = gyroscopeEntry(zero)!;
    [0.4, -1.1, 0.2].forEach((dps, axis) => {
      expect(Math.abs(entry.biasDps[axis]! - dps)).toBeLessThan(0.01);
    });
    expect(entry.scale).toEqual([1, 1, 1]);
  });

  it('is not made up where there is none, or too few holds', () => {
    expect(gyroscopeZero([])).toEqual({ kind: 'none' });
    expect(gyroscopeZero(Array.from({ length: 5 }, () => showing([1, 1, 1])))).toEqual({ kind: 'none' });
    expect(gyroscopeEntry({ kind: 'none' })).toBeNull();
  });

  it('is not used where no good chip shows it, and that is said', () => {
    const zero = gyroscopeZero(Array.from({ length: 8 }, () => showing([0, 24, 0])));
    expect(zero.kind).toBe('implausible');
    expect(gyroscopeEntry(zero)).toBeNull();
    expect(gyroscopeWords(zero)).toMatch(/24\.00.*not used/);
  });
});

describe('the calibration file', () => {
  const facts = () => ({
    finishedAt: '2026-01-05T09:40:00Z',
    softwareVersion: '1.2.3',
    uniform01: seededRandom(1),
    accelerometerPositionMm: [-41.6, 0, 65] as const,
  });
  const { walk } = walked(benchFor(21), begun(21));
  const withoutMotion = Object.fromEntries(
    Object.entries(walk.holds).map(([id, { gyroscope: _, ...hold }]) => [id, hold]),
  );
  const withMotion = Object.fromEntries(
    Object.entries(withoutMotion).map(([id, hold]) => [id, { ...hold, gyroscope: [26, -72, 13] as Triple }]),
  );

  it('has the gyroscope’s zero and the accelerometer’s place of a sleeve that has them', () => {
    const { calibration, gyroscope } = outcomeOf({ ...walk, holds: withMotion }, facts());
    expect(gyroscope.kind).toBe('good');
    expect(calibration.gyroscope).toEqual({ biasDps: [0.397, -1.099, 0.198], scale: [1, 1, 1] });
    expect(calibration.accelerometer.positionMm).toEqual([-41.6, 0, 65]);
  });

  it('has none for a sleeve without, whose walk is as before', () => {
    const { calibration, gyroscope } = outcomeOf({ ...walk, holds: withoutMotion }, facts());
    expect(gyroscope).toEqual({ kind: 'none' });
    expect(calibration).not.toHaveProperty('gyroscope');
  });
});
