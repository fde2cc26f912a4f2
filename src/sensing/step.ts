/**
 * One block of 50 ms: the mouth's force, spills, sucks; with every fourth a row: one prediction and up to three corrections of the bank.
 */
import { degFromRad, gramsFromNewtons, newtonsFromGrams } from '../base/units.ts';
import { addSucks, addUnseenFlow, expectSteeperBank, startMilkBank } from './filter/bank.ts';
import { judgeChange, trackChange, type WeightError } from './filter/changes.ts';
import { type Arm, armAt, balanceReading, createArm, feltX, feltZ } from './loads/balance.ts';
import { tryWeighing } from './loads/first-weighing.ts';
import type { BlockReading } from './loads/reading.ts';
import { addBalance, addWeights, clearRow, ROW_BLOCKS } from './loads/row.ts';
import { coverShare } from './loads/teat-cover.ts';
import { checkDelay, checkPlace } from './loads/turn-check.ts';
import type { SensedMoment } from './moment.ts';
import { freeMouth, trackMouth } from './mouth/mouth.ts';
import { takeSuckUnits } from './mouth/suck.ts';
import { BEGINS_SEC, MEASUREMENT, steepnessAt } from './noise.ts';
import { momentOf } from './report.ts';
import { noteEvent, noteFault, type Sensor } from './sensor-state.ts';
import { LONG_GAP_SEC, stepRow } from './step-row.ts';

/** Nominal time from sample to sample (sleeve contract, section 2). */
const SAMPLE_SEC = 0.0125;

// Filled and used within one block, so all sensors may share them and nothing is allocated.
const arm: Arm = createArm();
const weightError: WeightError = {
  stepSec: 0,
  milkGrams: 0,
  knownVariance: 0,
  alongGrams: 0,
  besideGrams: 0,
  balanceGrams: 0,
  arm: 0,
  motion: 1,
  swinging: false,
  inMouth: false,
};
/** Takes the sensor through one block. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: the hot path, in the order in which a block is read
export function stepSensor(sensor: Sensor, reading: BlockReading): SensedMoment {
  const { mouth, bank, change, bottle, row } = sensor;
  const { atSec, stepSec, fxN, fzN, transverse, axial, felt, motion } = reading;
  const all = transverse && axial && felt;
  if (!sensor.weighed) {
    const milk = all ? tryWeighing(sensor, reading) : null;
    if (milk !== null) {
      sensor.weighed = true;
      startMilkBank(bank, Math.max(0, milk));
      clearRow(row);
    }
    return momentOf(sensor, reading, 0, 0);
  }
  if (sensor.gapOpen && all) weighAfterGap(sensor, reading);
  const { milkGrams } = bank;
  const volumeMl = Math.max(milkGrams, 0) / sensor.densityGramsPerMl;
  armAt(bottle, volumeMl, reading, arm);
  const emptyGrams = bottle.emptyMassGrams;
  const weightX = emptyGrams * feltX(reading, bottle.emptyCentreM) + milkGrams * arm.milkAx;
  const weightZ = emptyGrams * feltZ(reading, bottle.emptyCentreM) + milkGrams * arm.milkAz;
  const forceX = transverse ? newtonsFromGrams(weightX) - fxN : 0;
  const forceZ = axial ? newtonsFromGrams(weightZ) - fzN : 0;

  if (all && sensor.turnUsable) {
    const hanging = emptyGrams + milkGrams;
    noteFault(
      sensor,
      checkPlace(sensor.turnCheck, stepSec, forceX, hanging, reading.angularRadPerSec2),
      atSec,
    );
  }
  noteFault(
    sensor,
    checkDelay(sensor.turnCheck, sensor.delay.delaySamples * SAMPLE_SEC, sensor.delay.identifiedSec),
    atSec,
  );

  const balanced = transverse && felt && Math.abs(arm.arm) >= MEASUREMENT.minArm;
  if (balanced) {
    const balance = balanceReading(bottle, reading, milkGrams);
    addBalance(row, balance, arm, milkGrams, reading, bank.lagShare);
  }
  if (all) addWeights(row, reading, arm, emptyGrams, bottle.emptyCentreM, milkGrams);
  judgeMass(sensor, reading, forceX, forceZ, balanced, all);

  const wasIn = mouth.inMouth;
  // A changing weight is not a mouth; a lasting difference is a zero that has moved and must not suppress the detection of the mouth for good.
  const amiss = change.bottleOut || (change.amissSec > 0 && change.amissSec < MEASUREMENT.longestChangeSec);
  trackMouth(mouth, forceX, forceZ, stepSec, motion, all && !amiss && !row.found);
  if (mouth.inMouth !== wasIn) noteEvent(sensor, { kind: mouth.inMouth ? 'teat-in' : 'teat-out', atSec });
  sensor.freeSec = mouth.quiet ? sensor.freeSec + stepSec : 0;
  if (!all || mouth.touched) row.free = false;
  row.blocks += 1;
  row.sec += stepSec;
  row.turnRadPerSec = Math.max(row.turnRadPerSec, Math.abs(reading.turnRadPerSec));
  if (mouth.inMouth) {
    if (sensor.drunkSec < BEGINS_SEC) beginSteeply(sensor, reading);
    sensor.drunkSec += stepSec;
    const share = felt ? coverShare(bottle.cover, volumeMl, degFromRad(reading.feltTiltRad)) : 1;
    addSucks(bank, takeSuckUnits(mouth, stepSec), share, stepSec);
  }

  const whole = row.blocks >= ROW_BLOCKS || row.found;
  if (whole || stepSec > LONG_GAP_SEC || mouth.inMouth !== wasIn) stepRow(sensor, reading);
  const event = trackChange(change, atSec, stepSec, bank.milkGrams / sensor.densityGramsPerMl, mouth.inMouth);
  if (event) noteEvent(sensor, event);
  return momentOf(sensor, reading, forceX, forceZ);
}

/** In the first seconds of a feed the tilt is the only information about the milk of a suck. */
function beginSteeply(sensor: Sensor, reading: BlockReading): void {
  const steepness = steepnessAt(degFromRad(reading.tiltRad));
  if (steepness <= sensor.steepness) return;
  expectSteeperBank(sensor.bank, steepness - sensor.steepness);
  sensor.steepness = steepness;
}

