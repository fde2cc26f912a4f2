/** Ledger entries for a plan that was taken, and for its bottles once they are filled. */
import { FieldError } from '../../base/errors.ts';
import { type Ledger, type LedgerEntry, own } from '../milk/ledger-state.ts';
import { isFrozen } from '../milk/places.ts';
import type { Packed } from './filling.ts';

type Promised = Extract<LedgerEntry, { what: 'promised' }>;

/** Identifies the plan, and what it claims. */
export type TakenPlan = Omit<Promised, 'what' | 'ids'>;

const sourcesOf = (bottles: readonly Packed[]): string[] => [
  ...new Set(bottles.flatMap(({ from }) => from.map(({ id }) => id))),
];

/** The plan is taken: its containers are reserved for it. */
export const takenEntry = (bottles: readonly Packed[], plan: TakenPlan): LedgerEntry => ({
  what: 'promised',
  ids: sourcesOf(bottles),
  ...plan,
});

/**
 * The bottles are filled: frozen milk is thawed, each bottle is poured, and from now on only the bottles are reserved for the plan.
 * @param day "YYYY-MM-DD", the day away; the bottles are named after it: "11/26 #1"
 * @returns entries in order; no pouring for a bottle that is a container as it was stored
 * @throws FieldError when the bottles of this plan are in the ledger already
 */
export function packedEntries(
  bottles: readonly Packed[],
  ledger: Ledger,
  { day, plan }: { day: string; plan: TakenPlan },
): LedgerEntry[] {
  const prefix = `${Number(day.slice(5, 7))}/${Number(day.slice(8, 10))} #`;
  if (own(ledger.promises, plan.plan)?.ids.some((id) => id.startsWith(prefix)))
    throw new FieldError(
      'packed-already',
      'day',
      'Bottles for that day are in the milk list already.',
      'Take those entries back first, or look at the milk list.',
    );
  const { atMs } = plan;
  // Bottles of another baby on that day may use some numbers already.
  let no = 1;
  const nextLabel = (): string => {
    while (own(ledger.containers, `${prefix}${no}`)) no += 1;
    return `${prefix}${no++}`;
  };
  /** True when a container is used up by one bottle: it may be the bottle itself. */
  const isWhole = ({ from, ml }: Packed): boolean =>
    from.length === 1 && Math.abs((own(ledger.containers, from[0]!.id)?.container.volumeMl ?? 0) - ml) < 0.5;
  const named = bottles.map((bottle) => ({
    bottle,
    label: isWhole(bottle) ? bottle.from[0]!.id : nextLabel(),
  }));
  const thawed = sourcesOf(bottles).filter((id) => {
    const kept = own(ledger.containers, id);
    return kept && isFrozen(kept.container);
  });
  return [
    ...thawed.map((id): LedgerEntry => ({ what: 'thawed', atMs, id })),
    ...named.flatMap(({ bottle, label }): LedgerEntry[] => {
      const from = bottle.from.map(({ id, ml }) => ({ id, ml: Math.round(ml * 100) / 100 }));
      return isWhole(bottle) ? [] : [{ what: 'poured', atMs, into: label, from }];
    }),
    { what: 'promised', ids: named.map(({ label }) => label), ...plan },
  ];
}
