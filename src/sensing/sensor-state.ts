/** The state of a sensor between samples. */
import { MILK_DENSITY_GRAMS_PER_ML } from '../base/units.ts';
import { createMilkBank, type MilkBank } from './filter/bank.ts';
import { type ChangeState, createChange } from './filter/changes.ts';
import type { EarlierSucks } from './filter/milk-noise.ts';
import { type Bottle, bottleOf } from './loads/balance.ts';
import { type Block, createBlock } from './loads/block.ts';
import type { Calibration } from './loads/calibration.ts';
import { createDelayLine, type DelayLine } from './loads/delay.ts';
import { createLoadConverter, type LoadConverter } from './loads/loads.ts';
import { createRow, type Row } from './loads/row.ts';
import { createTurnCheck, type TurnCheck } from './loads/turn-check.ts';
import type { Quality, SensingEvent, SensorFault } from './moment.ts';
import { createMouth, type MouthState } from './mouth/mouth.ts';
import { createMouthNoise, type MouthNoise } from './mouth/mouth-noise.ts';
import { MEASUREMENT } from './noise.ts';

/** Record of every stored step for the refined pass, beside the filter's own record. */
interface StepLog {
  atSec: number[];
  inMouth: boolean[];
  known: boolean[];
  quality: Quality[];
  suckAtSec: number[];
  events: SensingEvent[];
}

/** A bottle that may be still and free: for how long, its mean milk, and smoothed milk, force across and difference of weight and balance, g. */
interface FirstWeighing {
  sec: number;
  meanGrams: number;
  begun: boolean;
  milkGrams: number;
  besideGrams: number;
  apartGrams: number;
}

export interface Sensor {
  readonly densityGramsPerMl: number;
  readonly refinable: boolean;
  readonly bottle: Bottle;
  readonly converter: LoadConverter;
  readonly block: Block;
  readonly row: Row;
  readonly delay: DelayLine;
  readonly mouthNoise: MouthNoise;
  readonly turnCheck: TurnCheck;
  readonly slosh: Float64Array;
  readonly mouth: MouthState;
  readonly bank: MilkBank;
  readonly change: ChangeState;
  readonly log: StepLog;
  /** Events since the last `takeEvents`. */
  readonly fresh: SensingEvent[];
  weighed: boolean;
  motionG2: number;
  lastSampleSec: number;
  lastBlockSec: number;
  lastTiltRad: number;
  lastTurnY: number;
  /** Gyroscope reading while the bottle is at rest, rad/s; updated, since it drifts. */
  readonly turnBias: Float64Array;
  /** The gyroscope sends data, and no fault was found. */
  turnUsable: boolean;
  readonly accelerometerXM: number;
  readonly accelerometerZM: number;
  /** Force left over with the teat in, smoothed, across and along, g; and whether the teat was in at the last row. */
  pushXGrams: number;
  pushZGrams: number;
  wasInRow: boolean;
  /** Time with the teat in since the start, seconds; and the greatest steepness at its beginning, 0 to 1. */
  drunkSec: number;
  steepness: number;
  /** Scatter of the balance from block to block, g². */
  scatter2: number;
  /** Time since the teat is out and nothing pulls, seconds. */
  freeSec: number;
  lastKeptSec: number;
  awaySec: { cell: number; accelerometer: number };
  /** Samples were lost or the chip was reset, and the bottle was not weighed since; time of the gap. */
  gapOpen: boolean;
  gapAtSec: number;
  /** Whether the teat was in the mouth when the gap began. */
  gapTeatIn: boolean;
  /** Time of the chip's last reset; the length of its gap is unknown. */
  resetAtSec: number;
  firstWeighing: FirstWeighing;
  buttonDown: boolean;
}

export interface SensorOptions {
  /** Density of the milk; default 1.03. */
  densityGramsPerMl?: number;
  /** Record every step for the refined pass (about 0.6 kB each). False for a sensor that only watches for a latch. */
  refinable?: boolean;
  /** What a suck gave in earlier feeds; absent: the estimate starts from what is usual. */
  earlierSucks?: EarlierSucks;
}

/** Where the accelerometer sits if the calibration does not say, mm (sleeve contract, section 4). */
const ACCELEROMETER_Z_MM = 12;

/** @param calibration checked calibration of this sleeve and bottle */
export function createSensor(calibration: Calibration, options: SensorOptions = {}): Sensor {
  const { densityGramsPerMl = MILK_DENSITY_GRAMS_PER_ML, refinable = true, earlierSucks = null } = options;
  return {
    densityGramsPerMl,
    refinable,
    bottle: bottleOf(calibration),
    converter: createLoadConverter(calibration),
    block: createBlock(),
    row: createRow(),
    delay: createDelayLine(),
    mouthNoise: createMouthNoise(),
    turnCheck: createTurnCheck(),
    slosh: new Float64Array([0, 0, 1]),
    mouth: createMouth(),
    bank: createMilkBank(refinable, earlierSucks),
    change: createChange(),
    log: { atSec: [], inMouth: [], known: [], quality: [], suckAtSec: [], events: [] },
    fresh: [],
    weighed: false,
    motionG2: MEASUREMENT.motionFloorG ** 2,
    lastSampleSec: Number.NaN,
    lastBlockSec: Number.NaN,
    lastTiltRad: Number.NaN,
    lastTurnY: Number.NaN,
    turnBias: new Float64Array(3),
    turnUsable: false,
    accelerometerXM: (calibration.accelerometer.positionMm?.[0] ?? 0) / 1000,
    accelerometerZM: (calibration.accelerometer.positionMm?.[2] ?? ACCELEROMETER_Z_MM) / 1000,
    freeSec: 0,
    pushXGrams: 0,
    pushZGrams: 0,
    wasInRow: false,
    drunkSec: 0,
    steepness: 0,
    scatter2: 0.09,
    lastKeptSec: Number.NEGATIVE_INFINITY,
    awaySec: { cell: 0, accelerometer: 0 },
    gapOpen: false,
    gapAtSec: Number.NEGATIVE_INFINITY,
    gapTeatIn: false,
    resetAtSec: Number.NEGATIVE_INFINITY,
    firstWeighing: { sec: 0, meanGrams: 0, begun: false, milkGrams: 0, besideGrams: 0, apartGrams: 0 },
    buttonDown: false,
  };
}

/** Events since the last call; empties the list. */
export function takeEvents(sensor: Sensor): SensingEvent[] {
  return sensor.fresh.length === 0 ? [] : sensor.fresh.splice(0);
}

export function noteEvent(sensor: Sensor, event: SensingEvent): void {
  sensor.fresh.push(event);
  if (sensor.refinable) sensor.log.events.push(event);
}

/** Adds a new fault to the events. */
export function noteFault(sensor: Sensor, fault: SensorFault | null, atSec: number): void {
  if (fault !== null) noteEvent(sensor, { kind: 'sensor-fault', atSec, fault });
}

/** Estimated mass in the sleeve, g. */
export const hangingGrams = ({ bottle, bank }: Sensor): number => bottle.emptyMassGrams + bank.milkGrams;
