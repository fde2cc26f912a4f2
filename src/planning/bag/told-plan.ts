/** The plan that is shown: bottles of the advised size if possible, and all chances corrected by the record of earlier plans. */
import { PlainError } from '../../base/errors.ts';
import type { DayKind } from '../intake/intake-model.ts';
import type { Container } from '../milk/milk.ts';
import { type BottlePlan, besides, planBottles } from './bottles.ts';
import type { AwayTime, PackingRules } from './packing-rules.ts';
import { shifted } from './recalibration.ts';

export type PackedPlan = Omit<BottlePlan, 'plain'> & {
  plain: Omit<BottlePlan['plain'][number], 'bag'>[];
  /** The chance by the model alone, before the correction. */
  modelChance: number;
};

export interface PlanOrTrouble {
  plan: PackedPlan | null;
  /** Why there is no plan. */
  trouble: { code: string; message: string; remedy: string } | null;
  /** Bottles above the usual size had to be allowed to keep to the limit. */
  largerThanUsual: boolean;
}

/** Limits are whole days of a hundred; converted there and back, they get a rounding error. */
const rounded = (limit: number): number => Math.round(1e6 * limit) / 1e6;

export interface Given {
  rules: PackingRules;
  /** The size that is advised. */
  sizeMl: number;
  /** The shift of the model's chances by the record of earlier plans. */
  shift: number;
  lastWeekMostMl: number | null;
}

/** No bottle above the advised size, unless the limit cannot be kept otherwise. */
export function planOrTrouble(
  kinds: readonly DayKind[],
  milk: readonly Container[],
  away: AwayTime,
  { rules, sizeMl, shift, lastWeekMostMl }: Given,
): PlanOrTrouble {
  // The limit concerns the corrected chance, so the model gets the limit shifted back.
  const asked = { ...rules, shortLimit: Math.min(0.5, shifted(rules.shortLimit, -shift)) };
  const upTo = (sizesMl: readonly number[]): number[] => sizesMl.filter((ml) => ml <= sizeMl + 1e-6);
  const usualSizesMl = upTo(rules.firstSizesMl);
  const topUpSizesMl = upTo(rules.topUpSizesMl);
  const planWith = (firstSizesMl: readonly number[]): BottlePlan =>
    planBottles(
      kinds,
      milk,
      away,
      { ...asked, firstSizesMl, topUpSizesMl },
      { lastWeekMostMl, otherLimits: besides(rules.shortLimit).map((limit) => shifted(limit, -shift)) },
    );
  try {
    const usual = planWith(usualSizesMl);
    const needsLarger = usual.limitedBy === 'bottles' && usualSizesMl.length < rules.firstSizesMl.length;
    const larger = needsLarger ? planWith(rules.firstSizesMl) : null;
    const plan = larger?.meetsLimit ? larger : usual;
    return { plan: asTold(plan, shift), trouble: null, largerThanUsual: plan === larger };
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    const { code, message, remedy } = error;
    return { plan: null, trouble: { code, message, remedy }, largerThanUsual: false };
  }
}

/** The plan with every chance corrected by the record. */
function asTold(plan: BottlePlan, shift: number): PackedPlan {
  const told = <T extends { shortChance: number }>(one: T): T => ({
    ...one,
    shortChance: shifted(one.shortChance, shift),
  });
  const { outcome, oneFewer, choices, curve, plain } = plan;
  return {
    ...plan,
    modelChance: outcome.shortChance,
    outcome: told(outcome),
    oneFewer: oneFewer && told(oneFewer),
    choices: choices.map((one) => ({ ...told(one), shortLimit: rounded(shifted(one.shortLimit, shift)) })),
    curve: curve.map(told),
    plain: plain.map(({ bag: _bag, ...one }) => ({ ...one, outcome: told(one.outcome) })),
  };
}
