/**
 * The check at every feed: a still sleeve tells whether its calibration still holds. With nothing but the inner cup in it, the loads must
 * be the cup's; with the full bottle, three loads hang on one unknown, the milk, so two of them are left over for checking.
 */
import type { Calibration } from '../sensing/calibration.ts';
import { convertLoads, createLoadConverter } from '../sensing/loads.ts';
import type { Hold } from './hold.ts';
import { placeOfLiquid } from './milk-in-hold.ts';

/** `watch`: use it, but calibrate soon; `again`: figures are not to be trusted until it is calibrated again. */
export type CalibrationVerdict = 'good' | 'watch' | 'again';

export interface PlausibilityCheck {
  verdict: CalibrationVerdict;
  /** What was found, plain sentences, worst first; empty when all is good. */
  reasons: string[];
  /** How far the cells' zeros seem to have moved since the calibration, g; null when this hold does not tell. */
  zeroShiftGrams: number | null;
  /** Milk by weight, g; null when the bottle is not in it. */
  milkGrams: number | null;
}

export interface PlausibilityOptions {
  /** For the age of the calibration. */
  nowIso: string;
  /** What the person says was filled in, mL, if anything. */
  portionMl?: number | null;
  densityGramsPerMl?: number;
}

const GRAMS_PER_NEWTON = 1000 / 9.80665;
/** Zeros within this of the calibration, g, are usual between two feeds; beyond the second one the zero is wrong. Own figures, set on simulated drift. */
const ZERO_WATCH_GRAMS = 3;
const ZERO_AGAIN_GRAMS = 8;
const SPAN_WATCH_SHARE = 0.01;
const SPAN_AGAIN_SHARE = 0.03;
/** How well a person reads a bottle's marks, mL (own assumption, no source). */
const MARKS_ML = 8;

interface StillLoads {
  fx: number;
  fz: number;
  momentGramMm: number;
  f: [number, number, number];
}

function stillLoads(calibration: Calibration, hold: Hold): StillLoads {
  const loads = convertLoads(createLoadConverter(calibration), {
    atSec: hold.atSec,
    cells: hold.cells,
    accelerometer: hold.accelerometer,
    flags: 0,
    missingBefore: 0,
    resetBefore: false,
  });
  const size = Math.hypot(loads.ax, loads.ay, loads.az);
  return {
    fx: loads.fxN * GRAMS_PER_NEWTON,
    fz: loads.fzN * GRAMS_PER_NEWTON,
    momentGramMm: loads.momentNm * GRAMS_PER_NEWTON * 1000,
    f: [loads.ax / size, loads.ay / size, loads.az / size],
  };
}

/** The sleeve with its inner cup alone, at rest. Needs a calibration made here, which knows the cup. */
export function checkEmptySleeve(
  calibration: Calibration,
  hold: Hold,
  options: PlausibilityOptions,
): PlausibilityCheck {
  const { cup } = calibration as { cup?: { massGrams: number; centreZMm: number } };
  const reasons: Reason[] = ageReasons(calibration, options.nowIso);
  if (!cup) return summary(reasons, null, null);
  const { fx, fz, momentGramMm, f } = stillLoads(calibration, hold);
  const shift = Math.max(
    Math.abs(fx - cup.massGrams * f[0]),
    Math.abs(fz - cup.massGrams * f[2]),
    Math.abs(momentGramMm - cup.massGrams * cup.centreZMm * f[0]) / 100,
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
  const { bottle } = calibration;
  const { portionMl = null, densityGramsPerMl = 1.03 } = options;
  const { fx, fz, momentGramMm, f } = stillLoads(calibration, hold);
  const reasons: Reason[] = ageReasons(calibration, options.nowIso);
  const inPlane = Math.hypot(f[0], f[2]);
  if (inPlane < 0.5) return summary(reasons, null, null);
  // Along the felt force: the weight. Across it: nothing, unless a zero moved.
  const total = (fx * f[0] + fz * f[2]) / (inPlane * inPlane);
  const across = (fx * f[2] - fz * f[0]) / inPlane;
  const milkGrams = total - bottle.emptyMassGrams;
  const tilt = Math.acos(Math.max(-1, Math.min(1, f[2])));
  const place = placeOfLiquid(bottle.innerProfileMm, Math.max(0, milkGrams) / densityGramsPerMl, tilt);
  const sideways = Math.hypot(f[0], f[1]);
  const x = sideways > 1e-9 ? (place.lateralMm * f[0]) / sideways : 0;
  const expected =
    bottle.emptyMassGrams * bottle.emptyCentreZMm * f[0] +
    Math.max(0, milkGrams) * (f[0] * place.zMm - f[2] * x);
  const turning = Math.abs(momentGramMm - expected) / 100;
  const shift = Math.max(Math.abs(across), turning);
  if (milkGrams < -ZERO_WATCH_GRAMS) {
    reasons.push({
      grave: 2,
      text: `The sleeve weighs ${(-milkGrams).toFixed(0)} g less than the empty bottle: another bottle is in it, or the zero is wrong.`,
    });
  }
  reasons.push(...zeroReasons(shift));
  if (portionMl !== null)
    reasons.push(...spanReasons(milkGrams, portionMl * densityGramsPerMl, total, densityGramsPerMl));
  return summary(reasons, shift, milkGrams);
}

interface Reason {
  grave: 1 | 2;
  text: string;
}

function zeroReasons(shiftGrams: number): Reason[] {
  if (shiftGrams <= ZERO_WATCH_GRAMS) return [];
  return [
    {
      grave: shiftGrams > ZERO_AGAIN_GRAMS ? 2 : 1,
      text: `The cells have moved by about ${shiftGrams.toFixed(0)} g since the calibration, or something touches the sleeve.`,
    },
  ];
}

/** A weight that differs from the portion said by more than marks can be misread. */
function spanReasons(milkGrams: number, saidGrams: number, totalGrams: number, density: number): Reason[] {
  const beyond = Math.abs(milkGrams - saidGrams) - MARKS_ML * density;
  const share = beyond / totalGrams;
  if (share <= SPAN_WATCH_SHARE) return [];
  return [
    {
      grave: share > SPAN_AGAIN_SHARE ? 2 : 1,
      text: `The bottle weighs as if it held ${(milkGrams / density).toFixed(0)} mL, not the ${(saidGrams / density).toFixed(0)} mL that were said to be in it.`,
    },
  ];
}

function ageReasons(calibration: Calibration, nowIso: string): Reason[] {
  const { nextCheckDue } = calibration as { nextCheckDue?: string };
  if (!nextCheckDue || nowIso < nextCheckDue) return [];
  return [{ grave: 1, text: `The calibration was due for a check on ${nextCheckDue}.` }];
}

function summary(
  reasons: Reason[],
  zeroShiftGrams: number | null,
  milkGrams: number | null,
): PlausibilityCheck {
  const grave = Math.max(0, ...reasons.map((reason) => reason.grave));
  const texts = [...reasons].sort((one, other) => other.grave - one.grave).map(({ text }) => text);
  if (grave === 2) texts.push('Calibrate again: run "ebbline calibrate".');
  return {
    verdict: grave === 2 ? 'again' : grave === 1 ? 'watch' : 'good',
    reasons: texts,
    zeroShiftGrams,
    milkGrams,
  };
}
