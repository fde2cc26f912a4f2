/** The noise model of the estimator: one parameter set for all babies and feeds. What one figure cannot say for all is identified in the feed. Evidence in DEVELOPERS.md. */
import type { MilkNoise } from './filter/milk-noise.ts';

export const MILK_NOISE: MilkNoise = {
  milkStartSdGrams: 1.2,
  // 0.17 ± 0.08 mL per suck at 1–4 days, 0.30 ± 0.11 at one month (Qureshi et al. 2002, Dev Med Child Neurol 44:34-39).
  perSuckGrams: 0.24,
  // That more comes from a bottle held steeply is published (bench, free flow: horizontal < semi-inverted < inverted, p < .001; 2023, Am J Speech Lang Pathol,
  // doi 10.1044/2023_AJSLP-23-00109, abstract); by how much per suck is an assumption.
  perSuckSteepGrams: 0.345,
  perSuckStartSdGrams: 0.12,
  perSuckWalkGrams: 0.008,
  perSuckScatter: 0.2,
  perSuckFloorGrams: 0.02,
  deviationShare: 0.1,
  deviationSec: 8,
  leakSdGramsPerSec: 0.005,
  leakSec: 15,
  inMouthWalkGrams: 0.01,
  outWalkGrams: 0.05,
  coupleSec: 2.5,
  coupleOutSdGrams: 0.2,
  // Lips close some millimetres behind the tip (sleeve contract, section 1); how many is an assumption.
  lineMm: -3.5,
  lineSdMm: 2.5,
  lineWalkMm: 0.047,
  besideSdMm: 0.5,
  besideWalkMm: 0.032,
  biasSdGrams: 0.5,
  biasWalkGrams: 0.03,
  tiltBiasSdGrams: 0.7,
  massBiasSdGrams: 0.5,
  massBiasWalkGrams: 0.04,
  lagShareSd: 0.5,
};

/**
 * Sucks that scatter by 0.37 to 0.47 of their mean (Qureshi et al. 2002), and whose mean changes from burst to burst. They begin less sure of that mean: 29 kinds of
 * teats on a pump gave 2.1 to 85 mL/min (Pados et al. 2015, Am J Speech Lang Pathol 24:671-679, abstract), at a suck a second 0.04 to 1.4 mL, so that a wide hole is no
 * rarity. How much less sure is an assumption.
 */
const IRREGULAR = {
  perSuckScatter: 0.4,
  deviationShare: 0.5,
  perSuckWalkGrams: 0.02,
  perSuckStartSdGrams: 0.25,
};

const UNSEEN_SUCKS = { leakSdGramsPerSec: 0.25, leakSec: 2, inMouthWalkGrams: 0.02 };

/** Tilt from which on a bottle counts as steep, and below which as level, degrees; between them in proportion. Own figures. */
export const STEEP_DEG = { none: 110, full: 140 } as const;

export interface BankMember {
  noise: MilkNoise;
  /** Whether sucks at a bare hole give none. There may be milk in the teat that the profile does not know of. */
  covered: boolean;
  /** Whether it hands out milk by sucks. */
  sucks: boolean;
  /** Logarithm of its weight before any evidence. */
  start: number;
}

/** The filters of the bank, and how evidence for them is weighed. */
export const BANK = {
  filters: [
    { noise: MILK_NOISE, covered: true, sucks: true, start: 1 },
    { noise: MILK_NOISE, covered: false, sucks: true, start: 1 },
    { noise: { ...MILK_NOISE, ...IRREGULAR }, covered: true, sucks: true, start: 0 },
    { noise: { ...MILK_NOISE, ...IRREGULAR }, covered: false, sucks: true, start: 0 },
    // Sucks that cannot be seen: milk by time while the teat is in and the hole covered, coming and going within seconds.
    { noise: { ...MILK_NOISE, ...UNSEEN_SUCKS }, covered: true, sucks: false, start: -1 },
  ] as readonly BankMember[],
  evidenceSec: 60,
  /** Sucks a second that cannot be seen, on the mean over bursts and pauses: own assumption; sucks themselves come at 0.8 to 1.2 a second (Qureshi et al. 2002). */
  unseenPerSec: 0.8,
  /** Added to the logarithm of its weight where sucks are faint. */
  faintStart: 3,
};

