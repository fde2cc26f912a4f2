/** What the milk book says once the bottles of a plan are filled: what was frozen is thawed, and each bottle is poured. */
import { FieldError } from '../../base/errors.ts';
import { type Ledger, type LedgerEntry, own } from '../milk/ledger-state.ts';
import type { Packed } from './filling.ts';

/**
 * @param day "YYYY-MM-DD", the day away; the bottles are called after it: "11/26 #1"
 * @returns entries in order; none for a bottle that is a container as it was stored
 * @throws FieldError when bottles of that day stand in the book already
 */
export function packedEntries(
  bottles: readonly Packed[],
  ledger: Ledger,
  { day, atMs }: { day: string; atMs: number },
): LedgerEntry[] {
  const label = (i: number): string => `${Number(day.slice(5, 7))}/${Number(day.slice(8, 10))} #${i + 1}`;
  if (own(ledger.kept, label(0)))
    throw new FieldError(
      'packed-already',
      'day',
      'Bottles for that day are in the milk list already.',
      'Take those entries back first, or look at the milk list.',
    );
  /** Emptied into the bottle as it is: it may be the bottle itself. */
  const isWhole = ({ from, ml }: Packed): boolean =>
    from.length === 1 && Math.abs((own(ledger.kept, from[0]!.id)?.container.volumeMl ?? 0) - ml) < 0.5;
  const used = new Set(bottles.flatMap(({ from }) => from.map(({ id }) => id)));
  const thawed = [...used].filter((id) => own(ledger.kept, id)?.container.place === 'freezer');
  return [
    ...thawed.map((id): LedgerEntry => ({ what: 'thawed', atMs, id })),
    ...bottles.flatMap((bottle, i): LedgerEntry[] => {
      const from = bottle.from.map(({ id, ml }) => ({ id, ml: Math.round(ml * 100) / 100 }));
      return isWhole(bottle) ? [] : [{ what: 'poured', atMs, into: label(i), from }];
    }),
  ];
}
