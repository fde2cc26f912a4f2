/**
 * Effects of a real hand, mouth and sleeve that an ideal one does not have, each by name with a size: 0 none, 1 an ordinary amount.
 * Amounts without a source are assumptions. Each draws from its own random stream, so that one does not change another.
 */
import { keysOf } from '../base/typed.ts';
import { laidOver, type Overrides } from './parameters.ts';

export const REAL_HAND = {
  /** 0.3 rad/s² about tilt and roll, and moves by an arm that has mass. */
  'turning hand': (size) => ({ hand: { turns: size > 0, wobbleRadPerSec2: 0.3 * size } }),
  'ringing milk': (size) => ({ liquid: { ringDamping: size > 0 ? 0.07 / size : 0 } }),
  'lips behind the tip': (size) => ({
    baby: { lipsBehindMm: 5 * size, lipsWanderMm: 3 * size, lipsSideMm: 1 * size },
  }),
  'jaw couple': (size) => ({ baby: { jawCoupleNmm: 2 * size } }),
  /** A mouth that carries more of the bottle. */
  'lifting mouth': (size) => ({ baby: { liftN: 0.15 + 0.1 * size, liftWanderN: 0.05 + 0.05 * size } }),
  'touched collar': (size) => ({ collar: { timesPerMin: size > 0 ? 1 : 0, forceN: 0.2 * size } }),
  /** Converters settle within four periods of 12.5 ms, a motion chip's 44 Hz low-pass lags 5 ms (data sheets, from memory). */
  'late readings': (size) => ({
    sensors: { cellDelayMs: 25 * size, accelerometerDelayMs: 5 * size, gyroscopeDelayMs: 5 * size },
  }),
  /** Share of a load, as for bar cells on the market (data sheets, from memory: 0.02 to 0.1 %). */
  'ordinary creep': (size) => ({ sensors: { creepShare: 0.001 * size } }),
  'warming cells': (size) => ({ sensors: { warmingGrams: 1 * size } }),
  'drifting accelerometer': (size) => ({
    sensors: { accelerometerDriftMg: [5 * size, 5 * size, 10 * size] },
  }),
} as const satisfies Record<string, (size: number) => Overrides>;

export type RealEffect = keyof typeof REAL_HAND;
export const REAL_EFFECTS = keysOf(REAL_HAND);

/**
 * @param size size of all effects; `but`: other sizes for some of them
 * @returns overrides for any scenario
 */
export const realHand = (size: number, but: Partial<Record<RealEffect, number>> = {}): Overrides =>
  laidOver(...REAL_EFFECTS.map((name): Overrides => REAL_HAND[name](but[name] ?? size)));

/** A motion chip with a gyroscope, at the height of the common centre of mass, where the build guide has it. */
export const MOTION_CHIP = {
  sensors: { gyroscope: true, accelerometerMm: [-41.6, 0, 65] },
} as const satisfies Overrides;

/** The plain kind: an ideal hand and mouth, and a sleeve without a gyroscope, whose sensors have noise but no delay, warming or drift. */
export const PLAIN: Overrides = laidOver(realHand(0), {
  sensors: { gyroscope: false, accelerometerMm: [0, 0, 12] },
});
