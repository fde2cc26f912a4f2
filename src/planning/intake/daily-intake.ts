/** Published daily intake of milk: a curve by age, and the spread between babies. */
import { PlainError } from '../../base/errors.ts';

/** The source of a figure, as shown beside it. */
export interface Sourced {
  source: string;
}

export const CURVE_SOURCE =
  'Rios-Leyvraz and Yao 2023, Breastfeed Med 18(3): curve on 167 studies of children from birth to 3 years; its table is of term, exclusively breastfed babies up to 6 months, with solids beyond; its "log" is the natural one, which gives back that table (derived)';

export const SPREAD_SOURCE =
  'range 478 to 1298 mL a day among breastfed babies of 1 to 6 months (summary of Kent’s data, partly from memory); taken as ±2.4 standard deviations of about 71 babies (number from memory)';

export const DAY_TO_DAY_SOURCE =
  'day-to-day variation 13 to 15 %, formula-fed babies weighed for days (1986, J Pediatr Gastroenterol Nutr 5:434)';

/** Spread of the logarithm of daily intake between babies: ln(1298/478) over 4.8 standard deviations. */
export const BETWEEN_BABIES_SD_LOG = Math.log(1298 / 478) / 4.8;

/** Spread of the logarithm of one baby's intake between days. */
export const DAY_TO_DAY_SD_LOG = 0.14;

/** The curve's table runs from 1 to 12 months; nothing is claimed beyond. */
export const OLDEST_DAYS = 366;
const YOUNGEST_TABLED_DAYS = 28;
const Z95 = 1.96;

export interface DailyIntake extends Sourced {
  /** Published median, mL in 24 h. */
  middleMl: number;
  /** Range of 95 of 100 babies, mL in 24 h. A baby outside of it is not ill because of that alone. */
  lowMl: number;
  highMl: number;
  /** False below 4 weeks, where the published table has no row. */
  inTable: boolean;
}

/**
 * Published daily intake at an age.
 * @param ageDays whole or part days since birth, 1 to 366
 * @throws PlainError when the age is impossible or beyond the curve
 */
export function dailyIntake(ageDays: number): DailyIntake {
  checkAge(ageDays);
  const middleMl = 51 - 1.4 * ageDays + 180 * Math.log(ageDays);
  const factor = Math.exp(Z95 * BETWEEN_BABIES_SD_LOG);
  return {
    middleMl,
    lowMl: middleMl / factor,
    highMl: middleMl * factor,
    inTable: ageDays >= YOUNGEST_TABLED_DAYS,
    source: `${CURVE_SOURCE}; spread: ${SPREAD_SOURCE}`,
  };
}

function checkAge(ageDays: number): void {
  if (!Number.isFinite(ageDays) || ageDays < 1) {
    throw new PlainError(
      'age-impossible',
      `An age of ${ageDays} days cannot be used.`,
      'Check the birth date: the baby must be at least one day old.',
    );
  }
  if (ageDays > OLDEST_DAYS) {
    throw new PlainError(
      'age-beyond-curve',
      `The baby is ${Math.floor(ageDays)} days old; the published curve ends at 12 months.`,
      'Plan from what the baby usually takes, with your clinician or the place where the baby is cared for.',
    );
  }
}
