/** A plan from what the store knows. */
import type { BabyRef } from '../../base/babies.ts';
import { type PackingAnswer, packFor, readPackingAsk } from '../../planning/bag/packing.ts';
import { type PackingSettings, readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { onHand } from '../../planning/milk/ledger.ts';
import type { Container } from '../../planning/milk/milk.ts';
import { milkBook } from '../../planning/milk/milk-book.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { knownFeeds } from './known-from-store.ts';

export interface Surroundings {
  nowMs: () => number;
  /** The family's, by its IANA name; it may be set anew while the program runs. */
  readonly zone: string;
}

/** The plan for a question that was checked or not yet. @param milk null: as if there were enough */
export function planFor(
  store: FeedJournal,
  ask: unknown,
  baby: BabyRef,
  milk: readonly Container[] | null,
  { nowMs, zone }: Surroundings,
  settings: PackingSettings = readPackingSettings(store.readPacking()),
): PackingAnswer {
  const now = nowMs();
  return packFor(readPackingAsk(ask), {
    feeds: knownFeeds(store, baby, now),
    milk,
    settings,
    nowMs: now,
    zone,
  });
}

/** @returns null where no milk was ever entered */
export function milkOnHand(store: FeedJournal, nowMs: number): Container[] | null {
  const kept = store.readMilkEvents();
  return kept.length === 0 ? null : onHand(milkBook(kept, nowMs).ledger);
}
