/** Content of bottles by the milk ledger, before and after a feed. */
import { z } from 'zod';
import { FieldError, PlainError } from '../../base/errors.ts';
import { plainIssue } from '../../base/plain-issue.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import type { LedgerEntry } from '../../planning/milk/ledger-state.ts';
import { MILK_KINDS, MOST_ML } from '../../planning/milk/milk.ts';
import { judged } from '../../planning/milk/milk-times.ts';
import { entriesOf, newEntries, storedLedger } from '../../planning/milk/stored-ledger.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { endedFeeds } from '../packing/known-from-store.ts';

const eventsOf = (store: FeedJournal) => store.readMilkEvents().map(({ no, entry }) => ({ no, entry }));

/** @returns until when the milk of a container may be used; null if the ledger no longer has it */
export function useByOf(store: FeedJournal, nowMs: number): (container: string) => number | null {
  const { ledger } = storedLedger(eventsOf(store), nowMs);
  const { centerTimes } = readPackingSettings(store.readPacking());
  return (container) => {
    const kept = Object.hasOwn(ledger.containers, container) ? ledger.containers[container]! : null;
    return kept === null || kept.gone !== null
      ? null
      : judged(kept.container, kept.offered, centerTimes).deciding.passesAtMs;
  };
}

const fillSchema = z.strictObject({
  ml: z.number().positive().max(MOST_ML),
  /** Label of a container in the ledger; null: milk made or expressed just now, of `kind`. */
  from: z.string().trim().min(1).max(80).nullable(),
  kind: z.enum(MILK_KINDS).nullable(),
});

/**
 * The ledger entry for filling a child's bottle. Milk of another child is refused.
 * @param into label of the filled bottle in the ledger
 * @throws FieldError fill-invalid, and errors of the ledger; PlainError milk-of-other-child
 */
export function fillEntry(
  store: FeedJournal,
  { data, babyId, into, nowMs }: { data: unknown; babyId: string; into: string; nowMs: number },
): LedgerEntry {
  const parsed = fillSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const field = issue!.path.join('.');
    throw new FieldError(
      'fill-invalid',
      field,
      `${field || 'This'} ${plainIssue(issue!)}.`,
      'Correct it and try again; nothing was changed.',
    );
  }
  const { ml, from, kind } = parsed.data;
  const owners = new Set(
    store
      .readMilkEvents()
      .filter(({ container, babyId: of }) => from !== null && container === from && of !== null)
      .map(({ babyId: of }) => of),
  );
  if (owners.size > 0 && !owners.has(babyId))
    throw new PlainError(
      'milk-of-other-child',
      `Container ${from} holds another child’s milk.`,
      'Take this child’s own milk; nothing was changed.',
    );
  const entry: LedgerEntry =
    from === null
      ? { what: 'got', atMs: nowMs, id: into, kind: kind ?? 'formula', ml, place: 'room' }
      : { what: 'poured', atMs: nowMs, into, from: [{ id: from, ml }] };
  newEntries(eventsOf(store), [entry], nowMs);
  return entry;
}

/**
 * What a bound feed that is over took of its bottle, and that the rest was offered: labels have said which bottle it was. Done once; nothing for a feed
 * without labels, or one that was none.
 * @throws FieldError what the book refuses; PlainError of the store
 */
export function enterFedMilk(store: FeedJournal, feedId: string, nowMs: number): void {
  const feed = endedFeeds(store, nowMs).find(({ id }) => id === feedId);
  if (!feed) return;
  store.ward(({ records, trail }) => {
    const bound = records.bindingOfFeed(feedId);
    const { ledger } = storedLedger(eventsOf(store), nowMs);
    const kept =
      bound && Object.hasOwn(ledger.containers, bound.container) ? ledger.containers[bound.container]! : null;
    if (!bound || !kept || kept.gone !== null || Object.hasOwn(ledger.feeds, feedId)) return;
    // Clocks of a house may be minutes apart.
    const startedAtMs = Math.max(feed.startedAtMs, kept.latestAtMs);
    const endedAtMs = Math.max(feed.endedAtMs, startedAtMs);
    const fed = { feed: feedId, startedAtMs, endedAtMs, leftBottleMl: Math.max(0, feed.leftBottleMl) };
    const entries = entriesOf(fed, kept.container);
    newEntries(eventsOf(store), entries, Math.max(nowMs, endedAtMs));
    const { babyId, container } = bound;
    store.appendMilkEvents(
      entries.map((entry) => ({ atMs: entry.atMs, babyId, container, kind: entry.what, entry })),
    );
    const who = { person: 'this computer', role: 'computer' };
    trail.add({ atMs: nowMs, ...who, act: 'entered-milk', babyId, more: null });
  });
}
