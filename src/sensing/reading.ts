/** One block of four samples, read out: loads, felt force and hold, for the step that follows. */
import { blockFx, blockFz, blockMoment, clearBlock } from './block.ts';
import { MEASUREMENT } from './noise.ts';
import type { Sensor } from './sensor-state.ts';

/** Beyond 70° of roll in a level hold hardly any cell feels the weight: this share of the felt force must lie in their plane. */
export const IN_PLANE_LEAST = Math.cos((70 * Math.PI) / 180);
/** An accelerometer may be away for so long before the last direction is no longer believed. */
export const ACCELEROMETER_AWAY_SEC = 0.2;

export interface BlockReading {
  atSec: number;
  stepSec: number;
  /** Mean loads, N and N·m; 0 where no sample of the block was good. */
  fxN: number;
  fzN: number;
  momentNm: number;
  transverse: boolean;
  axial: boolean;
  /** Felt acceleration, g, and what of it lies in the x–z plane. */
  ax: number;
  az: number;
  inPlane2: number;
  inPlaneShare: number;
  /** The direction is known, and the cells feel enough of the weight. */
  felt: boolean;
  /** Tilt and roll of the milk's surface, rad, and fx/√(fx² + fy²) of it. */
  tiltRad: number;
  rollRad: number;
  rollShare: number;
  /** How fast the tilt changes, rad/s. */
  turnRadPerSec: number;
  /** How restless the hand is; 1 as usual. */
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
  inPlane2: 0,
  inPlaneShare: 0,
  felt: false,
  tiltRad: 0,
  rollRad: 0,
  rollShare: 1,
  turnRadPerSec: 0,
  motion: 1,
};

/** Reads the sensor's full block and empties it. The result is one object for all, overwritten by the next call. */
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
  clearBlock(block);
  reading.ax = ax;
  reading.az = az;
  reading.inPlane2 = ax * ax + az * az;
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
  reading.rollShare = across > 1e-6 ? sx / across : 1;
  reading.motion = motionOf(sensor);
  return reading;
}

function motionOf({ motionG2 }: Sensor): number {
  const scatterG = Math.sqrt(Math.max(0, motionG2 - MEASUREMENT.motionFloorG ** 2));
  return Math.min(6, Math.max(0.15, scatterG / MEASUREMENT.motionUsualG));
}
