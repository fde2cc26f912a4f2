/** The capture fixtures: first 90 s of two feeds with known truth, made by a simulator that is not part of this project. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { createSampleReader } from '../../firmware-bridge/wire/index.ts';
import type { Calibration, SensorSample } from '../../src/sensing/index.ts';
import { readCalibration } from '../../src/sensing/index.ts';
import type { Truth } from './judge.ts';

export type CaptureName = 'calm' | 'poured';
export const CAPTURE_NAMES: readonly CaptureName[] = ['calm', 'poured'];

/** First 20 s of a feed by another simulator, whose sleeve has a gyroscope: a motion after each sample. */
export function readTurning(): { bytes: Uint8Array; calibration: Calibration } {
  const path = (ending: string) =>
    fileURLToPath(new URL(`../fixtures/captures/turning-20s.${ending}`, import.meta.url));
  return {
    bytes: gunzipSync(readFileSync(path('cap.gz'))),
    calibration: readCalibration(readFileSync(path('cal.json'), 'utf8'), 'turning'),
  };
}

export const capturePath = (name: CaptureName, ending: 'cap.gz' | 'cal.json' | 'truth.json'): string =>
  fileURLToPath(new URL(`../fixtures/captures/${name}-90s.${ending}`, import.meta.url));

export interface CaptureFixture {
  bytes: Uint8Array;
  calibration: Calibration;
  truth: Truth & { buckets: { rateMlPerMin: number; depthMl: number; crossings: number[] }[] };
}

export function readFixture(name: CaptureName): CaptureFixture {
  return {
    bytes: gunzipSync(readFileSync(capturePath(name, 'cap.gz'))),
    calibration: readCalibration(readFileSync(capturePath(name, 'cal.json'), 'utf8'), name),
    truth: JSON.parse(readFileSync(capturePath(name, 'truth.json'), 'utf8')),
  };
}

export const SECOND_SIMULATOR = ['g-dumped', 'r-letdown', 'g-spill', 'r-vary'] as const;

/** Feeds by a second simulator with an ordinary hand, mouth and sleeve; `g-` with a gyroscope. Shortened, except for the spill. */
export function readSecond(name: (typeof SECOND_SIMULATOR)[number]): CaptureFixture {
  const path = (ending: string) =>
    fileURLToPath(new URL(`../fixtures/second-simulator/${name}.${ending}`, import.meta.url));
  return {
    bytes: gunzipSync(readFileSync(path('cap.gz'))),
    calibration: readCalibration(readFileSync(path('cal.json'), 'utf8'), name),
    truth: JSON.parse(readFileSync(path('truth.json'), 'utf8')),
  };
}

/** All samples of a capture, in device time. */
export function samplesOf(bytes: Uint8Array): SensorSample[] {
  const samples: SensorSample[] = [];
  createSampleReader((sample) => samples.push(sample)).take(bytes);
  return samples;
}
