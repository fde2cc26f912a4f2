/**
 * The sensor: samples in, moments out (sleeve contract, section 1).
 *
 * Each sample: counts to loads, the lagged felt force of the milk, restlessness, sucks. Each block of four: one step
 * of the estimate (step.ts). After the feed: refineFeed.
 */
import { newtonsFromGrams } from '../base/units.ts';
import { addUnseenFlow } from './filter/bank.ts';
import { addToBlock, BLOCK_SAMPLES, clearBlock } from './loads/block.ts';
import { alignLoads, refillDelayLine } from './loads/delay.ts';
import { convertLoads, FLAG, type Loads, type SensorSample } from './loads/loads.ts';
import { readBlock } from './loads/reading.ts';
import { checkCounts, checkLoneMotion } from './loads/turn-check.ts';
import type { SensedMoment } from './moment.ts';
import { trackSuck } from './mouth/suck.ts';
import { MEASUREMENT, UNSEEN } from './noise.ts';
import { hangingGrams, noteEvent, noteFault, type Sensor } from './sensor-state.ts';
import { stepSensor } from './step.ts';
import { LONG_GAP_SEC } from './step-row.ts';

/** Below this restlessness and rate of turning the bottle stands on a table. Own figures. */
const STANDS_MOTION = 0.25;
const STANDS_RAD_PER_SEC = 0.02;
const BIAS_SEC = 2;

/** Takes one sample. Returns a moment with every fourth, else null. */
export function senseSample(sensor: Sensor, sample: SensorSample): SensedMoment | null {
  const { mouth, block, slosh } = sensor;
  const loads = convertLoads(sensor.converter, sample);
  const first = Number.isNaN(sensor.lastSampleSec);
  const stepSec = first ? 0.0125 : Math.max(1e-4, sample.atSec - sensor.lastSampleSec);
  loads.atSec = sample.atSec;
  loads.stepSec = stepSec;
  if (first) sensor.lastBlockSec = sample.atSec - stepSec;
  sensor.lastSampleSec = sample.atSec;
  sensor.buttonDown = (sample.flags & FLAG.button) !== 0;
  if (sample.resetBefore) {
    noteEvent(sensor, { kind: 'chip-reset', atSec: sample.atSec });
    clearBlock(block);
    openGap(sensor, sample.atSec);
    sensor.resetAtSec = sample.atSec;
    // The length of the gap is unknown, so much milk may have been drunk.
    if (sensor.weighed && mouth.inMouth) addUnseenFlow(sensor.bank, UNSEEN.resetGrams ** 2);
  } else if (sample.missingBefore > 0) {
    noteEvent(sensor, { kind: 'samples-lost', atSec: sample.atSec, count: sample.missingBefore });
  }

  if (!first && stepSec > LONG_GAP_SEC) openGap(sensor, sample.atSec);
  if (sample.gyroscope) noteFault(sensor, checkCounts(sensor.turnCheck, sample.gyroscope), sample.atSec);
  if (loads.turnGood) followTurnBias(sensor, loads);
  if (first || stepSec > LONG_GAP_SEC || sample.resetBefore) refillDelayLine(sensor.delay, loads);
  const identifiable = sensor.weighed && loads.transverseGood && loads.accelerometerGood;
  sensor.delay.hangingGrams = identifiable ? hangingGrams(sensor) : Number.NaN;
  alignLoads(sensor.delay, loads);
  if (first || stepSec > LONG_GAP_SEC) {
    slosh[0] = loads.ax;
    slosh[1] = loads.ay;
    slosh[2] = loads.az;
  } else {
    const lag = Math.min(1, stepSec / MEASUREMENT.sloshSec);
    slosh[0] = slosh[0]! + (loads.ax - slosh[0]!) * lag;
    slosh[1] = slosh[1]! + (loads.ay - slosh[1]!) * lag;
    slosh[2] = slosh[2]! + (loads.az - slosh[2]!) * lag;
  }
  const { ax, ay, az } = loads;
  // Not Math.hypot, which allocates.
  const felt = Math.sqrt(ax * ax + ay * ay + az * az) - 1;
  sensor.motionG2 +=
    (Math.min(felt * felt, 1) - sensor.motionG2) * Math.min(1, stepSec / MEASUREMENT.motionSec);

  if (sensor.weighed && loads.axialGood && loads.accelerometerGood) {
    const pull = newtonsFromGrams(hangingGrams(sensor) * loads.az) - loads.fzN - mouth.baseZ;
    const confirmed = trackSuck(mouth, pull, loads);
    if (confirmed && sensor.refinable) sensor.log.suckAtSec.push(mouth.lastSuckAtSec);
  }
  addToBlock(block, loads, slosh);
  if (!loads.accelerometerGood) sensor.awaySec.accelerometer += stepSec;
  else sensor.awaySec.accelerometer = 0;
  if (!loads.axialGood || !loads.transverseGood) sensor.awaySec.cell += stepSec;
  else sensor.awaySec.cell = 0;
  return block.count >= BLOCK_SAMPLES ? stepSensor(sensor, readBlock(sensor, sample.atSec)) : null;
}

/** A bottle on the table does not turn, so the gyroscope's reading is its bias (sleeve contract, section 4: the calibration's is a start value). */
function followTurnBias(sensor: Sensor, loads: Loads): void {
  const { turnBias: bias } = sensor;
  loads.turnX -= bias[0]!;
  loads.turnY -= bias[1]!;
  loads.turnZ -= bias[2]!;
  const fastest = Math.max(Math.abs(loads.turnX), Math.abs(loads.turnY), Math.abs(loads.turnZ));
  const stands = sensor.motionG2 < (STANDS_MOTION * MEASUREMENT.motionUsualG) ** 2;
  if (sensor.freeSec < MEASUREMENT.weighAfterSec || !stands || fastest > STANDS_RAD_PER_SEC) return;
  const gain = Math.min(1, loads.stepSec / BIAS_SEC);
  bias[0] = bias[0]! + loads.turnX * gain;
  bias[1] = bias[1]! + loads.turnY * gain;
  bias[2] = bias[2]! + loads.turnZ * gain;
}

function openGap(sensor: Sensor, atSec: number): void {
  sensor.gapTeatIn = sensor.mouth.inMouth || (sensor.gapOpen && sensor.gapTeatIn);
  sensor.gapOpen = true;
  sensor.gapAtSec = atSec;
  sensor.firstWeighing.sec = 0;
  sensor.firstWeighing.begun = false;
}

/** A motion without its sample is discarded; many of them are a sensor fault. */
export const noteLoneMotion = (sensor: Sensor): void =>
  noteFault(
    sensor,
    checkLoneMotion(sensor.turnCheck),
    Number.isNaN(sensor.lastSampleSec) ? 0 : sensor.lastSampleSec,
  );
