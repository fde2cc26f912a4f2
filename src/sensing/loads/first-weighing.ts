/** At the start, and after a gap in which anything may have happened, the still bottle is weighed for a second before the estimate is used. */
import { gramsFromNewtons } from '../../base/units.ts';
import { MEASUREMENT } from '../noise.ts';
import type { Sensor } from '../sensor-state.ts';
import { type Arm, armAt, balanceReading, createArm } from './balance.ts';
import type { BlockReading } from './reading.ts';

const NEEDED_SEC = 1;
const SMOOTH_SEC = 0.2;
/** Limits for a still, free bottle: scatter, force across gravity, difference of weight and balance, g. */
const JUMP_GRAMS = 3;
const BESIDE_GRAMS = 12;
const DISAGREE_GRAMS = 6;
/** Lighter than the empty bottle by more than this: no bottle. Heavier than the full one by more: another bottle. */
const LESS_THAN_EMPTY_GRAMS = 8;
const MORE_THAN_FULL_ML = 40;
const RESTLESS = 3;

const arm: Arm = createArm();

/**
 * Takes one block. @returns the milk, g, once the blocks of a second agree that a still, free bottle hangs there; else null
 */
export function tryWeighing(sensor: Sensor, reading: BlockReading): number | null {
  const { firstWeighing, bottle, densityGramsPerMl } = sensor;
  const { fxN, fzN, ax, az, inPlane2, stepSec } = reading;
  const milkNow = gramsFromNewtons(fxN * ax + fzN * az) / inPlane2 - bottle.emptyMassGrams;
  const volumeMl = Math.max(milkNow, 0) / densityGramsPerMl;
  armAt(bottle, volumeMl, reading, arm);
  const apart =
    Math.abs(arm.arm) < MEASUREMENT.minArm ? 0 : balanceReading(bottle, reading, milkNow) / arm.arm - milkNow;
  // A hand trembles, so the mean of several blocks is used.
  const gain = firstWeighing.begun ? Math.min(1, stepSec / SMOOTH_SEC) : 1;
  firstWeighing.begun = true;
  firstWeighing.milkGrams += (milkNow - firstWeighing.milkGrams) * gain;
  firstWeighing.besideGrams +=
    (gramsFromNewtons(fxN * az - fzN * ax) / Math.sqrt(inPlane2) - firstWeighing.besideGrams) * gain;
  firstWeighing.apartGrams += (apart - firstWeighing.apartGrams) * gain;
  const milk = firstWeighing.milkGrams;
  const agrees = Math.abs(firstWeighing.apartGrams) < DISAGREE_GRAMS;
  const inSleeve =
    milk > -LESS_THAN_EMPTY_GRAMS && milk / densityGramsPerMl < bottle.table.capacityMl + MORE_THAN_FULL_ML;
  const still =
    reading.motion < RESTLESS && Math.abs(firstWeighing.besideGrams) < BESIDE_GRAMS && agrees && inSleeve;
  const jump = Math.abs(milk - firstWeighing.meanGrams) > JUMP_GRAMS;
  if (!still || (firstWeighing.sec > 0 && jump)) {
    firstWeighing.sec = still ? stepSec : 0;
    firstWeighing.meanGrams = milk;
    return null;
  }
  firstWeighing.sec += stepSec;
  firstWeighing.meanGrams += (milk - firstWeighing.meanGrams) * Math.max(0.05, stepSec / firstWeighing.sec);
  return firstWeighing.sec >= NEEDED_SEC ? firstWeighing.meanGrams : null;
}
