/** Milk that is reserved ("promised") for a plan, and how the plan went: no container is reserved for two plans. State in, state out. */

import type { AwayDay } from '../intake/away-days.ts';
import {
  change,
  type Ledger,
  type LedgerEntry,
  own,
  type PromisedMilk,
  present,
  refuse,
  tidy,
} from './ledger-state.ts';
import type { Container } from './milk.ts';
import { moved } from './milk-stays.ts';

/** A smaller amount counts as nothing. */
const DROP_ML = 0.5;

type Entry<W extends LedgerEntry['what']> = Extract<LedgerEntry, { what: W }>;

/** @returns the plan that a container is reserved for at that instant and that is not over yet */
export function liveFor({ promises }: Ledger, id: string, atMs: number): string | null {
  const live = Object.entries(promises).find(([, { untilMs, ids }]) => untilMs > atMs && ids.includes(id));
  return live ? live[0] : null;
}

const withPromise = (ledger: Ledger, plan: string, promise: PromisedMilk): Ledger => ({
  ...ledger,
  promises: { ...ledger.promises, [plan]: promise },
});

export function promised(ledger: Ledger, entry: Entry<'promised'>): Ledger {
  const { plan, atMs, fromMs, untilMs, ids, claimed, feeds = null } = entry;
  if (!(untilMs > fromMs)) throw refuse('plan-backwards', 'The time away ends before it begins');
  for (const id of ids) {
    present(ledger, id, atMs);
    const other = liveFor(ledger, id, atMs);
    if (other !== null && other !== plan)
      throw refuse(
        'container-promised',
        `Container ${id} is promised to another plan`,
        'Plan anew: what is promised elsewhere is left out then.',
      );
  }
  const { short = null, thrownMl = 0, cameBack: back = [] } = own(ledger.promises, plan) ?? {};
  const promise = { atMs, fromMs, untilMs, feeds, ids, claimed, short, thrownMl, cameBack: back };
  return withPromise(ledger, plan, promise);
}

/** Milk poured from a reserved container stays reserved in the new one; milk left in the old one becomes free. */
export function handedOn(ledger: Ledger, from: readonly { id: string }[], into: string): Ledger {
  const sources = from.map(({ id }) => id);
  const plan = Object.keys(ledger.promises).find((name) =>
    ledger.promises[name]!.ids.some((id) => sources.includes(id)),
  );
  if (plan === undefined) return ledger;
  const promise = ledger.promises[plan]!;
  // A container that fills several bottles stays reserved until all bottles of the plan are filled.
  return withPromise(ledger, plan, { ...promise, ids: [...promise.ids, into] });
}

/** The latest plan that lists it, over or not. */
const planOf = ({ promises }: Ledger, id: string): string | undefined =>
  Object.keys(promises).findLast((name) => promises[name]!.ids.includes(id));

const released = (ledger: Ledger, plan: string, id: string): Ledger => {
  const promise = ledger.promises[plan]!;
  return withPromise(ledger, plan, { ...promise, ids: promise.ids.filter((one) => one !== id) });
};

export function went(ledger: Ledger, { plan, atMs, short }: Entry<'went'>): Ledger {
  const promise = own(ledger.promises, plan);
  if (!promise)
    throw refuse('plan-unknown', 'No such plan was taken', 'Take the plan first, or choose another day.');
  if (atMs < promise.fromMs)
    throw refuse('date-order', 'That day has not begun yet', 'Say how it went once it is over.');
  return withPromise(ledger, plan, { ...promise, short });
}

export function cameBack(ledger: Ledger, entry: Entry<'came-back'>): Ledger {
  const { id, atMs, how } = entry;
  const kept = present(ledger, id, atMs);
  const { container } = kept;
  if (how === 'unopened') {
    if (kept.offered)
      throw refuse('already-offered', `Container ${id} was offered at a feed`, 'Say what was left in it.');
    const back =
      container.place === 'fridge' ? [] : moved(container.strands, { sinceMs: atMs, place: 'fridge' });
    const inFridge: Container =
      back.length === 0 ? container : { ...container, place: 'fridge', strands: back };
    const next = change(ledger, { id, atMs }, { ...kept, container: inFridge });
    const plan = planOf(ledger, id);
    return plan === undefined ? next : released(next, plan, id);
  }
  const leftMl = how === 'emptied' ? 0 : (entry.leftMl ?? Number.NaN);
  if (!(leftMl >= 0)) throw refuse('amount-missing', `It is not said how much was left in container ${id}`);
  if (leftMl > container.volumeMl + DROP_ML)
    throw refuse(
      'too-much',
      `${leftMl} mL cannot be left in container ${id}: it held ${tidy(container.volumeMl)} mL`,
    );
  const thrownMl = Math.min(leftMl, container.volumeMl);
  const { fedMl, discardedMl } = ledger.totals;
  const totals = {
    ...ledger.totals,
    fedMl: fedMl + container.volumeMl - thrownMl,
    discardedMl: discardedMl + thrownMl,
  };
  const gone = thrownMl > 0 ? 'discarded' : 'fed';
  const next = change(
    { ...ledger, totals },
    { id, atMs },
    { ...kept, container: { ...container, volumeMl: 0 }, gone },
  );
  return openedFor(next, id, { takenMl: container.volumeMl - thrownMl, thrownMl });
}

/** A bottle with at most this left counts as emptied (film of milk, error of estimating). */
const FILM_ML = 5;

/** Records the result of a bottle for its plan. */
function openedFor(
  ledger: Ledger,
  id: string,
  { takenMl, thrownMl }: { takenMl: number; thrownMl: number },
): Ledger {
  const plan = planOf(ledger, id);
  if (plan === undefined) return ledger;
  const promise = ledger.promises[plan]!;
  return withPromise(ledger, plan, {
    ...promise,
    thrownMl: promise.thrownMl + thrownMl,
    cameBack: [...promise.cameBack, { takenMl, emptied: thrownMl <= FILM_ML }],
  });
}

/** The amount taken in the hours of a plan; null until all its bottles are accounted for, or if some were used otherwise. */
export function awayDayOf({ containers }: Ledger, promise: PromisedMilk): AwayDay | null {
  const { ids, cameBack: back, fromMs, untilMs, feeds } = promise;
  // Containers that were poured into bottles are in the list too.
  const bottles = ids.filter((id) => own(containers, id)?.gone !== 'poured');
  const isDone =
    back.length > 0 && back.length === bottles.length && bottles.every((id) => own(containers, id)?.gone);
  if (!isDone) return null;
  const ml = back.reduce((sum, { takenMl }) => sum + takenMl, 0);
  return { fromMs, untilMs, feeds, ml, emptied: back.every(({ emptied }) => emptied) };
}
