/** A row of four blocks, or fewer: one prediction of the bank, and up to three corrections. */
import { type BankStep, endBankRow, keepBankIntake, predictBank } from './filter/bank.ts';
import { type BalanceRow, correctBankByBalance, correctBankByWeighing } from './filter/bank-corrections.ts';
import { KEEP_INTAKE_EVERY_SEC } from './filter/earlier-intakes.ts';
import type { BlockReading } from './loads/reading.ts';
import { clearRow } from './loads/row.ts';
import { interruptMouthNoise, rowVariance, stepMouthNoise } from './mouth/mouth-noise.ts';
import { sucksAreFaint } from './mouth/suck.ts';
import { MEASUREMENT, MOUTH_NOISE, UNSEEN } from './noise.ts';
import { qualityOf } from './report.ts';
import type { Sensor } from './sensor-state.ts';

/** In a longer gap between samples milk may have been drunk unnoticed. */
export const LONG_GAP_SEC = 0.5;

// Filled and read again within one row, so that nothing is allocated and all sensors may share them.
const rowStep: BankStep = {
  stepSec: 0,
  inMouth: false,
  coupleSdGrams: null,
  outWalkGrams: null,
  unseenVariance: 0,
};
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
export function stepRow(sensor: Sensor, reading: BlockReading): void {
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
