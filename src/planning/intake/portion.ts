/** How much milk to send: a range for the hours away, and number and size of bottles. */

import { PlainError } from '../../base/errors.ts';
import { flOzFromMl, mlFromFlOz } from '../../base/units.ts';
import { CURVE_SOURCE, DAY_TO_DAY_SOURCE, dailyIntake, SPREAD_SOURCE } from './daily-intake.ts';
import { mixed, quantileMl, summed } from './distribution.ts';
import { type BabyModel, dayKinds } from './intake-model.ts';
import { LEAST_FL_OZ, MOST_FL_OZ, STEP_FL_OZ } from './new-size.ts';

/** Range of eight of ten days, or feeds. */
export interface MlRange {
  lowMl: number;
  middleMl: number;
  highMl: number;
}

export interface Portion {
  perHour: MlRange;
  perFeed: MlRange;
  total: MlRange;
  /** Size, 2 to 4 fl oz, and the number that covers the high end of the total. */
  bottle: { sizeMl: number; count: number };
  /** True when the baby's rate lies outside the range of 95 of 100 babies; it is shown without a judgment. */
  outsidePublished: boolean;
  sources: readonly string[];
}

export const BOTTLE_SIZE_SOURCE =
  '2 to 4 fl oz, more and smaller: common practice, no source; beside it, most breastfed babies take 2 to 4 fl oz when they start other feeding, stored as 2 fl oz with top-ups of 1 to 2 (ABM Clinical Protocol 8, 2004)';

const LOW = 0.1;
const HIGH = 0.9;

/**
 * @param feeds feeds that will be missed, 1 to 16
 * @param hours hours away, above 0 and at most 24
 * @throws PlainError when either is impossible
 */
export function portionFor(model: BabyModel, { feeds, hours }: { feeds: number; hours: number }): Portion {
  checkAway(feeds, hours);
  const kinds = dayKinds(model, { feeds, hours });
  const one = mixed(kinds.map(({ chance, feeds: [first] }) => ({ chance, of: first! })));
  const total = mixed(kinds.map(({ chance, feeds: all }) => ({ chance, of: summed(all) })));
  const rateAt = (log: number): number => model.curveMlPerHour * Math.exp(log);
  const middleMl = rateAt(model.middleLog);
  const perFeed = rangeOf((share) => quantileMl(one, share));
  const totalMl = rangeOf((share) => quantileMl(total, share));
  const sizeMl = sizeFor(perFeed.middleMl);
  const { lowMl, highMl } = dailyIntake(model.ageDays);
  return {
    perHour: { lowMl: rateAt(model.lowLog), middleMl, highMl: rateAt(model.highLog) },
    perFeed,
    total: totalMl,
    bottle: { sizeMl, count: Math.max(feeds, Math.ceil(totalMl.highMl / sizeMl)) },
    outsidePublished: middleMl * 24 < lowMl || middleMl * 24 > highMl,
    sources: [CURVE_SOURCE, SPREAD_SOURCE, DAY_TO_DAY_SOURCE, BOTTLE_SIZE_SOURCE],
  };
}

const rangeOf = (at: (share: number) => number): MlRange => ({
  lowMl: at(LOW),
  middleMl: at(0.5),
  highMl: at(HIGH),
});

/** Rounded to half ounces, at most the baby's usual amount, so that little milk is left. */
function sizeFor(middleMl: number): number {
  const flOz = Math.floor(flOzFromMl(middleMl) / STEP_FL_OZ + 1e-9) * STEP_FL_OZ;
  return mlFromFlOz(Math.min(MOST_FL_OZ, Math.max(LEAST_FL_OZ, flOz)));
}

function checkAway(feeds: number, hours: number): void {
  if (!Number.isInteger(feeds) || feeds < 1 || feeds > 16) {
    throw new PlainError(
      'feeds-impossible',
      `${feeds} feeds cannot be planned.`,
      'Give a whole number of feeds, 1 to 16.',
    );
  }
  if (!(hours > 0 && hours <= 24)) {
    throw new PlainError(
      'hours-impossible',
      `${hours} hours away cannot be planned.`,
      'Give the hours away: above 0, at most 24.',
    );
  }
}
