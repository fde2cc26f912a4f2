/** The portion is set in quarter ounces or in steps of 5 mL. Pure. */
import { mlFromFlOz, type VolumeUnit } from '../../base/units.ts';

/** First value when "more" is touched: a small bottle (2 fl oz), US common practice, no source. */
const FIRST_FL_OZ = 2;
const LEAST_STEPS = 1;
const MOST_ML = 480;

const stepMl = (unit: VolumeUnit): number => (unit === 'fl-oz' ? mlFromFlOz(0.25) : 5);

/** @returns the next portion up or down, on the unit's steps; null below the first step */
export function nextPortionMl(portionMl: number | null, unit: VolumeUnit, direction: 1 | -1): number | null {
  if (portionMl === null) return direction === 1 ? onStep(mlFromFlOz(FIRST_FL_OZ), unit) : null;
  const steps = Math.round(portionMl / stepMl(unit)) + direction;
  if (steps < LEAST_STEPS) return null;
  return Math.min(MOST_ML, tidy(steps * stepMl(unit)));
}

const onStep = (ml: number, unit: VolumeUnit): number => tidy(Math.round(ml / stepMl(unit)) * stepMl(unit));
const tidy = (ml: number): number => Math.round(ml * 100) / 100;
