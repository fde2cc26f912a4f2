/**
 * The sensor: samples in, moments out (sleeve contract, section 1). One object of state that each call changes; nothing else is kept.
 *
 * Each sample: counts to loads, tilt as the milk feels it, restlessness, sucks. Each block of four: mouth in or out,
 * one predict and up to three corrections of the milk filter. After the feed: refineFeed.
 */
import { degFromRad, gramsFromNewtons, MILK_DENSITY_GRAMS_PER_ML, newtonsFromGrams } from '../units.ts';
import { type Arm, armAt, type Bottle, balanceReading, bottleOf } from './balance.ts';
import {
  addToBlock,
  BLOCK_SAMPLES,
  type Block,
  blockFx,
  blockFz,
  blockMoment,
  clearBlock,
  createBlock,
} from './block.ts';
import type { Calibration } from './calibration.ts';
import { type ChangeState, createChange, judgeChange, trackChange } from './changes.ts';
import { createHistory, type History, recordFiltered, recordPrediction } from './history.ts';
import { convertLoads, createLoadConverter, FLAG, type LoadConverter, type SensorSample } from './loads.ts';
import {
  addFlowNoise,
  CLONE_COUNT,
  CLONE_EVERY_SEC,
  cloneIntake,
  correctMilk,
  createMilkFilter,
  INTAKE,
  intakeSince,
  LINE_MM,
  MASS_BIAS,
  MILK,
  type MilkFilter,
  PER_SUCK,
  predictMilk,
  readClones,
  STATES,
  startMilkFilter,
  TILT_BIAS,
} from './milk-filter.ts';
import type { Quality, QualityReason, SensedMoment, SensingEvent } from './moment.ts';
import { createMouth, type MouthState, takeSuckUnits, trackMouth, trackSuck } from './mouth.ts';
import { MEASUREMENT, MILK_NOISE, UNSEEN } from './noise.ts';

const FLOW_WINDOW_SEC = 10;
/** Full figures while this share of the felt force lies in the plane that the cells feel; none beyond the second. */
const IN_PLANE_GOOD = Math.cos(Math.PI / 4);
const IN_PLANE_LEAST = Math.cos((70 * Math.PI) / 180);
const LONG_GAP_SEC = 0.5;

/** What the refined pass needs to know of every kept step, beside the filter's own record. */
interface StepLog {
  atSec: number[];
  inMouth: boolean[];
  known: boolean[];
  suckAtSec: number[];
  events: SensingEvent[];
}

export interface Sensor {
  readonly densityGramsPerMl: number;
  readonly refinable: boolean;
  readonly bottle: Bottle;
  readonly converter: LoadConverter;
  readonly block: Block;
  readonly slosh: Float64Array;
  readonly mouth: MouthState;
  readonly filter: MilkFilter;
  readonly change: ChangeState;
  readonly history: History;
  readonly log: StepLog;
  /** Events since they were last taken. */
  readonly fresh: SensingEvent[];
  weighed: boolean;
  motionG2: number;
  lastSampleSec: number;
  lastBlockSec: number;
  lastCloneSec: number;
  awaySec: { cell: number; accelerometer: number };
  gapOpen: boolean;
  firstWeighing: { sec: number; mean: number; spread: number };
  buttonDown: boolean;
}

export interface SensorOptions {
  /** Of the milk; 1.03 unless the feed says otherwise. */
  densityGramsPerMl?: number;
  /** Keep every step for the refined pass (about 0.6 kB each). False for a sensor that only watches for a latch. */
  refinable?: boolean;
}

/** @param calibration checked calibration of this sleeve and bottle */
export function createSensor(calibration: Calibration, options: SensorOptions = {}): Sensor {
  const { densityGramsPerMl = MILK_DENSITY_GRAMS_PER_ML, refinable = true } = options;
  return {
    densityGramsPerMl,
    refinable,
    bottle: bottleOf(calibration),
    converter: createLoadConverter(calibration),
    block: createBlock(),
    slosh: new Float64Array([0, 0, 1]),
    mouth: createMouth(),
    filter: createMilkFilter(MILK_NOISE),
    change: createChange(),
    history: createHistory(),
    log: { atSec: [], inMouth: [], known: [], suckAtSec: [], events: [] },
    fresh: [],
    weighed: false,
    motionG2: MEASUREMENT.motionFloorG ** 2,
    lastSampleSec: Number.NaN,
    lastBlockSec: Number.NaN,
    lastCloneSec: Number.NEGATIVE_INFINITY,
    awaySec: { cell: 0, accelerometer: 0 },
    gapOpen: false,
    firstWeighing: { sec: 0, mean: 0, spread: 0 },
    buttonDown: false,
  };
}

