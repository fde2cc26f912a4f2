/**
 * The check at every feed: whether the calibration still holds, seen from a resting sleeve. With the inner cup alone the loads must be those of
 * the cup; with the full bottle three loads depend on one unknown, the milk, so two are left for checking.
 */

import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import type { Calibration } from '../../sensing/loads/calibration.ts';
import { bottleMisfit, inPlaneShare, LEAST_IN_PLANE, stillLoads, weightGrams } from '../fit/still-loads.ts';
import type { Hold } from '../walk/hold.ts';
import { cupOf, nextCheckDueOf } from '../walk/noted.ts';
import { LEVER_MM } from '../walk/sleeve-design.ts';

/** `watch`: use it, but calibrate soon; `again`: the figures must not be trusted until it is calibrated again. */
export type CalibrationVerdict = 'good' | 'watch' | 'again';

/** The cells' zero moved; the empty bottle is another; weight and entered amount differ; the calibration is due for a check. */
export type CalibrationFinding = 'zero' | 'bottle' | 'amount' | 'due';

export interface PlausibilityCheck {
  verdict: CalibrationVerdict;
  /** The worst finding; null when all is good. */
  finding: CalibrationFinding | null;
  /** The findings as plain sentences, worst first; empty when all is good. */
  reasons: string[];
  /** How far the cells' zeros seem to have moved since the calibration, g; null when this hold does not show it. */
  zeroShiftGrams: number | null;
  /** Milk by weight, g; null when the bottle is not in it. */
  milkGrams: number | null;
}

export interface PlausibilityOptions {
  /** Present time, for the age of the calibration. */
  nowIso: string;
  /** The amount that the person entered, mL, if any. */
  portionMl?: number | null;
  densityGramsPerMl?: number;
}

/** A change of zero up to this is usual between feeds, g; beyond the second limit the zero is wrong. Own figures, set on simulated drift. */
const ZERO_WATCH_GRAMS = 3;
const ZERO_AGAIN_GRAMS = 8;
const SPAN_SHARE = 0.01;
/** How well a person reads a bottle's marks, mL (own assumption, no source). */
const MARKS_ML = 8;

/** The sleeve with its inner cup alone, at rest. Needs a calibration that contains the cup's mass. */
export function checkEmptySleeve(
  calibration: Calibration,
  hold: Hold,
  options: PlausibilityOptions,
): PlausibilityCheck {
  const cup = cupOf(calibration);
  const reasons: Reason[] = ageReasons(calibration, options.nowIso);
  if (!cup) return summary(reasons, null, null);
  const { fx, fz, moment, f } = stillLoads(calibration, hold);
  const shift = Math.max(
    Math.abs(fx - cup.massGrams * f[0]),
    Math.abs(fz - cup.massGrams * f[2]),
    Math.abs(moment - (cup.massGrams * cup.centreZMm * f[0]) / LEVER_MM),
  );
  reasons.push(...zeroReasons(shift));
  return summary(reasons, shift, null);
}

/** The full bottle just put in, at rest and out of the mouth. */
export function checkFullBottle(
  calibration: Calibration,
  hold: Hold,
  options: PlausibilityOptions,
): PlausibilityCheck {
  const { portionMl = null, densityGramsPerMl = MILK_DENSITY_GRAMS_PER_ML } = options;
  const loads = stillLoads(calibration, hold);
  const reasons: Reason[] = ageReasons(calibration, options.nowIso);
  if (inPlaneShare(loads) < LEAST_IN_PLANE) return summary(reasons, null, null);
  const { milkGrams, acrossGrams, turningGrams } = bottleMisfit(loads, calibration.bottle, densityGramsPerMl);
  const shift = Math.max(Math.abs(acrossGrams), Math.abs(turningGrams));
  if (milkGrams < -ZERO_WATCH_GRAMS) {
    reasons.push({
      grave: 2,
      finding: 'bottle',
      text: `The sleeve weighs ${(-milkGrams).toFixed(0)} g less than the empty bottle: another bottle is in it, or the zero is wrong.`,
    });
  }
  reasons.push(...zeroReasons(shift));
  if (portionMl !== null)
    reasons.push(
      ...spanReasons(milkGrams, portionMl * densityGramsPerMl, weightGrams(loads), densityGramsPerMl),
    );
  return summary(reasons, shift, milkGrams);
}

interface Reason {
  grave: 1 | 2;
  finding: CalibrationFinding;
  text: string;
}

function zeroReasons(shiftGrams: number): Reason[] {
  if (shiftGrams <= ZERO_WATCH_GRAMS) return [];
  return [
    {
      grave: shiftGrams > ZERO_AGAIN_GRAMS ? 2 : 1,
      finding: 'zero',
      text: `The cells have moved by about ${shiftGrams.toFixed(0)} g since the calibration, or something touches the sleeve.`,
    },
  ];
}

/**
 * The weight differs from the entered portion by more than an error of reading the marks. Never severe by itself: the usual cause is an amount
 * that was not changed since the last feed.
 */
function spanReasons(milkGrams: number, saidGrams: number, totalGrams: number, density: number): Reason[] {
  const beyond = Math.abs(milkGrams - saidGrams) - MARKS_ML * density;
  if (beyond / totalGrams <= SPAN_SHARE) return [];
  return [
    {
      grave: 1,
      finding: 'amount',
      text: `The bottle weighs as if it held ${(milkGrams / density).toFixed(0)} mL, not the ${(saidGrams / density).toFixed(0)} mL that were said to be in it.`,
    },
  ];
}

function ageReasons(calibration: Calibration, nowIso: string): Reason[] {
  const nextCheckDue = nextCheckDueOf(calibration);
  if (!nextCheckDue || nowIso < nextCheckDue) return [];
  return [{ grave: 1, finding: 'due', text: `The calibration was due for a check on ${nextCheckDue}.` }];
}

function summary(
  reasons: Reason[],
  zeroShiftGrams: number | null,
  milkGrams: number | null,
): PlausibilityCheck {
  const grave = Math.max(0, ...reasons.map((reason) => reason.grave));
  const sorted = [...reasons].sort((one, other) => other.grave - one.grave);
  const texts = sorted.map(({ text }) => text);
  if (grave === 2) texts.push('Calibrate again: run "ebbline sleeve calibrate".');
  return {
    verdict: grave === 2 ? 'again' : grave === 1 ? 'watch' : 'good',
    finding: sorted[0]?.finding ?? null,
    reasons: texts,
    zeroShiftGrams,
    milkGrams,
  };
}
