/** Counts to loads to milk, flow, mouth and sucks. Pure: no clock, no disk, no RxJS. */
export { type Calibration, parseCalibration, readCalibration } from './calibration.ts';
export type { SensorSample } from './loads.ts';
export type { Quality, QualityReason, RefinedFeed, SensedMoment, SensingEvent } from './moment.ts';
export { refineFeed } from './refine.ts';
export {
  createSensor,
  createTrail,
  readTrail,
  type Sensor,
  type SensorOptions,
  senseSample,
  type Trail,
  takeEvents,
} from './sensor.ts';