const h = new Float64Array(STATES);
const arm: Arm = { arm: 0, armOfAdded: 0, armPerRad: 0 };
const since = { grams: 0, variance: 0 };

/** Events since the last call; empties the list. */
export function takeEvents(sensor: Sensor): SensingEvent[] {
  return sensor.fresh.length === 0 ? [] : sensor.fresh.splice(0);
}

/** The intake of the last seconds as known now, oldest first, mL; every later correction moves all of it. */
export interface Trail {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
}

export const createTrail = (): Trail => ({
  count: 0,
  atSec: new Float64Array(CLONE_COUNT),
  intakeMl: new Float64Array(CLONE_COUNT),
});

/** Fills `trail`; nothing is allocated. */
export function readTrail({ filter, densityGramsPerMl }: Sensor, trail: Trail): void {
  trail.count = readClones(filter, trail.atSec, trail.intakeMl);
  for (let i = 0; i < trail.count; i++) {
    trail.intakeMl[i] = Math.max(0, trail.intakeMl[i]! / densityGramsPerMl);
  }
}

function note(sensor: Sensor, event: SensingEvent): void {
  sensor.fresh.push(event);
  if (sensor.refinable) sensor.log.events.push(event);
}

/** Takes one sample. Returns a moment with every fourth, else null. */
export function senseSample(sensor: Sensor, sample: SensorSample): SensedMoment | null {
  const { mouth, block, slosh } = sensor;
  const loads = convertLoads(sensor.converter, sample);
  const first = Number.isNaN(sensor.lastSampleSec);
  const stepSec = first ? 0.0125 : Math.max(1e-4, sample.atSec - sensor.lastSampleSec);
  if (first) sensor.lastBlockSec = sample.atSec - stepSec;
  sensor.lastSampleSec = sample.atSec;
  sensor.buttonDown = (sample.flags & FLAG.button) !== 0;
  if (sample.resetBefore) {
    note(sensor, { kind: 'chip-reset', atSec: sample.atSec });
    clearBlock(block);
    sensor.gapOpen = true;
    // How long it lasted is unknown: three grams may have been drunk, or lost.
    if (sensor.weighed) addFlowNoise(sensor.filter, 9);
  } else if (sample.missingBefore > 0) {
    note(sensor, { kind: 'samples-lost', atSec: sample.atSec, count: sample.missingBefore });
  }

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
  const felt = Math.hypot(loads.ax, loads.ay, loads.az) - 1;
  sensor.motionG2 +=
    (Math.min(felt * felt, 1) - sensor.motionG2) * Math.min(1, stepSec / MEASUREMENT.motionSec);

  if (sensor.weighed && loads.axialGood && loads.accelerometerGood) {
    const pull = newtonsFromGrams(dryAndMilkGrams(sensor) * loads.az) - loads.fzN - mouth.baseZ;
    const confirmed = trackSuck(mouth, pull, sample.atSec, stepSec);
    if (confirmed && sensor.refinable) sensor.log.suckAtSec.push(mouth.lastSuckAtSec);
  }
  addToBlock(block, loads, slosh);
  if (!loads.accelerometerGood) sensor.awaySec.accelerometer += stepSec;
  else sensor.awaySec.accelerometer = 0;
  if (!loads.axialGood || !loads.transverseGood) sensor.awaySec.cell += stepSec;
  else sensor.awaySec.cell = 0;
  return block.count >= BLOCK_SAMPLES ? stepBlock(sensor, sample.atSec) : null;
}

const dryAndMilkGrams = (sensor: Sensor): number =>
  sensor.bottle.emptyMassGrams + sensor.filter.x[MILK]! + sensor.filter.x[MASS_BIAS]!;

