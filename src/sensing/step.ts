/**
 * One block of 50 ms: the mouth's force, spills, sucks; with every fourth a row: one prediction and up to three corrections of the bank.
 */
import { degFromRad, gramsFromNewtons, newtonsFromGrams } from '../base/units.ts';
import {
  addSucks,
  addUnseenFlow,
  type BankStep,
  endBankRow,
  expectSteeperBank,
  keepBankIntake,
  predictBank,
  startMilkBank,
} from './filter/bank.ts';
import { type BalanceRow, correctBankByBalance, correctBankByWeighing } from './filter/bank-corrections.ts';
import { judgeChange, trackChange, type WeightError } from './filter/changes.ts';
import { KEEP_INTAKE_EVERY_SEC } from './filter/earlier-intakes.ts';
import { type Arm, armAt, balanceReading, createArm, feltX, feltZ } from './loads/balance.ts';
import { tryWeighing } from './loads/first-weighing.ts';
import type { BlockReading } from './loads/reading.ts';
import { addBalance, addWeights, clearRow, ROW_BLOCKS } from './loads/row.ts';
import { coverShare } from './loads/teat-cover.ts';
import { checkDelay, checkPlace } from './loads/turn-check.ts';
import type { SensedMoment } from './moment.ts';
import { freeMouth, sucksAreFaint, takeSuckUnits, trackMouth } from './mouth/mouth.ts';
import { interruptMouthNoise, rowVariance, stepMouthNoise } from './mouth/mouth-noise.ts';
import { MEASUREMENT, MOUTH_NOISE, STEEP_DEG, UNSEEN } from './noise.ts';
import { momentOf, qualityOf } from './report.ts';
import { noteEvent, noteFault, type Sensor } from './sensor-state.ts';

/** In a longer gap between samples milk may have been drunk unnoticed. */
export const LONG_GAP_SEC = 0.5;

/** Start of a feed, in which the bottle may still be tipped up, seconds with the teat in. */
const BEGINS_SEC = 4;

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
const rowStep: BankStep = {
  stepSec: 0,
  inMouth: false,
  coupleSdGrams: null,
  outWalkGrams: null,
  unseenVariance: 0,
};

/** Processes one block. */
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
  const { none, full } = STEEP_DEG;
  const steepness = Math.min(1, (degFromRad(reading.tiltRad) - none) / (full - none));
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

const balanceRow: BalanceRow = {
  reading: 0,
  expected: 0,
  milkGrams: 0,
  perGram: 0,
  perLineMm: 0,
  perBesideMm: 0,
  perFeltX: 0,
  perLagShare: 0,
  variance: 0,
};