/** How mouth and hand are identified while they act (mouth-noise.ts), and what follows from it. */
export const MOUTH_NOISE = {
  /** Before anything is known: spread of the couple and of a row, g, worth so many seconds of evidence. */
  startCoupleGrams: 2,
  startRowGrams: 0.4,
  startWorthSec: 0.03,
  /** Share of a mean square by which what is found by it may be off after one second of evidence; after n seconds 1/√n of it. Made-up mouths have 0.65 to 1.1. */
  oneSecondShare: 0.75,
  memorySec: 40,
  leastCoupleGrams: 0.15,
  leastRowGrams: 0.1,
  /** The couple that the filters reckon with, over the one that was identified: seconds of it do not tell of minutes. */
  coupleScale: 1.35,
  /** Noise of the balance that is white over rows, as a share of the couple, g per √Hz at one row a quarter second. What moves with the sucks in lips and jaw is no evidence of milk. */
  rowPerCouple: 2,
  leastGrams: 0.4,
  /** Share of the scatter within a row that is left in its mean. */
  withinRowShare: 0.2,
  /** Rows of these figures last so long. */
  nominalRowSec: 0.25,
  /** Forces are smoothed over this before they place the mouth's line of action. */
  forceSec: 3,
  /** A couple beyond this is no mouth's: something presses on the bottle. Told of until it falls below the second. */
  pushedGrams: 5.5,
  pushGoneGrams: 4.5,
};

export const MEASUREMENT = {
  /** Outright weighing, g a row, and how restless holding widens its variance. */
  weighingSdGrams: 1,
  weighingPerMotion: 0.3,
  /** The teat has been out for so long before the bottle is weighed outright. */
  weighAfterSec: 1.2,
  /** What an empty bottle may seem to hold less than nothing, g. */
  lighterThanEmptyGrams: 8,
  /** Milk comes and goes within so long, s. */
  longestChangeSec: 6,
  /** A bottle that turns faster swings: it is not weighed, and nothing is concluded from its weight, rad/s. */
  swingRadPerSec: 1.5,
  /** Lever of the transverse balance, m: an added gram at arm 1 adds 1. */
  leverM: 0.1,
  /** Below this arm the balance says more about the bottle than about the milk. */
  minArm: 0.25,
  /** The lag with which a thick liquid's surface follows the felt force. How much of it is there is a state of the filter. */
  sloshSec: 0.13,
  /** |a| scatter of a hand as restless as usual, and of the accelerometer alone, g. */
  motionUsualG: 0.0156,
  motionFloorG: 0.0014,
  motionSec: 6,
} as const;

/** What a stated standard deviation adds to the filter's own. */
export const UNMODELLED = {
  /** Errors of the bottle's profile and centre (0.4 mm each) that no state carries, mL. */
  milkSdMl: 0.4,
  /** What presses harder than an ordinary jaw (2 N·mm, 2 g at the lever; sleeve contract: "the jaw adds a couple") disturbs what no state carries as well, mL per g. */
  milkPerCoupleMl: 0.7,
  ordinaryCoupleGrams: 2,
  /** Rounding at an empty bottle and between earlier intakes, mL/min. */
  flowSdMlPerMin: 0.3,
  /** Afterwards: a burst that gave nothing is hidden under the couple for good. */
  refinedFlowSdShare: 1.2,
} as const;

/** Flow that no sample shows: a walk in g per √s while the axial cell is away; g/s in a gap; g at a reset of the chip. */
export const UNSEEN = {
  blindGramsPerSqrtSec: 0.5,
  gapGramsPerSec: 0.4,
  resetGrams: 20,
} as const;

/**
 * Until the nipple has been in for so long nothing in the balance tells well what this baby takes with a suck. Where milk
 * comes faster than this, that error moves the moment at which it was too much by ten seconds and more, whatever the
 * filter: such rows are `degraded`. The flow is the top of the initial flow at the breast on days 5 to 7, 14 g/min (Howie
 * et al. 1981, Early Hum Dev 5:71).
 */
export const NEW_BABY = { sec: 120, briskMlPerMin: 14 } as const;
