/**
 * Effect of turning on the felt force. The bottle is rigid; its axes are those of the sleeve contract, section 1: z from base to teat, x up
 * when the bottle lies level, y = z × x. Tilting up by θ turns z from up towards −x, so the rate about y is −dθ/dt; roll turns x towards −y.
 */
import { STANDARD_GRAVITY_MPS2 } from '../base/units.ts';
import type { Triple } from './vectors.ts';

/** Angular velocity (rad/s) and angular acceleration (rad/s²) about the bottle's own x, y, z. */
export interface Turn {
  readonly rate: Triple;
  readonly acceleration: Triple;
}

export const STILL: Turn = { rate: [0, 0, 0], acceleration: [0, 0, 0] };

/** An angle with its first two derivatives: rad, rad/s, rad/s². */
export interface MovingAngle {
  readonly rad: number;
  readonly radPerSec: number;
  readonly radPerSec2: number;
}

/** @param turn set to the turning of the bottle for this motion of tilt and roll */
export function setTurn(turn: Turn, tilt: MovingAngle, roll: MovingAngle): void {
  const sine = Math.sin(roll.rad);
  const cosine = Math.cos(roll.rad);
  turn.rate[0] = tilt.radPerSec * sine;
  turn.rate[1] = -tilt.radPerSec * cosine;
  turn.rate[2] = -roll.radPerSec;
  const mixed = tilt.radPerSec * roll.radPerSec;
  turn.acceleration[0] = tilt.radPerSec2 * sine + mixed * cosine;
  turn.acceleration[1] = -tilt.radPerSec2 * cosine + mixed * sine;
  turn.acceleration[2] = -roll.radPerSec2;
}

/**
 * Specific force at another point of a turning rigid body: f + (α × r + ω × (ω × r)) / g0 (kinematics of the rigid body, any handbook).
 * @param feltG felt force at the point `fromZMm` on the axis, g
 * @param at [x, y, z] of the other point, mm
 * @param out filled and returned, g
 */
export function feltAt(
  feltG: Readonly<Triple>,
  fromZMm: number,
  { rate, acceleration }: Turn,
  at: Readonly<Triple>,
  out: Triple,
): Triple {
  const perMm = 1 / 1000 / STANDARD_GRAVITY_MPS2;
  const x = at[0] * perMm;
  const y = at[1] * perMm;
  const z = (at[2] - fromZMm) * perMm;
  const [wx, wy, wz] = rate;
  const [ax, ay, az] = acceleration;
  const along = wx * x + wy * y + wz * z;
  const square = wx * wx + wy * wy + wz * wz;
  out[0] = feltG[0] + ay * z - az * y + wx * along - square * x;
  out[1] = feltG[1] + az * x - ax * z + wy * along - square * y;
  out[2] = feltG[2] + ax * y - ay * x + wz * along - square * z;
  return out;
}
