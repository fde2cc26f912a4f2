/** One built sleeve: its cells, accelerometer and, where it has one, gyroscope, and their calibration. */

import { Random } from '../base/random.ts';
import {
  exactCalibration,
  foundGyroscope,
  goodCalibration,
  type SleeveCalibration,
  withMotionParts,
} from './calibration.ts';
import { drawGyroscope, drawSleeve } from './drawn-sleeve.ts';
import type { FeedParameters } from './parameters.ts';
import { Accelerometer, type CellReading, Cells, Gyroscope } from './sensors.ts';
import type { Triple } from './vectors.ts';

export interface SleeveReading {
  cells: CellReading;
  accelerometer: Triple;
  gyroscope: Triple | null;
}

export class SleeveSensors {
  /** With the errors of a good calibration, and exact (sleeve contract, section 4). */
  readonly calibration: SleeveCalibration;
  readonly exactCalibration: SleeveCalibration;
  readonly #cells: Cells;
  readonly #accelerometer: Accelerometer;
  readonly #gyroscope: Gyroscope | null;

  constructor(parameters: FeedParameters, seed: number, stepSec: number) {
    const { sensors, calibrationErrorScale } = parameters;
    const sleeve = drawSleeve(new Random(seed, 'sleeve'));
    const gyroscope = sensors.gyroscope ? drawGyroscope(sensors, new Random(seed, 'gyroscope itself')) : null;
    const exact = exactCalibration(sleeve, parameters.bottle, `simulated-${seed}`);
    const good = goodCalibration(exact, new Random(seed, 'calibration'), calibrationErrorScale);
    const random = new Random(seed, 'calibration of the gyroscope');
    const found = gyroscope && foundGyroscope(gyroscope, random, calibrationErrorScale);
    const accelerometerMm = parameters.statedAccelerometerMm ?? sensors.accelerometerMm;
    this.exactCalibration = withMotionParts(exact, { accelerometerMm, gyroscope });
    this.calibration = withMotionParts(good, { accelerometerMm, gyroscope: found });
    this.#cells = new Cells(sleeve, sensors, seed, stepSec);
    this.#accelerometer = new Accelerometer(sleeve, sensors, seed, stepSec);
    this.#gyroscope = gyroscope && new Gyroscope(gyroscope, sensors, seed, stepSec);
  }

  /** Once per sample. @param loads N, N, N·m @param feltG at the accelerometer @param radPerSec about x, y, z */
  read(loads: Readonly<Triple>, feltG: Readonly<Triple>, radPerSec: Readonly<Triple>): SleeveReading {
    return {
      cells: this.#cells.read(loads),
      accelerometer: this.#accelerometer.read(feltG),
      gyroscope: this.#gyroscope?.read(radPerSec) ?? null,
    };
  }
}