/** Ends the row: corrects the prediction by the measurements. */
function stepRow(sensor: Sensor, reading: BlockReading): void {
  const { mouth, bank, change, row, mouthNoise } = sensor;
  const { inMouth } = mouth;
  const { atSec, motion } = reading;
  // Between the rise of a force and the detection of the mouth the balance may already be disturbed.
  const maybeIn = inMouth || mouth.touched || !row.free;
  const axialAway = row.weighed === 0;
  rowStep.stepSec = row.sec;
  rowStep.inMouth = inMouth;
  rowStep.coupleSdGrams = maybeIn ? MOUTH_NOISE.coupleScale * mouthNoise.coupleGrams : null;
  rowStep.outWalkGrams = change.changing ? change.walkGrams : null;
  rowStep.unseenVariance = inMouth ? unseenFlowVariance(axialAway, row.sec) : 0;
  predictBank(bank, rowStep);
  if (row.balanced > 0 && !change.bottleOut) correctByBalance(sensor, inMouth && !axialAway);
  else interruptMouthNoise(mouthNoise);
  // Lighter than the empty bottle: it is being taken out of the sleeve.
  const here = !change.bottleOut && bank.milkGrams + change.alongGrams > -MEASUREMENT.lighterThanEmptyGrams;
  const settled = row.turnRadPerSec < MEASUREMENT.swingRadPerSec;
  const free = row.free && sensor.freeSec >= MEASUREMENT.weighAfterSec;
  if (
    row.weighed > 0 &&
    settled &&
    here &&
    (free || row.found || change.changing || (change.open && row.free))
  ) {
    const restless = 1 + MEASUREMENT.weighingPerMotion * Math.max(0, motion - 1);
    const variance =
      (MEASUREMENT.weighingSdGrams * restless) ** 2 * (MOUTH_NOISE.nominalRowSec / Math.max(0.01, row.sec));
    const n = row.weighed;
    correctBankByWeighing(bank, 'across', row.gramsX / n, row.milkX / n, variance);
    correctBankByWeighing(bank, 'along', row.gramsZ / n, row.milkZ / n, variance);
  }
  bank.faint = sucksAreFaint(mouth);
  endBankRow(bank);
  logRow(sensor, reading, row.balanced + row.weighed > 0 && !change.bottleOut);
  clearRow(row);
  if (atSec - sensor.lastKeptSec >= KEEP_INTAKE_EVERY_SEC - 0.03) {
    keepBankIntake(bank, atSec);
    sensor.lastKeptSec = atSec;
  }
}

function correctByBalance(sensor: Sensor, judge: boolean): void {
  const { mouth, bank, row, mouthNoise } = sensor;
  const n = row.balanced;
  const { inMouth } = mouth;
  if (row.weighed > 0) {
    const gain = inMouth && sensor.wasInRow ? Math.min(1, row.sec / MOUTH_NOISE.forceSec) : 1;
    sensor.pushXGrams += (row.leftX / row.weighed - sensor.pushXGrams) * gain;
    sensor.pushZGrams += (row.leftZ / row.weighed - sensor.pushZGrams) * gain;
  }
  sensor.wasInRow = inMouth;
  const perMm = inMouth ? 1 / (MEASUREMENT.leverM * 1000) : 0;
  const out = balanceRow;
  out.reading = row.reading / n;
  out.expected = row.expected / n;
  // Between rows the weighted mean of the last row is used.
  out.milkGrams = bank.milkGrams;
  out.perGram = row.perGram / n;
  out.perLineMm = sensor.pushXGrams * perMm;
  out.perBesideMm = -sensor.pushZGrams * perMm;
  out.perFeltX = row.feltX / n;
  out.perLagShare = row.perLag / n;
  const left = out.reading - out.expected - bank.lagShare * out.perLagShare;
  if (inMouth) stepMouthNoise(mouthNoise, left, row.sec);
  else interruptMouthNoise(mouthNoise);
  if (row.differences > 0) {
    const scatter2 = row.squares / row.differences;
    sensor.scatter2 += (scatter2 - sensor.scatter2) * (scatter2 > sensor.scatter2 ? 0.2 : 0.04);
  }
  out.variance = rowVariance(mouthNoise, sensor.scatter2, row.sec);
  correctBankByBalance(bank, out, judge ? row.sec : 0);
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

/** Variance of milk that may have been drunk unnoticed in this row, g²: without the axial cell, or in a gap, no suck can be seen. */
function unseenFlowVariance(blind: boolean, sec: number): number {
  const unseen = blind ? UNSEEN.blindGramsPerSqrtSec ** 2 * sec : 0;
  const gap = sec > LONG_GAP_SEC ? (UNSEEN.gapGramsPerSec * sec) ** 2 : 0;
  return unseen + gap;
}

function logRow(sensor: Sensor, reading: BlockReading, known: boolean): void {
  const { refinable, log, mouth } = sensor;
  if (!refinable) return;
  log.atSec.push(reading.atSec);
  log.quality.push(qualityOf(sensor, reading).quality);
  log.inMouth.push(mouth.inMouth);
  log.known.push(known);
}
