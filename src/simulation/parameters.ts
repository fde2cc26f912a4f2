/** All parameters of a simulated feed. Scenarios and tests override parts of them; the values are in `defaults.ts`. */

import type { Range } from '../base/random.ts';
import type { BottleShape } from './bottle.ts';
import type { LiquidParameters } from './liquid.ts';
import type { SensorParameters } from './sensors.ts';
import type { Triple } from './vectors.ts';

/** One way of sucking: a number of sucks in a burst, then a pause. */
export interface BurstHabit {
  sucks: Range;
  pauseSec: Range;
}

export interface BabyParameters {
  /** 55 a minute at 1–4 days, 70 at 1 month (Qureshi 2002). */
  suckRatePerMin: number;
  /** Suck to suck, standard deviation over mean. */
  suckRateScatter: number;
  /** Peak suction on a bottle: 87.5 ± 28.5 mmHg at 4–5 days (Mizuno & Ueda 2006). Drives the flow. */
  suctionMmHg: number;
  /** Peak pull on the bottle by one suck, N: as measured by the balance; 100 mmHg on 1 cm² would be 1.3 N. 0: sucks cannot be seen. */
  suctionForceN: number;
  /** Gums press the teat away from the baby, N, slowly varying. */
  pushN: number;
  pushWanderN: number;
  pushWanderTauSec: number;
  /** The mouth lifts the teat, N, slowly varying; each suck lifts it a little more. */
  liftN: number;
  liftWanderN: number;
  suckLiftN: number;
  /** Rough chewing, N, with a correlation time of a quarter of a second. */
  chewForceN: number;
  /** Variation of the place where the mouth's force acts: across and along the bottle, mm. */
  offAxisMm: number;
  offAlongMm: number;
  offAxisTauSec: number;
  /** Distance of the lips behind the tip, mm; its variation along and across, and correlation time. */
  lipsBehindMm: number;
  lipsWanderMm: number;
  lipsSideMm: number;
  lipsTauSec: number;
  /** Couple about y by the jaw, without a force, N·mm, slowly varying. */
  jawCoupleNmm: number;
  jawCoupleTauSec: number;
  /** Scatter of the milk in a suck, of a burst's mean, and the share of bursts without milk (spread of the logarithm). */
  volumeScatterPerSuck: number;
  volumeScatterPerBurst: number;
  dryBurstShare: number;
  /** While hungry: until `eagerMl` has been drunk the habit changes from `eager` to `settled`. */
  eagerMl: number;
  eager: BurstHabit;
  settled: BurstHabit;
  /** How much this baby wants, and over how many mL before that its drive decreases. */
  appetiteMl: number;
  fadeMl: number;
  /** Minutes of the feed during which the baby falls asleep; null: it stays awake. */
  sleepyFromMin: number | null;
  asleepAtMin: number | null;
  /** Milk comes as at a breast, in two peaks; null: as the teat lets through. */
  letDown: LetDown | null;
}

/** Cumulative share of one side's milk against minutes of this side. */
export interface LetDown {
  perSideMl: number;
  shareByMin: readonly (readonly [min: number, share: number])[];
}

/** 50 % by 2 min, 85 % by 4 min (Lucas, Lucas & Baum 1980); the last 15 % slowly, by 12 min (own choice). */
export const LET_DOWN_SHARES: LetDown['shareByMin'] = [
  [0, 0],
  [2, 0.5],
  [4, 0.85],
  [12, 1],
];

export interface TeatParameters {
  holeMm: number;
  /** Discharge coefficient; uncertain for small holes, 0.5–0.8. */
  dischargeCoefficient: number;
  /** Share of the free outflow that continues into the resting mouth. */
  leakShare: number;
  /** With less milk over the hole than this a suck draws air too, mm. */
  airDepthMm: number;
}

export interface CaregiverParameters {
  follows: boolean;
  reactionSec: Range;
  /** Upright and still on the table before the feed. */
  standSec: number;
  /** Tilt of a caregiver who does not care about the pace. */
  steepTiltDeg: number;
  /** 0: holds it steep. 1: nearly level, the hole just covered, lowered after a few sucks. */
  care: number;
  carePerCue: number;
  /** Milk kept over the hole in a careful hold, mm. */
  coverDepthMm: number;
  /** A careful caregiver lowers the bottle after this many sucks, for this long, by this much. */
  sucksPerTurn: Range;
  lowerSec: Range;
  lowerByDeg: number;
  /** Longest that the bottle stays lowered while the cue is still shown. */
  lowerMaxSec: number;
  burpSec: Range;
  /** Without a cue; null: never. */
  burpEveryMl: number | null;
  switchAtMin: number | null;
  switchSec: Range;
  /** She ends the feed if the baby does not suck for this long. */
  giveUpSec: number;
  handlings: readonly Handling[];
}

