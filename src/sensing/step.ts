/** One step of 50 ms: the mouth's force, spills, then one prediction and up to three corrections of the bank. */
import { degFromRad, gramsFromNewtons, newtonsFromGrams } from '../units.ts';
import { type Arm, armAt, balanceReading } from './balance.ts';
import {
  addUnseenFlow,
  balanceError,
  cloneBank,
  correctBankByBalance,
  correctBankByWeighing,
  endBankStep,
  predictBank,
  startMilkBank,
} from './bank.ts';
import { judgeChange, trackChange } from './changes.ts';
import { CLONE_EVERY_SEC } from './clones.ts';
import { tryWeighing } from './first-weighing.ts';
import type { SensedMoment } from './moment.ts';
import { freeMouth, takeSuckUnits, trackMouth } from './mouth.ts';
import { MEASUREMENT, UNSEEN } from './noise.ts';
import type { BlockReading } from './reading.ts';
import { momentOf } from './report.ts';
import { hangingGrams, noteEvent, type Sensor } from './sensor-state.ts';
import { coverShare } from './teat-cover.ts';

/** Longer without a sample, and milk may have been drunk that nobody saw. */
export const LONG_GAP_SEC = 0.5;

const arm: Arm = { arm: 0, armOfAdded: 0, armPerRad: 0 };

/** Takes the sensor through one block. */
export function stepSensor(sensor: Sensor, reading: BlockReading): SensedMoment {
  const { mouth, bank, change } = sensor;
  const { atSec, stepSec, ax, az, fxN, fzN, transverse, axial, felt, motion } = reading;
  const all = transverse && axial && felt;
  if (!sensor.weighed) {
    const milk = all ? tryWeighing(sensor, reading) : null;
    if (milk !== null) {
      sensor.weighed = true;
      startMilkBank(bank, Math.max(0, milk));
    }
    return momentOf(sensor, reading, 0, 0);
  }
  if (sensor.gapOpen && all) weighAfterGap(sensor, reading);
  const mass = hangingGrams(sensor);
  const forceX = transverse ? newtonsFromGrams(mass * ax) - fxN : 0;
  const forceZ = axial ? newtonsFromGrams(mass * az) - fzN : 0;

  const balanced = transverse && felt;
  const volumeMl = Math.max(bank.milkGrams, 0) / sensor.densityGramsPerMl;
  if (balanced) armAt(sensor.bottle, volumeMl, reading.tiltRad, reading.rollShare, ax, az, arm);
  else arm.arm = 0;
  const balance = balanced ? balanceReading(sensor.bottle, fxN, reading.momentNm, ax) : 0;
  const perMm = axial ? lineArm(mass, az, fzN) : 0;

  if (all) {
    // A mouth force never moves the balance; a spill moves balance and weight alike.
    const along = -gramsFromNewtons(forceX * ax + forceZ * az) / reading.inPlane2;
    const beside = gramsFromNewtons(forceX * az - forceZ * ax) / Math.sqrt(reading.inPlane2);
    const amiss = balanceError(bank, balance, arm, ax, perMm);
    // What went in a gap, the teat being in, was drunk: no spill of now.
    const drunk = mouth.inMouth || (sensor.gapOpen && sensor.gapTeatIn);
    judgeChange(change, bank.milkGrams, along, beside, amiss, arm.arm, motion, drunk, stepSec);
  }
  const wasIn = mouth.inMouth;
  trackMouth(mouth, forceX, forceZ, stepSec, motion, all && !change.changing);
  if (mouth.inMouth !== wasIn) noteEvent(sensor, { kind: mouth.inMouth ? 'teat-in' : 'teat-out', atSec });

  predictBank(bank, {
    stepSec,
    inMouth: mouth.inMouth,
    suckUnits: mouth.inMouth ? takeSuckUnits(mouth, stepSec) : 0,
    coverShare: felt ? coverShare(sensor.bottle.cover, volumeMl, degFromRad(reading.tiltRad)) : 1,
    outWalkGrams: change.changing ? change.walkGrams : null,
    flowVariance: mouth.inMouth ? unseenFlowVariance(axial, stepSec) : 0,
  });
  if (balanced && Math.abs(arm.arm) >= MEASUREMENT.minArm && !change.bottleOut) {
    const judge = mouth.inMouth && axial ? { stepSec } : null;
    correctBankByBalance(bank, balance, arm, ax, perMm, reading, judge);
  }
  const weighable = mouth.quiet || change.changing;
  if (all && !change.bottleOut && weighable) {
    const { emptyMassGrams } = sensor.bottle;
    correctBankByWeighing(bank, emptyMassGrams, gramsFromNewtons(fxN), gramsFromNewtons(fzN), ax, az, motion);
  }
  endBankStep(bank);
  logStep(sensor, atSec, felt && !change.bottleOut);

  const event = trackChange(change, atSec, stepSec, bank.milkGrams / sensor.densityGramsPerMl);
  if (event) noteEvent(sensor, event);
  if (atSec - sensor.lastCloneSec >= CLONE_EVERY_SEC - 1e-6) {
    cloneBank(bank, atSec);
    sensor.lastCloneSec = atSec;
  }
  return momentOf(sensor, reading, forceX, forceZ);
}

/**
 * In a gap the teat may have gone out and milk with it; the force that seems to be left over is then no mouth's. A bottle that hangs still and
 * agrees with itself for a second is free, whatever it weighs.
 */
function weighAfterGap(sensor: Sensor, reading: BlockReading): void {
  const { mouth, bank } = sensor;
  const milk = tryWeighing(sensor, reading);
  if (milk === null) return;
  const missing = milk - bank.milkGrams - bank.massBiasGrams;
  if (sensor.gapTeatIn) addUnseenFlow(bank, missing * missing + 1);
  if (mouth.inMouth) {
    freeMouth(mouth);
    noteEvent(sensor, { kind: 'teat-out', atSec: reading.atSec });
  }
  sensor.gapOpen = false;
  sensor.gapTeatIn = false;
}

/** Reading of the balance per mm that the mouth's line of action passes beside the axis: 1 N · 1 mm is about 1 g. */
const lineArm = (massGrams: number, az: number, fzN: number): number =>
  -(massGrams * az - gramsFromNewtons(fzN)) / (MEASUREMENT.leverM * 1000);

/** Milk that may have come unseen in this step, g²: no suck can be seen without the axial cell, nor anything in a gap. */
function unseenFlowVariance(axial: boolean, stepSec: number): number {
  const blind = axial ? 0 : UNSEEN.blindGramsPerSqrtSec ** 2 * stepSec;
  const gap = stepSec > LONG_GAP_SEC ? (UNSEEN.gapGramsPerSec * stepSec) ** 2 : 0;
  return blind + gap;
}

function logStep({ refinable, log, mouth }: Sensor, atSec: number, known: boolean): void {
  if (!refinable) return;
  log.atSec.push(atSec);
  log.inMouth.push(mouth.inMouth);
  log.known.push(known);
}
