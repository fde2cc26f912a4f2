/** The values of one block of four samples: loads, felt force and hold, for the next step. */
import { STANDARD_GRAVITY_MPS2 } from '../../base/units.ts';
import { MEASUREMENT } from '../noise.ts';
import { noteFault, type Sensor } from '../sensor-state.ts';
import type { Held } from './balance.ts';
import { blockFx, blockFz, blockMoment, clearBlock } from './block.ts';
import { checkTurning, gyroscopeFits } from './turn-check.ts';

/** Beyond 70° of roll in a level hold the cells feel hardly any weight: at least this share of the felt force must lie in their plane. */
export const IN_PLANE_LEAST = Math.cos((70 * Math.PI) / 180);
/** An accelerometer may fail for this long before its last direction is no longer used. */
export const ACCELEROMETER_AWAY_SEC = 0.2;

export interface BlockReading extends Held {
  atSec: number;
  stepSec: number;
  /** Mean loads, N and N·m; 0 where no sample of the block was good. */
  fxN: number;
  fzN: number;
  momentNm: number;
  transverse: boolean;
  axial: boolean;
  /** Part of the felt acceleration in the x–z plane, g², and its share. */
  inPlane2: number;
  inPlaneShare: number;
  /** True when the direction is known and the cells feel enough of the weight. */
  felt: boolean;
  /** Tilt and roll of a surface that follows the felt force with the nominal lag, rad. */
  tiltRad: number;
  rollRad: number;
  /** How fast the tilt changes, rad/s. */
  turnRadPerSec: number;
  /** Restlessness of the hand; 1 = usual. */
  motion: number;
}

const reading: BlockReading = {
  atSec: 0,
  stepSec: 0,
  fxN: 0,
  fzN: 0,
  momentNm: 0,
  transverse: false,
  axial: false,
  ax: 0,
  az: 0,
  axPerM: 0,
  azPerM: 0,
  accelerometerZM: 0,
  angularRadPerSec2: 0,
  inPlane2: 0,
  inPlaneShare: 0,
  felt: false,
  tiltRad: 0,
  rollRad: 0,
  feltTiltRad: 0,
  rollShare: 1,
  turnRadPerSec: 0,
  motion: 1,
};

/** Reads the sensor's full block and empties it. The result object is overwritten by the next call. */
export function readBlock(sensor: Sensor, atSec: number): BlockReading {
  const { block } = sensor;
  const { sums, count } = block;
  reading.atSec = atSec;
  reading.stepSec = Math.max(1e-3, atSec - sensor.lastBlockSec);
  sensor.lastBlockSec = atSec;
  reading.transverse = block.loadCount > 0;
  reading.axial = block.axialCount > 0;
  reading.fxN = reading.transverse ? blockFx(block) : 0;
  reading.fzN = reading.axial ? blockFz(block) : 0;
  reading.momentNm = reading.transverse ? blockMoment(block) : 0;
  const ax = sums[0]! / count;
  const ay = sums[1]! / count;
  const az = sums[2]! / count;
  const sx = sums[3]! / count;
  const sy = sums[4]! / count;
  const sz = sums[5]! / count;
  sensor.turnUsable = block.turnCount === count && gyroscopeFits(sensor.turnCheck);
  const turnY = sums[7]! / count;
  const turnZ = sums[8]! / count;
  const turnX = sums[6]! / count;
  readTurn(sensor, turnX, turnY, turnZ);
  clearBlock(block);
  // The sensor sits beside the axis and feels turning too: this converts to the axis.
  const besideM = sensor.turnUsable ? sensor.accelerometerXM / STANDARD_GRAVITY_MPS2 : 0;
  reading.ax = ax + (turnY * turnY + turnZ * turnZ) * besideM;
  reading.az = az + reading.angularRadPerSec2 * besideM;
  reading.inPlane2 = reading.ax * reading.ax + reading.az * reading.az;
  reading.inPlaneShare = Math.sqrt(reading.inPlane2) / Math.max(1e-6, Math.sqrt(reading.inPlane2 + ay * ay));
  reading.felt =
    sensor.awaySec.accelerometer < ACCELEROMETER_AWAY_SEC && reading.inPlaneShare > IN_PLANE_LEAST;
  const across = Math.sqrt(sx * sx + sy * sy);
  const tiltRad = Math.atan2(across, sz);
  reading.turnRadPerSec = Number.isNaN(sensor.lastTiltRad)
    ? 0
    : (tiltRad - sensor.lastTiltRad) / reading.stepSec;
  sensor.lastTiltRad = tiltRad;
  reading.tiltRad = tiltRad;
  reading.rollRad = Math.atan2(sy, sx);
  const feltAcross = Math.sqrt(ax * ax + ay * ay);
  reading.feltTiltRad = Math.atan2(feltAcross, az);
  reading.rollShare = feltAcross > 1e-6 ? ax / feltAcross : 1;
  reading.motion = motionOf(sensor);
  if (sensor.turnUsable) {
    const fault = checkTurning(
      sensor.turnCheck,
      reading.stepSec,
      turnX,
      turnY,
      reading.feltTiltRad,
      Math.atan2(ay, ax),
    );
    noteFault(sensor, fault, atSec);
  }
  return reading;
}

/** The part that turning adds to the felt force per metre along the axis (sleeve contract, section 1): a = α × r + ω × (ω × r). */
function readTurn(sensor: Sensor, x: number, y: number, z: number): void {
  const before = sensor.lastTurnY;
  sensor.lastTurnY = sensor.turnUsable ? y : Number.NaN;
  const known = sensor.turnUsable && !Number.isNaN(before);
  const angular = known ? (y - before) / reading.stepSec : 0;
  reading.accelerometerZM = sensor.accelerometerZM;
  reading.angularRadPerSec2 = angular;
  reading.axPerM = known ? (angular + x * z) / STANDARD_GRAVITY_MPS2 : 0;
  reading.azPerM = known ? -(x * x + y * y) / STANDARD_GRAVITY_MPS2 : 0;
}

function motionOf({ motionG2 }: Sensor): number {
  const scatterG = Math.sqrt(Math.max(0, motionG2 - MEASUREMENT.motionFloorG ** 2));
  return Math.min(6, Math.max(0.15, scatterG / MEASUREMENT.motionUsualG));
}
