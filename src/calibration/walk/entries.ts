/** Weights and volumes typed by a person; a mixed-up unit is detected. */
import { PlainError } from '../../base/errors.ts';
import { ML_PER_US_FL_OZ } from '../../base/units.ts';
import type { WalkState } from './walk-state.ts';

/** One avoirdupois ounce in grams, exact (NIST Handbook 44, appendix C). */
export const GRAMS_PER_OUNCE = 28.349523125;

const LEAST_STACK_GRAMS = 60;
const MOST_STACK_GRAMS = 600;

/** "200", "200 g", "7.05 oz". @throws PlainError entry-number, entry-unit */
export function gramsFromText(text: string): number {
  const match = /^\s*([0-9]*[.,]?[0-9]+)\s*(g|gram|grams|oz|ounce|ounces)?\s*$/i.exec(text);
  if (!match) {
    throw new PlainError(
      'entry-number',
      `"${text.trim()}" is not a weight.`,
      'Type a number and its unit, such as 200.3 g or 7.06 oz.',
    );
  }
  const amount = Number(match[1]!.replace(',', '.'));
  return /^o/i.test(match[2] ?? 'g') ? amount * GRAMS_PER_OUNCE : amount;
}

/**
 * Enters the weight of a stack in the walk.
 * @throws PlainError mass-unit when it looks like the other unit, mass-size when it is too light or too heavy to calibrate with
 */
export function enterMass(walk: WalkState, stack: string, grams: number): WalkState {
  checkUnit(grams, LEAST_STACK_GRAMS, MOST_STACK_GRAMS, `Mass ${stack}`);
  if (grams < LEAST_STACK_GRAMS || grams > MOST_STACK_GRAMS) {
    throw new PlainError(
      'mass-size',
      `Mass ${stack} of ${grams.toFixed(1)} g is too ${grams < LEAST_STACK_GRAMS ? 'light' : 'heavy'} to calibrate with.`,
      `Use ${LEAST_STACK_GRAMS} to ${MOST_STACK_GRAMS} g; about 200 g (40 five-cent coins) is best.`,
    );
  }
  return { ...walk, massesGrams: { ...walk.massesGrams, [stack]: grams } };
}

/** @param fill nominal mL of the step; @throws PlainError mass-unit, fill-size */
export function enterFill(walk: WalkState, fill: string, grams: number): WalkState {
  const nominal = Number(fill);
  checkUnit(grams, nominal * 0.6, nominal * 1.4, 'The filling');
  if (grams < nominal * 0.5 || grams > nominal * 1.5) {
    throw new PlainError(
      'fill-size',
      `${grams.toFixed(1)} g is far from the ${fill} mL asked for.`,
      `Fill in about ${fill} mL (${(nominal / ML_PER_US_FL_OZ).toFixed(1)} fl oz), weigh it, and type in what the scale shows.`,
    );
  }
  return { ...walk, fillsGrams: { ...walk.fillsGrams, [fill]: grams } };
}

/** Refuses a number that is plausible only in the other unit. */
function checkUnit(grams: number, least: number, most: number, what: string): void {
  if (grams >= least && grams <= most) return;
  const asOunces = grams * GRAMS_PER_OUNCE;
  const asGrams = grams / GRAMS_PER_OUNCE;
  const remedy = 'Type the number again with its unit, such as 200.3 g or 7.06 oz.';
  if (asOunces >= least && asOunces <= most) {
    throw new PlainError(
      'mass-unit',
      `${what}: ${grams.toFixed(2)} g is very light. Was it ${grams.toFixed(2)} oz (${asOunces.toFixed(1)} g)?`,
      remedy,
    );
  }
  if (asGrams >= least && asGrams <= most) {
    throw new PlainError(
      'mass-unit',
      `${what}: ${asGrams.toFixed(1)} oz is very heavy. Was it ${asGrams.toFixed(1)} g?`,
      remedy,
    );
  }
}
