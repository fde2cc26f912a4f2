/** One simulated day by the rule on the label, bottle by bottle; written apart from the exact outcome, so that each checks the other. */
import { type Bag, type Bottle, CLOSE_ML } from '../../src/planning/bag/serving.ts';

export interface Served {
  thrownMl: number;
  short: boolean;
  missingMl: number;
  opened: number;
}

export function serveDay(bag: Bag, wantedMl: readonly number[]): Served {
  const firsts = [...bag.firsts];
  const topUps = [...bag.topUps];
  let spare = bag.spare;
  const served: Served = { thrownMl: 0, short: false, missingMl: 0, opened: 0 };
  const takeSpare = (): Bottle | undefined => {
    const bottle = spare ?? undefined;
    spare = null;
    return bottle;
  };
  const nextBottle = (): Bottle | undefined => topUps.shift() ?? firsts.shift() ?? takeSpare();
  for (const wanted of wantedMl) {
    let given = 0;
    let bottle = served.short ? undefined : (firsts.shift() ?? nextBottle());
    while (bottle) {
      served.opened += 1;
      given += bottle.ml;
      if (given + CLOSE_ML >= wanted) break;
      bottle = nextBottle();
    }
    if (given + CLOSE_ML < wanted) {
      served.short = true;
      served.missingMl += wanted - given;
    } else served.thrownMl += Math.max(0, given - wanted);
  }
  if (!served.short) {
    for (const { ml, lostIfUnopened } of [...firsts, ...topUps, ...(spare ? [spare] : [])])
      if (lostIfUnopened) served.thrownMl += ml;
  }
  return served;
}
