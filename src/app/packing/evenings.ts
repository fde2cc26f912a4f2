/** Questions for the evening: plans that have begun, with bottles whose outcome is not entered. Pure. */
import { DAY_MS } from '../../base/calendar.ts';
import type { Ledger } from '../../planning/milk/ledger-state.ts';
import type { Evening } from './packing-answers.ts';

/** The question is asked for three days. */
const ASKED_MS = 3 * DAY_MS;

/** @param nameOf the baby's name from the name of a plan @returns newest first; completely answered plans are left out */
export function eveningsOf(
  { promises, containers }: Ledger,
  nowMs: number,
  nameOf: (plan: string) => string | null,
): Evening[] {
  return Object.entries(promises)
    .filter(([, { fromMs, untilMs }]) => fromMs <= nowMs && untilMs > nowMs - ASKED_MS)
    .map(([plan, { fromMs, ids, short }]) => ({
      plan,
      babyName: nameOf(plan),
      fromMs,
      bottles: ids.flatMap((id) => {
        const bottle = containers[id];
        return bottle && bottle.gone === null ? [{ id, ml: bottle.container.volumeMl }] : [];
      }),
      short,
    }))
    .filter(({ bottles, short }) => bottles.length > 0 || short === null)
    .sort((a, b) => b.fromMs - a.fromMs);
}
