/** The noise model of the estimator: one parameter set for all babies and feeds. Figures set on simulated feeds; evidence in DEVELOPERS.md. */
import type { MilkNoise } from './milk-filter.ts';

export const MILK_NOISE: MilkNoise = {
  milkStartSdGrams: 5,
  // 0.17 ± 0.08 mL per suck at 1–4 days, 0.30 ± 0.11 at one month (Qureshi et al. 2002, Dev Med Child Neurol 44:34-39).
  perSuckGrams: 0.2,
  perSuckStartSdGrams: 0.12,
  perSuckWalkGrams: 0.006,
  perSuckScatter: 0.15,
  perSuckFloorGrams: 0.02,
  leakSdGramsPerSec: 0.005,
  leakSec: 15,
  inMouthWalkGrams: 0.01,
  outWalkGrams: 0.02,
  tiltBiasSdGrams: 0.5,
  tiltBiasWalkGrams: 0.02,
  massBiasSdGrams: 0.3,
  lineSdMm: 1,
  lineSec: 20,
  pushSdGrams: 0,
  pushSec: 15,
};

export interface BankMember {
  noise: MilkNoise;
  /** Whether it hands out milk by sucks, and whether those at a bare hole give none. */
  sucks: boolean;
  covered: boolean;
  /** Logarithm of its weight before any evidence. */
  start: number;
}

/** The filters of the bank, and how evidence for them is weighed. */
export const BANK = {
  filters: [
    // Every suck about the same, less where milk hardly covers the hole.
    { noise: MILK_NOISE, sucks: true, covered: true, start: 1 },
    // The same, the hole taken as covered always: there may be milk in the teat that the profile does not know of.
    { noise: MILK_NOISE, sucks: true, covered: false, start: 1 },
    // Sucks scatter by 0.37 to 0.47 of their mean (same study), and their mean wanders.
    {
      noise: { ...MILK_NOISE, perSuckWalkGrams: 0.05, perSuckScatter: 0.4 },
      sucks: true,
      covered: true,
      start: 0.5,
    },
    // Something presses on the bottle beside the tip.
    { noise: { ...MILK_NOISE, pushSdGrams: 0.8 }, sucks: true, covered: true, start: 0 },
    // Flow that comes and goes within seconds, sucks or not.
    {
      noise: { ...MILK_NOISE, leakSdGramsPerSec: 0.35, leakSec: 2, inMouthWalkGrams: 0.02 },
      sucks: false,
      covered: false,
      start: 0,
    },
  ] as readonly BankMember[],
  evidenceSec: 45,
  balanceAwaySec: 1,
  temper: 0.2,
  /** Weight of the filter that knows of a push beyond which one is told of, and below which no longer. */
  pushSeenShare: 0.5,
  pushGoneShare: 0.25,
};

export const MEASUREMENT = {
  /** Transverse balance (moment about the teat's tip), g per 50 ms block; and what an error of tilt adds, rad per unit of motion. */
  transverseSdGrams: 0.3,
  tiltSdRadPerMotion: 0.018,
  tiltWeight: 6,
  /** Outright weighing, g per 50 ms block, and how restless holding widens its variance. */
  weighingSdGrams: 0.8,
  weighingPerMotion: 0.3,
  /** Lever of the transverse balance, m: an added gram at arm 1 adds 1. */
  leverM: 0.1,
  /** Below this arm the balance says more about the bottle than about the milk. */
  minArm: 0.3,
  /** The milk follows the felt force with about this lag. */
  sloshSec: 0.13,
  /** How far off that lag may be: it counts while the bottle is turned. */
  sloshSdSec: 0.06,
  /** |a| scatter of a hand as restless as usual, and of the accelerometer alone, g. */
  motionUsualG: 0.0156,
  motionFloorG: 0.0014,
  motionSec: 6,
} as const;

/** What a stated standard deviation adds to the filter's own. */
export const UNMODELLED = {
  /** Errors of the bottle's profile and centre (0.4 mm each) that no state carries, mL. */
  milkSdMl: 0.7,
  /** Rounding at an empty bottle and between earlier intakes, mL/min. */
  flowSdMlPerMin: 0.3,
} as const;

/** Flow that no sample shows: a walk in g per √s while the axial cell is away; g/s in a gap; g at a reset of the chip. */
export const UNSEEN = {
  blindGramsPerSqrtSec: 0.5,
  gapGramsPerSec: 0.4,
  resetGrams: 20,
} as const;