/** How restless the hand is; 1 as usual. */
const motionOf = (sensor: Sensor): number =>
  Math.min(
    6,
    Math.max(
      0.15,
      Math.sqrt(Math.max(0, sensor.motionG2 - MEASUREMENT.motionFloorG ** 2)) / MEASUREMENT.motionUsualG,
    ),
  );

function stepBlock(sensor: Sensor, atSec: number): SensedMoment {
  const { block, mouth, filter, change } = sensor;
  const { sums } = block;
  const stepSec = Math.max(1e-3, atSec - sensor.lastBlockSec);
  sensor.lastBlockSec = atSec;
  const ax = sums[0]! / block.count;
  const ay = sums[1]! / block.count;
  const az = sums[2]! / block.count;
  const sx = sums[3]! / block.count;
  const sy = sums[4]! / block.count;
  const sz = sums[5]! / block.count;
  const transverse = block.loadCount > 0;
  const axial = block.axialCount > 0;
  const fxN = transverse ? blockFx(block) : 0;
  const fzN = axial ? blockFz(block) : 0;
  const momentNm = transverse ? blockMoment(block) : 0;
  clearBlock(block);

  const across = Math.hypot(sx, sy);
  const tiltRad = Math.atan2(across, sz);
  const rollShare = across > 1e-6 ? sx / across : 1;
  const inPlane2 = ax * ax + az * az;
  const inPlane = Math.sqrt(inPlane2) / Math.max(1e-6, Math.hypot(ax, ay, az));
  const felt = sensor.awaySec.accelerometer < 0.2 && inPlane > IN_PLANE_LEAST;
  const motion = motionOf(sensor);

  if (!sensor.weighed) {
    if (transverse && axial && felt)
      tryFirstWeighing(sensor, fxN, fzN, momentNm, ax, az, tiltRad, rollShare, stepSec, motion);
    return momentOf(sensor, atSec, stepSec, tiltRad, sx, sy, motion, inPlane, 0, 0);
  }

  const both = transverse && axial && felt;
  const mass = dryAndMilkGrams(sensor);
  const forceX = transverse ? newtonsFromGrams(mass * ax) - fxN : 0;
  const forceZ = axial ? newtonsFromGrams(mass * az) - fzN : 0;

  // A mouth force never moves the balance; a spill moves balance and weight alike.
  const volumeMl = Math.max(filter.x[MILK]!, 0) / sensor.densityGramsPerMl;
  const balanceKnown = transverse && felt;
  const perMm = axial ? lineArm(mass, az, fzN) : 0;
  const reading = balanceKnown ? balanceReading(sensor.bottle, fxN, momentNm, ax) : 0;
  if (balanceKnown) armAt(sensor.bottle, volumeMl, tiltRad, rollShare, ax, az, arm);
  else arm.arm = 0;
  if (both) {
    const along = -gramsFromNewtons(forceX * ax + forceZ * az) / inPlane2;
    const beside = gramsFromNewtons(forceX * az - forceZ * ax) / Math.sqrt(inPlane2);
    judgeChange(
      change,
      filter.x[MILK]!,
      along,
      beside,
      reading - expectedReading(filter, ax, perMm),
      arm.arm,
      motion,
      mouth.inMouth,
      stepSec,
    );
  }
  const wasIn = mouth.inMouth;
  trackMouth(mouth, forceX, forceZ, stepSec, motion, both && !change.changing);
  if (mouth.inMouth !== wasIn) note(sensor, { kind: mouth.inMouth ? 'teat-in' : 'teat-out', atSec });

  const units = mouth.inMouth ? takeSuckUnits(mouth, stepSec) : 0;
  predictMilk(
    filter,
    stepSec,
    mouth.inMouth,
    units,
    change.changing ? change.walkGrams : filter.noise.outWalkGrams,
  );
  if (stepSec > LONG_GAP_SEC && mouth.inMouth) addFlowNoise(filter, (0.4 * stepSec) ** 2);
  if (mouth.inMouth) addFlowNoise(filter, unseenFlowVariance(sensor, axial, atSec) * stepSec);
  if (sensor.refinable) recordPrediction(sensor.history, filter);
  if (balanceKnown && Math.abs(arm.arm) >= MEASUREMENT.minArm && !change.bottleOut) {
    correctByBalance(sensor, reading, ax, perMm, motion);
  }
  if (both && !change.bottleOut && (mouth.quiet || change.changing)) {
    correctByWeighing(sensor, fxN, fzN, ax, az, motion);
    if (mouth.quiet) sensor.gapOpen = false;
  }
  if (filter.x[MILK]! < 0) {
    h.fill(0);
    h[MILK] = 1;
    correctMilk(filter, h, -filter.x[MILK]!, 0.05 ** 2);
  }
  if (filter.x[PER_SUCK]! < filter.noise.perSuckFloorGrams)
    filter.x[PER_SUCK] = filter.noise.perSuckFloorGrams;
  if (sensor.refinable) {
    recordFiltered(sensor.history, filter);
    sensor.log.atSec.push(atSec);
    sensor.log.inMouth.push(mouth.inMouth);
    sensor.log.known.push(felt && !change.bottleOut);
  }

  const event = trackChange(change, atSec, stepSec, filter.x[MILK]! / sensor.densityGramsPerMl);
  if (event) note(sensor, event);
  if (atSec - sensor.lastCloneSec >= CLONE_EVERY_SEC - 1e-6) {
    cloneIntake(filter, atSec);
    sensor.lastCloneSec = atSec;
  }
  return momentOf(sensor, atSec, stepSec, tiltRad, sx, sy, motion, inPlane, forceX, forceZ);
}

