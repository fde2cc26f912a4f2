/**
 * The passport of one nipple: how fast it gives milk, how much that varies, and how well it is known. As on a laboratory
 * bench: nipple 30° down, 50 mL in the bottle, one minute, milk weighed (Pados, Park, Estrem et al., conference poster, abstract),
 * or with water at a kitchen table for as long as was taken. Terms of uncertainty are those of the GUM (JCGM 100:2008). Pure.
 */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { STANDARD_GRAVITY_MPS2 } from '../../base/units.ts';
import { COVERAGE_FACTOR, mean } from '../indices/intervals.ts';
import { studentT95 } from '../statistics/student-t.ts';
import {
  conditionsShape,
  FEWEST_TRIALS,
  MOST_TRIALS,
  MOST_TRIALS_NEEDED,
  TEAT_NAME,
  type TeatPassport,
} from './passport-format.ts';

const trial = z.strictObject({
  volumeMl: z.number('must be a number of mL').min(0, 'must not be below nothing').max(500),
  durationSec: z.number('must be a number of seconds').min(10, 'must be at least 10 s').max(600),
});

const teatTrialsSchema = z.strictObject({
  version: z.literal(1),
  /** In the family's own words; no makes are needed. */
  teat: TEAT_NAME,
  ...conditionsShape,
  atMs: z.number(),
  /** What weighed it: its smallest step, and whether the cup stayed on it from trial to trial, so that rounding does not add up. */
  scale: z
    .strictObject({ stepGrams: z.number().min(0).max(10), keptOn: z.boolean() })
    .default({ stepGrams: 1, keptOn: false }),
  /** Standard uncertainty of each start and each stop, s. By hand: 0.3, common practice, no source. */
  clockSec: z.number().min(0).max(5).default(0.3),
  trials: z.array(trial).min(FEWEST_TRIALS, 'must be at least three trials').max(MOST_TRIALS),
});

export type TeatTrials = z.infer<typeof teatTrialsSchema>;

/** A height by a ruler of 1 mm at a table, as a standard uncertainty (1 mm either way, GUM 4.3.7); common practice, no source. */
const HEAD_SD_MM = 0.58;
const MMHG_PA = 133.322;
const DENSITY_KG_PER_M3: Record<TeatTrials['liquid'], number> = { water: 998, formula: 1030, milk: 1030 };
/** @returns mL of so many grams, at room temperature */
const mlOf = (grams: number, liquid: TeatTrials['liquid']): number =>
  (1000 * grams) / DENSITY_KG_PER_M3[liquid];

/** @returns what ran out in each trial, mL, from what a scale showed after each with the cup left on it */
export const volumesShown = (shownGrams: readonly number[], liquid: TeatTrials['liquid']): number[] =>
  shownGrams.map((grams, i) => mlOf(grams - (shownGrams[i - 1] ?? 0), liquid));

/** Tables give 0.603 to 0.620 for larger holes and faster flow; for a nipple's hole it is uncertain. */
const DISCHARGE = { low: 0.5, high: 0.8 };

/**
 * @param data as of `teatTrialsSchema`
 * @param before the passport of the same nipple made last, if any
 * @throws PlainError teat-trials-wrong, teat-passport-other
 */
export function teatPassport(data: unknown, before: TeatPassport | null = null): TeatPassport {
  const parsed = teatTrialsSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new PlainError(
      'teat-trials-wrong',
      `The trials cannot be used: ${issue!.path.join('.') || 'the file'} ${issue!.message}.`,
      'Correct it and measure again if need be; nothing was kept.',
    );
  }
  const { teat, atMs, liquid, suction, tiltDeg, headMm, trials } = parsed.data;
  const flows = trials.map(({ volumeMl, durationSec }) => (60 * volumeMl) / durationSec);
  const flow = mean(flows);
  const sd = Math.sqrt(flows.reduce((sum, one) => sum + (one - flow) ** 2, 0) / (flows.length - 1));
  const budget: Budget = {
    sd,
    flow,
    trialMin: mean(trials.map(({ durationSec }) => durationSec)) / 60,
    stepMl: mlOf(parsed.data.scale.stepGrams, liquid),
    keptOn: parsed.data.scale.keptOn,
    clockMin: parsed.data.clockSec / 60,
    // Flow goes by the root of the pressure.
    headShare: headPa(liquid, HEAD_SD_MM) / drivingPa(parsed.data) / 2,
  };
  const half = halfOf(budget, flows.length);
  const conditions = { liquid, suction, tiltDeg, headMm };
  const passport: TeatPassport = {
    version: 1,
    teat,
    atMs,
    conditions,
    trials: flows.length,
    flowMlPerMin: flow,
    lowMlPerMin: Math.max(0, flow - half),
    highMlPerMin: flow + half,
    coefficientOfVariation: flow === 0 ? 0 : sd / flow,
    trialsFor5Percent: trialsFor(budget, 0.05),
    holeMm: holeOf(flow, parsed.data),
    wear: null,
  };
  return before === null ? passport : { ...passport, wear: wearSince(before, passport) };
}

