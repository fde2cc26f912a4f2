/** A milk ledger from its entries as a form or a file would bring them. */
import { withEntry } from '../../src/planning/milk/ledger.ts';
import { EMPTY_LEDGER, entrySchema, type Ledger } from '../../src/planning/milk/ledger-state.ts';

/** @throws PlainError of the first entry that is impossible */
export const ledgerOf = (entries: readonly object[], nowMs: number): Ledger =>
  entries.reduce<Ledger>((ledger, entry) => withEntry(ledger, entrySchema.parse(entry), nowMs), EMPTY_LEDGER);
