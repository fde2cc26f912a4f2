/** A milk ledger from its entries, through the front that a form or a command uses. */
import type { Ledger } from '../../src/planning/milk/ledger-state.ts';
import { newEntries, storedLedger } from '../../src/planning/milk/stored-ledger.ts';

/** @throws PlainError of the first entry that is impossible */
export function ledgerOf(entries: readonly object[], nowMs: number): Ledger {
  const read = entries.length === 0 ? [] : newEntries([], entries, nowMs);
  return storedLedger(
    read.map((entry, i) => ({ no: i + 1, entry })),
    nowMs,
  ).ledger;
}