/** Something that happens with the teat out, at the first pause after this much was drunk. */
export type Handling =
  | { kind: 'spill'; afterMl: number; volumeMl: number; overSec: number }
  | { kind: 'refill'; afterMl: number; volumeMl: number; overSec: number }
  | { kind: 'second-bottle'; afterMl: number; milkMl: number }
  | { kind: 'set-down'; afterMl: number; forSec: number };

export interface HandParameters {
  /** Factor on all motion: 1 calm, 4 restless. */
  motionScale: number;
  tiltWanderDeg: number;
  tiltWanderTauSec: number;
  rollWanderDeg: number;
  rollWanderTauSec: number;
  /** Steady turn of the bottle in the hand. */
  rollDeg: number;
  /** Hand acceleration per axis, g, and its correlation time. */
  accelerationG: number;
  accelerationTauSec: number;
  /** Whether the bottle is turned by an arm with mass, and cells and accelerometer feel the turning; else every hold is computed as at rest. */
  turns: boolean;
  /** Unsteadiness of that arm: angular acceleration of tilt and of roll, rms, within about 0.6 to 3 Hz. */
  wobbleRadPerSec2: number;
  /** The point where the hand holds the bottle, about which it turns. */
  holdsAtZMm: number;
  /** Share of the time spent walking, how hard (g, vertical) and steps per second: an unhurried walk, common practice, no source. */
  walkingShare: number;
  walkingG: number;
  stepsHz: number;
}

/** A hand or a cloth that touches the bottle away from the tip. 0.03 N is the corner of a cloth; a hand's 0.3 N would be 30 g. */
export interface LeaningParameters {
  timesPerMin: number;
  forSec: Range;
  forceN: number;
  atZMm: Range;
}

export interface ChipParameters {
  /** Device clock at the first sample, µs; null: drawn. */
  clockStartMicros: number | null;
  /** Chance that a sample is lost on the way, and number of samples lost in a row. */
  lossChance: number;
  lossRun: Range;
  /** Seconds at which the chip resets by itself, and how long it takes to start. */
  resetsAtSec: readonly number[];
  resetGapSec: number;
  /** Periods with a fault. */
  faults: readonly ChipFault[];
}

export interface ChipFault {
  /**
   * A fault with a flag: its numbers are 0. Stuck: it repeats the last value without a flag. The gyroscope has no flag: saturated
   * it shows the end of its range on every axis, swapped x for y, turned the opposite about y. Alone: MOTION arrives, its SAMPLE is lost.
   */
  what:
    | 'axialCellFault'
    | 'frontCellFault'
    | 'rearCellFault'
    | 'accelerometerFault'
    | 'supplyLow'
    | 'frontCellStuck'
    | GyroscopeFault;
  fromSec: number;
  toSec: number;
}

export type GyroscopeFault =
  | 'gyroscopeStuck'
  | 'gyroscopeSaturated'
  | 'gyroscopeSwapped'
  | 'gyroscopeTurned'
  | 'motionAlone';

export interface FeedParameters {
  milkMl: number;
  densityGramsPerMl: number;
  bottle: BottleShape;
  baby: BabyParameters;
  teat: TeatParameters;
  caregiver: CaregiverParameters;
  hand: HandParameters;
  leaning: LeaningParameters;
  /** Cheek or bib on the collar while the teat is in. */
  collar: LeaningParameters;
  sensors: SensorParameters;
  chip: ChipParameters;
  liquid: LiquidParameters;
  /** 0: the calibration is exact; 1: the errors of a good calibration. */
  calibrationErrorScale: number;
  /** Position of the accelerometer in the calibration; null: the true one. */
  statedAccelerometerMm: Readonly<Triple> | null;
}

/** Any part of the parameters; lists and ranges are replaced whole. */
export type Overrides<T = FeedParameters> = {
  [K in keyof T]?: T[K] extends readonly unknown[] | number | string | boolean | null
    ? T[K]
    : T[K] extends object
      ? Overrides<T[K]>
      : T[K];
};

/** @returns `base` with the overrides applied, part by part. Neither is changed. */
export function withOverrides<T extends object>(base: T, overrides: Overrides<T>): T {
  const merged = { ...base } as Record<string, unknown>;
  for (const [key, entry] of Object.entries(overrides)) {
    if (entry === undefined) continue;
    const before = merged[key];
    const nested = isPlain(entry) && isPlain(before);
    merged[key] = nested ? withOverrides(before, entry) : entry;
  }
  return merged as T;
}

/** @returns several overrides as one; if two set the same parameter, the later one counts. */
export const laidOver = (...all: Overrides[]): Overrides =>
  all.reduce((below, above) => withOverrides(below, above as Overrides<Overrides>), {});

const isPlain = (entry: unknown): entry is object =>
  typeof entry === 'object' && entry !== null && !Array.isArray(entry);
