/** A gyroscope that does not fit the sleeve is found within a feed and reported once; the feed goes on without it. */
import { describe, expect, it } from 'vitest';
import {
  createSensor,
  parseCalibration,
  type SensorFault,
  senseSample,
  takeEvents,
} from '../../src/sensing/index.ts';
import { laidOver, type Overrides } from '../../src/simulation/parameters.ts';
import { readSecond, SECOND_SIMULATOR, samplesOf } from '../support/captures.ts';
import { MOTION_FAULTS } from '../support/hardships.ts';
import { judge } from '../support/judge.ts';
import { sense } from '../support/sensed-feed.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

function faultsIn(overrides: Overrides, longestSec: number) {
  const { bytes, calibration, truth } = simulateCapture({
    scenario: 'paced',
    seed: 13,
    longestSec,
    overrides,
  });
  const sensed = sense(samplesOf(bytes), calibration);
  const faults = sensed.events.flatMap((event) => (event.kind === 'sensor-fault' ? [event.fault] : []));
  return { faults, judged: judge(sensed.moments, truth) };
}

const sound = faultsIn({}, 150);

describe('a gyroscope that does not fit', () => {
  it.each<[keyof typeof MOTION_FAULTS, SensorFault[]]>([
    ['gyroscope stuck', ['gyroscope-stuck']],
    ['gyroscope saturated', ['gyroscope-saturated', 'gyroscope-stuck']],
    ['gyroscope axes swapped', ['gyroscope-disagrees']],
    ['gyroscope sign turned', ['gyroscope-disagrees']],
    ['wrong place of the accelerometer', ['accelerometer-place']],
  ])('%s: found, and the feed is no worse than by a third', (name, expected) => {
    const { faults, judged } = faultsIn(MOTION_FAULTS[name], 150);
    expect(faults).toEqual(expected);
    expect(judged.flowRmsMlPerMin).toBeLessThan(1.34 * sound.judged.flowRmsMlPerMin);
  });

  it('that reports motions of missing samples has no effect', () => {
    const { faults, judged } = faultsIn(MOTION_FAULTS['motion without its sample'], 150);
    expect(faults).toEqual([]);
    expect(judged.flowRmsMlPerMin).toBeLessThan(1.34 * sound.judged.flowRmsMlPerMin);
  });
});

it('the gyroscope’s bias is followed while the bottle stands', () => {
  const { bytes, calibration } = simulateCapture({ scenario: 'paced', seed: 13, longestSec: 7 });
  const off = structuredClone(calibration);
  const DEG = 0.8;
  off.gyroscope!.biasDps[1] -= DEG;
  const biasOf = (content: unknown): number => {
    const sensor = createSensor(parseCalibration(content, 'of the test'), { refinable: false });
    for (const sample of samplesOf(bytes)) senseSample(sensor, sample);
    return (sensor.turnBias[1]! * 180) / Math.PI;
  };
  expect(biasOf(off) - biasOf(calibration)).toBeGreaterThan(0.7 * DEG);
  expect(biasOf(off) - biasOf(calibration)).toBeLessThan(1.1 * DEG);
});

it('cells that are 100 ms late are reported, and their delay is used', () => {
  const late = laidOver({ sensors: { cellDelayMs: 105 } });
  const { bytes, calibration } = simulateCapture({
    scenario: 'paced',
    seed: 13,
    longestSec: 90,
    overrides: late,
  });
  const sensor = createSensor(parseCalibration(calibration, 'of the test'), { refinable: false });
  const faults: SensorFault[] = [];
  for (const sample of samplesOf(bytes)) {
    if (senseSample(sensor, sample) === null) continue;
    for (const event of takeEvents(sensor)) if (event.kind === 'sensor-fault') faults.push(event.fault);
  }
  expect(faults).toEqual(['late-cells']);
  expect(sensor.delay.delaySamples * 12.5).toBeGreaterThan(85);
});

describe('a sleeve in which all fits', () => {
  it('reports nothing', () => {
    expect(sound.faults).toEqual([]);
  });

  it.each(SECOND_SIMULATOR)('nor does the second simulator’s: %s', (name) => {
    const { bytes, calibration } = readSecond(name);
    const { events } = sense(samplesOf(bytes), calibration);
    expect(events.filter(({ kind }) => kind === 'sensor-fault')).toEqual([]);
  });
});
