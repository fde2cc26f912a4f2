/** The constants of one simulated sleeve, drawn by seed. */

import type { Random } from '../base/random.ts';
import { mapTriple } from '../base/typed.ts';
import type { SensorParameters } from './sensors.ts';
import type { Matrix, Triple } from './vectors.ts';

/** Constants that differ between built sleeves; drawn once per sleeve. */
export interface SleeveConstants {
  /** Rows Fx (N), Fz (N), M (N·m); columns axial, front, rear (sleeve contract, section 4). */
  loadPerCount: Matrix;
  zeroCounts: Triple;
  accelerometerBiasG: Triple;
  accelerometerScale: Triple;
}

/** Positions of the front and rear cell along the bottle, and a usual gain of each cell: invented, plausible values. */
const FRONT_CELL_Z_M = 0.095;
const REAR_CELL_Z_M = 0.0215;
const AXIAL_N_PER_COUNT = 4e-6;
const CROSS_N_PER_COUNT = 3.1e-6;

export function drawSleeve(random: Random): SleeveConstants {
  const gain = (newtons: number): number => newtons * (1 + 0.03 * random.normal());
  const crosstalk = (newtons: number): number => newtons * 0.01 * random.normal();
  const axial = gain(AXIAL_N_PER_COUNT);
  const front = gain(CROSS_N_PER_COUNT);
  const rear = gain(CROSS_N_PER_COUNT);
  const frontZ = FRONT_CELL_Z_M + 0.0005 * random.normal();
  const rearZ = REAR_CELL_Z_M + 0.0005 * random.normal();
  const aboutZero = (size: number): Triple => mapTriple([0, 0, 0], () => size * random.normal());
  return {
    loadPerCount: [
      [crosstalk(axial), front, rear],
      [axial, crosstalk(front), crosstalk(rear)],
      [crosstalk(axial) * 0.1, front * frontZ, rear * rearZ],
    ],
    zeroCounts: mapTriple(aboutZero(35000), Math.round),
    accelerometerBiasG: aboutZero(0.02),
    accelerometerScale: mapTriple(aboutZero(0.01), (off) => 1 + off),
  };
}

/** Constants that differ between gyroscopes. */
export interface GyroscopeConstants {
  biasDps: Triple;
  scale: Triple;
}

export function drawGyroscope({ gyroscopeBiasDps }: SensorParameters, random: Random): GyroscopeConstants {
  const three = (draw: () => number): Triple => [draw(), draw(), draw()];
  return {
    biasDps: three(() => random.between([-gyroscopeBiasDps, gyroscopeBiasDps])),
    scale: three(() => 1 + 0.01 * random.normal()),
  };
}
