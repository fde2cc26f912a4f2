/** Turns the sensor's state into the output of a step: estimates and their quality. */
import { degFromRad } from '../base/units.ts';
import { bankIntakeSince, bankNow } from './filter/bank-answers.ts';
import { ACCELEROMETER_AWAY_SEC, type BlockReading, IN_PLANE_LEAST } from './loads/reading.ts';
import type { Quality, QualityReason, SensedMoment } from './moment.ts';
import { sucksAreFaint, sucksAreUncertain } from './mouth/suck.ts';
import { NEW_BABY, UNMODELLED } from './noise.ts';
import type { Sensor } from './sensor-state.ts';

const FLOW_WINDOW_SEC = 10;
/** Full quality up to 45° of roll, invalid beyond 70°. Near upright and straight down the roll is undefined. */
const ROLL_GOOD_RAD = Math.PI / 4;
const ROLL_MOST_RAD = (70 * Math.PI) / 180;
const ROLL_FROM_ACROSS = 0.3;
const CELL_AWAY_SEC = 0.5;
const SHAKEN = 5;
/** After a gap the estimate takes this long to settle; its changes mean nothing until then. */
const AFTER_GAP_SEC = 3;

const since = { grams: 0, variance: 0 };
const now = { milkGrams: 0, intakeGrams: 0 };

export function momentOf(
  sensor: Sensor,
  reading: BlockReading,
  mouthForceXN: number,
  mouthForceZN: number,
): SensedMoment {
  const { bank, mouth, change, densityGramsPerMl: density } = sensor;
  let { quality, reason } = qualityOf(sensor, reading);
  const shown = sensor.weighed && quality !== 'invalid';
  let flow: number | null = null;
  let flowSd: number | null = null;
  // At a reset of the chip the elapsed time is unknown, and so is the flow.
  if (shown && reading.atSec - sensor.resetAtSec > FLOW_WINDOW_SEC) {
    bankIntakeSince(bank, reading.atSec - FLOW_WINDOW_SEC, since);
    flow = Math.max(0, (since.grams / density) * (60 / FLOW_WINDOW_SEC));
    const perMin = 60 / FLOW_WINDOW_SEC / density;
    // Not Math.hypot, which allocates.
    flowSd = Math.sqrt(since.variance * perMin * perMin + UNMODELLED.flowSdMlPerMin ** 2);
  }
  const brisk = flow !== null && flow > NEW_BABY.briskMlPerMin;
  const unsure = sensor.drunkSec < NEW_BABY.sec || (flowSd ?? 0) >= NEW_BABY.unsureMlPerMin;
  if (quality === 'good' && brisk && unsure) {
    quality = 'degraded';
    reason = 'sucks';
  }
  bankNow(bank, now);
  return {
    atSec: reading.atSec,
    stepSec: reading.stepSec,
    milkMl: shown ? Math.max(0, now.milkGrams) / density : null,
    milkSdMl: shown
      ? Math.sqrt(Math.max(0, bank.milkVariance) / (density * density) + unmodelledMilkMl(sensor) ** 2)
      : null,
    intakeMl: sensor.weighed ? Math.max(0, now.intakeGrams / density) : 0,
    flowMlPerMin: flow,
    flowSdMlPerMin: flowSd,
    spiltMl: change.spiltMl,
    addedMl: change.addedMl,
    teatInMouth: mouth.inMouth,
    tiltDeg: degFromRad(reading.tiltRad),
    rollDeg: degFromRad(reading.rollRad),
    mouthForceXN,
    mouthForceZN,
    suckCount: mouth.suckCount,
    sucksUncertain: sucksAreUncertain(mouth),
    lastSuckAtSec: mouth.suckCount > 0 ? mouth.lastSuckAtSec : null,
    buttonDown: sensor.buttonDown,
    quality,
    reason,
  };
}

/** Standard deviation of what no state of the filter covers, mL. */
function unmodelledMilkMl({ mouthNoise }: Sensor): number {
  const beyond = Math.max(0, mouthNoise.coupleGrams - UNMODELLED.ordinaryCoupleGrams);
  return UNMODELLED.milkSdMl + UNMODELLED.milkPerCoupleMl * beyond;
}

/**
 * The quality of the estimate in this block and the reason. That little is known of a new baby is not included here, because the refined pass,
 * which uses this too, knows the whole feed.
 */
export function qualityOf(
  sensor: Sensor,
  reading: BlockReading,
): { quality: Quality; reason: QualityReason | null } {
  const { inPlaneShare, motion } = reading;
  const roll = Math.sin(reading.tiltRad) > ROLL_FROM_ACROSS ? Math.abs(reading.rollRad) : 0;
  if (sensor.awaySec.accelerometer >= ACCELEROMETER_AWAY_SEC)
    return { quality: 'invalid', reason: 'accelerometer' };
  if (inPlaneShare <= IN_PLANE_LEAST || roll >= ROLL_MOST_RAD) return { quality: 'invalid', reason: 'roll' };
  if (!sensor.weighed) return { quality: 'invalid', reason: 'not-weighed' };
  if (sensor.change.bottleOut) return { quality: 'invalid', reason: 'no-bottle' };
  if (reading.atSec - sensor.gapAtSec < AFTER_GAP_SEC) return { quality: 'invalid', reason: 'gap' };
  if (sensor.awaySec.cell >= CELL_AWAY_SEC) return { quality: 'degraded', reason: 'cell' };
  if (roll >= ROLL_GOOD_RAD) return { quality: 'degraded', reason: 'roll' };
  if (motion >= SHAKEN) return { quality: 'degraded', reason: 'motion' };
  if (sensor.gapOpen) return { quality: 'degraded', reason: 'gap' };
  if (sensor.mouth.inMouth && sensor.mouthNoise.pushed) return { quality: 'degraded', reason: 'push' };
  if (sensor.mouth.inMouth && sucksAreFaint(sensor.mouth)) return { quality: 'degraded', reason: 'sucks' };
  return { quality: 'good', reason: null };
}
