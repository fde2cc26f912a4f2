/** A short simulated feed, run through the sensor, with its truth beside it. */
import {
  createSensor,
  parseCalibration,
  type RefinedFeed,
  refineFeed,
  type SensedMoment,
  type SensingEvent,
  type SensorSample,
  senseSample,
  takeEvents,
} from '../../src/sensing/index.ts';
import type { FeedTruth } from '../../src/simulation/truth.ts';
import { samplesOf } from './captures.ts';
import { type CaptureOptions, simulateCapture } from './simulated-capture.ts';

export interface SensedFeed {
  moments: SensedMoment[];
  events: SensingEvent[];
  /** Computed when first used. */
  readonly refined: RefinedFeed;
  truth: FeedTruth;
}

export function sense(samples: readonly SensorSample[], calibration: unknown): Omit<SensedFeed, 'truth'> {
  const sensor = createSensor(parseCalibration(calibration, 'of the simulated sleeve'));
  const moments: SensedMoment[] = [];
  const events: SensingEvent[] = [];
  for (const sample of samples) {
    const moment = senseSample(sensor, sample);
    if (moment === null) continue;
    moments.push(moment);
    events.push(...takeEvents(sensor));
  }
  let refined: RefinedFeed | null = null;
  return {
    moments,
    events,
    get refined() {
      refined ??= refineFeed(sensor);
      return refined;
    },
  };
}

export function sensedFeed(options: CaptureOptions): SensedFeed {
  const { bytes, calibration, truth } = simulateCapture(options);
  return Object.assign(sense(samplesOf(bytes), calibration), { truth });
}