/** What the uncertainty of a mean flow is made of; flows in mL/min. */
export interface Budget {
  /** Standard deviation of single trials. */
  sd: number;
  flow: number;
  trialMin: number;
  stepMl: number;
  keptOn: boolean;
  clockMin: number;
  /** Of the flow, by the height that is stated: standard uncertainty as a share. */
  headShare: number;
}

/**
 * Half of the 95 % interval of the mean of so many trials. A cup that is weighed by itself each time may be rounded the same way each
 * time: that does not average out. Each part is widened by its own factor before they are added in squares: effective degrees of
 * freedom (GUM G.4.1) cover too little where three trials happen to be alike (`npm run bench nipple`).
 */
function halfOf({ sd, flow, trialMin, stepMl, keptOn, clockMin, headShare }: Budget, trials: number): number {
  const byStep = stepMl / Math.sqrt(12) / trialMin;
  // Trials that a step makes alike may differ by as much as it hides.
  const byTrials = Math.max(sd, byStep) / Math.sqrt(trials);
  const byScale = keptOn ? byStep / trials : byStep;
  const byClock = (flow * Math.SQRT2 * clockMin) / trialMin / Math.sqrt(trials);
  return Math.hypot(
    studentT95(trials - 1) * byTrials,
    COVERAGE_FACTOR * Math.hypot(byScale, byClock, headShare * flow),
  );
}

/** @returns trials for which the 95 % interval of the mean is within `share` of it, three at least; null where none of up to 200 */
export function trialsFor(budget: Budget, share: number): number | null {
  for (let n = FEWEST_TRIALS; n <= MOST_TRIALS_NEEDED; n++)
    if (halfOf(budget, n) <= share * budget.flow) return n;
  return null;
}

const headPa = (liquid: TeatTrials['liquid'], headMm: number): number =>
  DENSITY_KG_PER_M3[liquid] * STANDARD_GRAVITY_MPS2 * (headMm / 1000);

/** Pressure that drives the flow, Pa: the head of liquid, and the suction. */
function drivingPa({ liquid, suction, headMm }: TeatTrials): number {
  return headPa(liquid, headMm) + (suction === 'free' ? 0 : suction.mmHg * MMHG_PA);
}

/** Torricelli's law with a discharge coefficient: flow = Cd · area · √(2 p ÷ density). Null where nothing flows. */
function holeOf(flowMlPerMin: number, trials: TeatTrials): TeatPassport['holeMm'] {
  if (flowMlPerMin === 0) return null;
  const speed = Math.sqrt((2 * drivingPa(trials)) / DENSITY_KG_PER_M3[trials.liquid]);
  const diameterMm = (discharge: number): number =>
    2000 * Math.sqrt(flowMlPerMin / 60 / 1e6 / (discharge * speed) / Math.PI);
  return { least: diameterMm(DISCHARGE.high), most: diameterMm(DISCHARGE.low) };
}

function wearSince(before: TeatPassport, now: TeatPassport): NonNullable<TeatPassport['wear']> {
  if (JSON.stringify(before.conditions) !== JSON.stringify(now.conditions)) {
    throw new PlainError(
      'teat-passport-other',
      `The passport before was made under other conditions, so that ${now.teat} cannot be compared with it.`,
      'Repeat the trials with the same liquid, suction, tilt and height, or begin a new passport.',
    );
  }
  return {
    ratio: before.flowMlPerMin === 0 ? null : now.flowMlPerMin / before.flowMlPerMin,
    isClear: now.lowMlPerMin > before.highMlPerMin || now.highMlPerMin < before.lowMlPerMin,
  };
}