/** Reading of the balance per mm that the mouth's line of action passes beside the axis: 1 N · 1 mm is about 1 g. */
const lineArm = (massGrams: number, az: number, fzN: number): number =>
  -(massGrams * az - gramsFromNewtons(fzN)) / (MEASUREMENT.leverM * 1000);

const expectedReading = ({ x }: MilkFilter, ax: number, perMm: number): number =>
  x[MILK]! * arm.arm + x[TILT_BIAS]! * ax + x[LINE_MM]! * perMm;

/** Milk that may come although no suck is seen: the axial cell is away, or the last seen suck is long past. g²/s. */
function unseenFlowVariance({ mouth }: Sensor, axial: boolean, atSec: number): number {
  if (!axial) return UNSEEN.blindGramsPerSqrtSec ** 2;
  const quietSec = atSec - mouth.lastSuckAtSec;
  return quietSec > UNSEEN.afterSec ? UNSEEN.gramsPerSqrtSec ** 2 : 0;
}

function correctByBalance(sensor: Sensor, reading: number, ax: number, perMm: number, motion: number): void {
  const { filter } = sensor;
  h.fill(0);
  h[MILK] = arm.armOfAdded;
  h[TILT_BIAS] = ax;
  h[LINE_MM] = perMm;
  const tiltError = Math.max(filter.x[MILK]!, 0) * arm.armPerRad * MEASUREMENT.tiltSdRadPerMotion * motion;
  const variance = MEASUREMENT.transverseSdGrams ** 2 + MEASUREMENT.tiltWeight * tiltError * tiltError;
  correctMilk(filter, h, reading - expectedReading(filter, ax, perMm), variance);
}

function correctByWeighing(
  sensor: Sensor,
  fxN: number,
  fzN: number,
  ax: number,
  az: number,
  motion: number,
): void {
  const { filter } = sensor;
  const variance =
    MEASUREMENT.weighingSdGrams ** 2 * (1 + MEASUREMENT.weighingPerMotion * Math.max(0, motion - 1));
  h.fill(0);
  h[MILK] = ax;
  h[MASS_BIAS] = ax;
  correctMilk(filter, h, gramsFromNewtons(fxN) - dryAndMilkGrams(sensor) * ax, variance);
  h[MILK] = az;
  h[MASS_BIAS] = az;
  correctMilk(filter, h, gramsFromNewtons(fzN) - dryAndMilkGrams(sensor) * az, variance);
}

