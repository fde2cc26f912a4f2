/** Before anything is believed, the still bottle is weighed for a second; and again after a gap in which anything may have happened. */
import { gramsFromNewtons } from '../../base/units.ts';
import { MEASUREMENT } from '../noise.ts';
import type { Sensor } from '../sensor-state.ts';
import { type Arm, armAt, balanceReading, createArm } from './balance.ts';
import type { BlockReading } from './reading.ts';

const NEEDED_SEC = 1;
const SMOOTH_SEC = 0.2;
/** What a still bottle that nobody holds on to may show: scatter, force beside gravity, weight against balance, g. */
const JUMP_GRAMS = 3;
const BESIDE_GRAMS = 12;
const DISAGREE_GRAMS = 6;
/** Lighter than empty by more: no bottle. Fuller than full by more: not this bottle. */
const LESS_THAN_EMPTY_GRAMS = 8;
const MORE_THAN_FULL_ML = 40;
const RESTLESS = 3;

const arm: Arm = createArm();

/**
 * One block. Once a second of them agrees that a still bottle hangs there and nobody pulls at it, gives its milk in grams; else null.
 */
export function tryWeighing(sensor: Sensor, reading: BlockReading): number | null {
  const { firstWeighing, bottle, densityGramsPerMl } = sensor;
  const { fxN, fzN, ax, az, inPlane2, stepSec } = reading;
  const milkNow = gramsFromNewtons(fxN * ax + fzN * az) / inPlane2 - bottle.emptyMassGrams;
  const volumeMl = Math.max(milkNow, 0) / densityGramsPerMl;
  armAt(bottle, volumeMl, reading, arm);
  const apart =
    Math.abs(arm.arm) < MEASUREMENT.minArm ? 0 : balanceReading(bottle, reading, milkNow) / arm.arm - milkNow;
  // A hand trembles: what is judged is the mean of some blocks.
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
