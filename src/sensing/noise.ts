/** The noise model of the estimator: one parameter set for all babies and feeds. What differs between feeds is identified in the feed. Evidence in DEVELOPERS.md. */
import type { MilkNoise } from './filter/milk-noise.ts';

export const MILK_NOISE: MilkNoise = {
  milkStartSdGrams: 1.2,
  // 0.17 ± 0.08 mL per suck at 1–4 days, 0.30 ± 0.11 at one month (Qureshi et al. 2002, Dev Med Child Neurol 44:34-39).
  perSuckGrams: 0.24,
  // It is published that a steep bottle gives more (bench, free flow: horizontal < semi-inverted < inverted, p < .001; 2023, Am J Speech Lang Pathol,
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
 * Sucks that scatter by 0.37 to 0.47 of their mean (Qureshi et al. 2002), and whose mean changes from burst to burst. Their mean begins less certain: 29 kinds of
 * teats on a pump gave 2.1 to 85 mL/min (Pados et al. 2015, Am J Speech Lang Pathol 24:671-679, abstract), at a suck a second 0.04 to 1.4 mL, so that a wide hole is not
 * rare. How much less certain is an assumption.
 */
const IRREGULAR = {
  perSuckScatter: 0.4,
  deviationShare: 0.5,
  perSuckWalkGrams: 0.02,
  perSuckStartSdGrams: 0.25,
};

const UNSEEN_SUCKS = { leakSdGramsPerSec: 0.25, leakSec: 2, inMouthWalkGrams: 0.02 };

/** Tilts at which a bottle counts as level and as steep, degrees; linear in between. Own figures. */
const STEEP_DEG = { none: 110, full: 140 } as const;

/** @returns 0 for a level bottle, 1 for a steep one */
export const steepnessAt = (tiltDeg: number): number =>
  Math.min(1, Math.max(0, (tiltDeg - STEEP_DEG.none) / (STEEP_DEG.full - STEEP_DEG.none)));

/** Start of a feed, in which the bottle may still be tipped up, seconds with the teat in. */
export const BEGINS_SEC = 4;

export interface BankMember {
  noise: MilkNoise;
  /** Whether sucks at an uncovered hole give no milk. There may be milk in the teat that is not part of the profile. */
  covered: boolean;
  /** Whether milk is delivered by sucks. */
  sucks: boolean;
  /** Whether it starts from what a suck gave in earlier feeds, where that is known. The others start from what is usual, in case a suck gives something else now. */
  startsFromEarlier: boolean;
  /** Logarithm of its initial weight. */
  start: number;
}

const REGULAR_SUCKS = { sucks: true, startsFromEarlier: true, start: 1 };
const IRREGULAR_SUCKS = { sucks: true, startsFromEarlier: false, start: 0 };

/** The filters of the bank, and the weighting of evidence for them. */
export const BANK = {
  filters: [
    { noise: MILK_NOISE, covered: true, ...REGULAR_SUCKS },
    { noise: MILK_NOISE, covered: false, ...REGULAR_SUCKS },
    { noise: { ...MILK_NOISE, ...IRREGULAR }, covered: true, ...IRREGULAR_SUCKS },
    { noise: { ...MILK_NOISE, ...IRREGULAR }, covered: false, ...IRREGULAR_SUCKS },
    // Sucks that cannot be seen: milk is spread over the time with the teat in and the hole covered, varying within seconds.
    {
      noise: { ...MILK_NOISE, ...UNSEEN_SUCKS },
      covered: true,
      sucks: false,
      startsFromEarlier: false,
      start: -1,
    },
  ] as readonly BankMember[],
  evidenceSec: 60,
  /** Sucks a second that cannot be seen, mean over bursts and pauses: own assumption; sucks themselves come at 0.8 to 1.2 a second (Qureshi et al. 2002). */
  unseenPerSec: 0.8,
  /** Added to the logarithm of its weight where sucks are weak. */
  faintStart: 3,
};

/** Parameters of the identification of mouth and hand (mouth-noise.ts) and of its use. */
export const MOUTH_NOISE = {
  /** Initial values: spread of the couple and of a row, g, with the weight of so many seconds of evidence. */
  startCoupleGrams: 2,
  startRowGrams: 0.4,
  startWorthSec: 0.03,
  /** Relative standard deviation of a mean square after one second of evidence; after n seconds 1/√n of it. Simulated mouths have 0.65 to 1.1. */
  oneSecondShare: 0.75,
  memorySec: 40,
  leastCoupleGrams: 0.15,
  leastRowGrams: 0.1,
  /** Ratio of the couple used by the filters to the identified one, since seconds of evidence underestimate it over minutes. */
  coupleScale: 1.35,
  /** Noise of the balance that is white over rows, as a share of the couple, g per √Hz at one row a quarter second. Movements of lips and jaw in the rhythm of the sucks are not evidence of milk. */
  rowPerCouple: 2,
  leastGrams: 0.4,
  /** Share of the scatter within a row that remains in its mean. */
  withinRowShare: 0.2,
  /** Length of a row that these figures refer to, s. */
  nominalRowSec: 0.25,
  /** Forces are averaged over this time to find the mouth's line of action. */
  forceSec: 3,
  /** A larger couple is not a mouth's: something presses on the bottle. It is reported until the couple falls below the second value. */
  pushedGrams: 5.5,
  pushGoneGrams: 4.5,
};

export const MEASUREMENT = {
  /** Weighing with the teat out: standard deviation, g a row, and factor for a restless hand. */
  weighingSdGrams: 1,
  weighingPerMotion: 0.3,
  /** The teat must be out for this long before the bottle is weighed. */
  weighAfterSec: 1.2,
  /** An empty bottle may appear lighter than empty by this, g. */
  lighterThanEmptyGrams: 8,
  /** Longest duration of a change of milk, s. */
  longestChangeSec: 6,
  /** A bottle that turns faster than this swings; its weight is not used then, rad/s. */
  swingRadPerSec: 1.5,
  /** Lever of the transverse balance, m: an added gram at arm 1 adds 1. */
  leverM: 0.1,
  /** Below this arm the balance depends more on the bottle than on the milk. */
  minArm: 0.25,
  /** The lag with which a thick liquid's surface follows the felt force. The share that applies is a state of the filter. */
  sloshSec: 0.13,
  /** Scatter of |a| for the usual restlessness of a hand, and of the accelerometer alone, g. */
  motionUsualG: 0.0156,
  motionFloorG: 0.0014,
  motionSec: 6,
} as const;

/** Added to the filter's own standard deviation when it is stated. */
export const UNMODELLED = {
  /** Errors of the bottle's profile and centre (0.4 mm each) that no state carries, mL. */
  milkSdMl: 0.4,
  /** A couple larger than an ordinary jaw's (2 N·mm, 2 g at the lever; sleeve contract: "the jaw adds a couple") also disturbs quantities without a state, mL per g. */
  milkPerCoupleMl: 0.7,
  ordinaryCoupleGrams: 2,
  /** Rounding at an empty bottle and between earlier intakes, mL/min. */
  flowSdMlPerMin: 0.3,
  /** After the refined pass: a burst without milk stays hidden by the couple. */
  refinedFlowSdShare: 1.2,
} as const;

/** Flow that cannot be measured: random walk in g per √s while the axial cell fails; g/s in a gap; g at a reset of the chip. */
export const UNSEEN = {
  blindGramsPerSqrtSec: 0.5,
  gapGramsPerSec: 0.4,
  resetGrams: 20,
} as const;

/**
 * During the first minutes with the nipple in, the balance does not show well how much milk this baby takes with a suck. Where
 * milk comes faster than this, that error moves the moment of "too fast" by ten seconds and more, whatever the filter: such
 * rows are `degraded`. The flow is the upper end of the initial flow at the breast on days 5 to 7, 14 g/min (Howie
 * et al. 1981, Early Hum Dev 5:71). Later such rows are `degraded` only while the flow's standard deviation is this large: 24 mL/min cannot be
 * distinguished from 8 when two deviations are 16 (own figure).
 */
export const NEW_BABY = { sec: 120, briskMlPerMin: 14, unsureMlPerMin: 8 } as const;