/** Distinguishes a mouth force, which does not change the balance, from a spill, which changes balance and weight alike. */
function judgeMass(
  sensor: Sensor,
  reading: BlockReading,
  forceX: number,
  forceZ: number,
  balanced: boolean,
  all: boolean,
): void {
  if (!all) return;
  const { mouth, bank, change, row } = sensor;
  const { ax, az, inPlane2 } = reading;
  const x = gramsFromNewtons(forceX) + bank.biasXGrams;
  const z = gramsFromNewtons(forceZ) + bank.biasZGrams;
  const error = weightError;
  error.stepSec = reading.stepSec;
  error.milkGrams = bank.milkGrams;
  error.knownVariance = bank.weighedVariance;
  error.alongGrams = -(x * ax + z * az) / inPlane2;
  error.besideGrams = (x * az - z * ax) / Math.sqrt(inPlane2);
  error.balanceGrams = balanced ? row.lastLeft : 0;
  error.arm = balanced ? arm.arm : 0;
  error.motion = reading.motion;
  error.swinging = Math.abs(reading.turnRadPerSec) > MEASUREMENT.swingRadPerSec;
  // Milk missing after a gap with the teat in was drunk, not spilt.
  error.inMouth = mouth.inMouth || (sensor.gapOpen && sensor.gapTeatIn);
  judgeChange(change, error);
}

/**
 * In a gap the teat may have come out and milk may have been lost; the force that seems to be left over is then not a mouth's. A bottle that hangs still
 * with constant weight for a second is free, whatever it weighs.
 */
function weighAfterGap(sensor: Sensor, reading: BlockReading): void {
  const { mouth, bank } = sensor;
  const milk = tryWeighing(sensor, reading);
  if (milk === null) return;
  clearRow(sensor.row);
  sensor.row.found = true;
  const missing = milk - bank.milkGrams;
  if (sensor.gapTeatIn) addUnseenFlow(bank, missing * missing + 1);
  if (mouth.inMouth) {
    freeMouth(mouth);
    noteEvent(sensor, { kind: 'teat-out', atSec: reading.atSec });
  }
  sensor.gapOpen = false;
  sensor.gapTeatIn = false;
}