/** Weighs the still bottle for a second before anything is believed. */
function tryFirstWeighing(
  sensor: Sensor,
  fxN: number,
  fzN: number,
  momentNm: number,
  ax: number,
  az: number,
  tiltRad: number,
  rollShare: number,
  stepSec: number,
  motion: number,
): void {
  const { firstWeighing, bottle } = sensor;
  const inPlane2 = ax * ax + az * az;
  const milk = gramsFromNewtons(fxN * ax + fzN * az) / inPlane2 - bottle.emptyMassGrams;
  const beside = Math.abs(gramsFromNewtons(fxN * az - fzN * ax)) / Math.sqrt(inPlane2);
  armAt(bottle, Math.max(milk, 0) / sensor.densityGramsPerMl, tiltRad, rollShare, ax, az, arm);
  const agrees =
    Math.abs(arm.arm) < MEASUREMENT.minArm ||
    Math.abs(balanceReading(bottle, fxN, momentNm, ax) / arm.arm - milk) < 6;
  const inSleeve = milk > -8 && milk / sensor.densityGramsPerMl < bottle.table.capacityMl + 40;
  const still = motion < 3 && beside < 8 && agrees && inSleeve;
  const jump = Math.abs(milk - firstWeighing.mean) > 3;
  if (!still || (firstWeighing.sec > 0 && jump)) {
    firstWeighing.sec = still ? stepSec : 0;
    firstWeighing.mean = milk;
    return;
  }
  firstWeighing.sec += stepSec;
  const gain = Math.max(0.05, stepSec / firstWeighing.sec);
  firstWeighing.mean += (milk - firstWeighing.mean) * gain;
  if (firstWeighing.sec >= 1) {
    sensor.weighed = true;
    startMilkFilter(sensor.filter, Math.max(0, firstWeighing.mean));
  }
}

function momentOf(
  sensor: Sensor,
  atSec: number,
  stepSec: number,
  tiltRad: number,
  sx: number,
  sy: number,
  motion: number,
  inPlane: number,
  mouthForceXN: number,
  mouthForceZN: number,
): SensedMoment {
  const { filter, mouth, change, densityGramsPerMl: density } = sensor;
  const n = STATES;
  const { quality, reason } = qualityOf(sensor, motion, inPlane);
  const shown = sensor.weighed && quality !== 'invalid';
  let flow: number | null = null;
  let flowSd: number | null = null;
  if (shown) {
    intakeSince(filter, atSec - FLOW_WINDOW_SEC, since);
    flow = Math.max(0, (since.grams / density) * (60 / FLOW_WINDOW_SEC));
    flowSd = (Math.sqrt(since.variance) / density) * (60 / FLOW_WINDOW_SEC);
  }
  return {
    atSec,
    stepSec,
    milkMl: shown ? Math.max(0, filter.x[MILK]!) / density : null,
    milkSdMl: shown ? Math.sqrt(Math.max(0, filter.c[MILK * n + MILK]!)) / density : null,
    intakeMl: sensor.weighed ? Math.max(0, filter.x[INTAKE]! / density) : 0,
    flowMlPerMin: flow,
    flowSdMlPerMin: flowSd,
    spiltMl: change.spiltMl,
    addedMl: change.addedMl,
    teatInMouth: mouth.inMouth,
    tiltDeg: degFromRad(tiltRad),
    rollDeg: degFromRad(Math.atan2(sy, sx)),
    mouthForceXN,
    mouthForceZN,
    suckCount: mouth.suckCount,
    lastSuckAtSec: mouth.suckCount > 0 ? mouth.lastSuckAtSec : null,
    buttonDown: sensor.buttonDown,
    quality,
    reason,
  };
}

function qualityOf(
  sensor: Sensor,
  motion: number,
  inPlane: number,
): { quality: Quality; reason: QualityReason | null } {
  if (sensor.awaySec.accelerometer >= 0.2) return { quality: 'invalid', reason: 'accelerometer' };
  if (inPlane <= IN_PLANE_LEAST) return { quality: 'invalid', reason: 'roll' };
  if (!sensor.weighed) return { quality: 'invalid', reason: 'not-weighed' };
  if (sensor.change.bottleOut) return { quality: 'invalid', reason: 'no-bottle' };
  if (sensor.awaySec.cell >= 0.5) return { quality: 'degraded', reason: 'cell' };
  if (inPlane <= IN_PLANE_GOOD) return { quality: 'degraded', reason: 'roll' };
  if (motion >= 5) return { quality: 'degraded', reason: 'motion' };
  if (sensor.gapOpen) return { quality: 'degraded', reason: 'gap' };
  return { quality: 'good', reason: null };
}
