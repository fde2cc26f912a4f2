/** Counts to loads to milk, flow, mouth and sucks. Pure: no clock, no disk, no RxJS. */
export { type Calibration, parseCalibration, readCalibration } from './calibration.ts';
export type { SensorSample } from './loads.ts';
export type {
  Quality,
  QualityReason,
  RefinedFeed,
  SensedMoment,
  SensingEvent,
  SensorFault,
} from './moment.ts';
export { refineFeed } from './refine.ts';
export { senseSample } from './sensor.ts';
export { createSensor, type Sensor, type SensorOptions, takeEvents } from './sensor-state.ts';
export { createTrail, readTrail, type Trail } from './trail.ts';
