/** Counts to loads to milk, flow, mouth and sucks. Pure: no clock, no disk, no RxJS. */

export { createLatestIntakes, type LatestIntakes, readLatestIntakes } from './filter/latest-intakes.ts';
export type { EarlierSucks } from './filter/milk-noise.ts';
export { type Calibration, parseCalibration, readCalibration } from './loads/calibration.ts';
export type { SensorSample } from './loads/loads.ts';
export type {
  Quality,
  QualityReason,
  RefinedFeed,
  SensedMoment,
  SensingEvent,
  SensorFault,
} from './moment.ts';
export { refineFeed } from './refine/refine.ts';
export { noteLoneMotion, senseSample } from './sensor.ts';
export { createSensor, type Sensor, type SensorOptions, takeEvents } from './sensor-state.ts';
