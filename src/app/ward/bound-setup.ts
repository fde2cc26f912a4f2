/** The answers before a feed, out of what was bound to a sleeve. */
import type { FeedSetup } from '../../feed/record/feed.ts';
import { milkBook } from '../../planning/milk/milk-book.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { EMPTY_SETUP } from '../../store/database/settings.ts';

/** @returns null for a sleeve that nothing is bound to */
export function setupOfSleeve(store: FeedJournal, sleeve: number, nowMs: number): FeedSetup | null {
  const bound = store.ward(({ records }) => records.bindings()).find((one) => one.sleeve === sleeve);
  if (!bound) return null;
  const baby = store.getBaby(bound.babyId);
  const { ledger } = milkBook(
    store.readMilkEvents().map(({ no, entry }) => ({ no, entry })),
    nowMs,
  );
  const kept = Object.hasOwn(ledger.kept, bound.container) ? ledger.kept[bound.container]! : null;
  return {
    ...EMPTY_SETUP,
    babyId: bound.babyId,
    babyName: baby?.name ?? null,
    babyBirthDate: baby?.birthDate ?? null,
    milkKind: kept?.container.kind ?? null,
    portionMl: kept?.container.volumeMl ?? null,
  };
}
