/** The answers before the next feed of a child whose labels were scanned; at home a family enters them. */
import type { FeedSetup } from '../../feed/record/feed.ts';
import { storedLedger } from '../../planning/milk/stored-ledger.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { EMPTY_SETUP } from '../../store/database/settings.ts';
import { NOTHING_SAID } from '../../store/ward/ward-records.ts';
import type { Binding } from '../../ward/labels/label.ts';
import { inResearch } from '../../ward/people/roles.ts';

/** Content of the bottle from the milk ledger, by the number of the binding; looked up once. */
export type MilkOfBindings = Map<number, Pick<FeedSetup, 'milkKind' | 'portionMl'>>;

/** The last feed's answers are only offered again in a family: in a house of many the next feed has no baby until labels are scanned. */
export function nextSetup(
  store: FeedJournal,
  bound: Binding | null,
  nowMs: number,
  milk: MilkOfBindings,
): FeedSetup {
  if (bound === null) return EMPTY_SETUP;
  const { babyId } = bound;
  const { name = null, birthDate = null } = store.getBaby(babyId) ?? {};
  const { next, takesPart } = store.ward(({ records }) => ({
    next: records.nextFeeds()[babyId] ?? NOTHING_SAID,
    takesPart: inResearch(records.consents(), nowMs).includes(babyId),
  }));
  const { teat, study, participant } = next;
  return {
    ...EMPTY_SETUP,
    ...{ babyId, babyName: name, babyBirthDate: birthDate },
    ...(teat !== null && { teatName: teat }),
    ...(takesPart && study !== null && { study, participant }),
    ...milkOf(store, bound, nowMs, milk),
  };
}

function milkOf(store: FeedJournal, { no, container }: Binding, nowMs: number, milk: MilkOfBindings) {
  const known = milk.get(no);
  if (known) return known;
  const { containers } = storedLedger(store.readMilkEvents(), nowMs).ledger;
  const bottle = Object.hasOwn(containers, container) ? containers[container]!.container : null;
  const found = { milkKind: bottle?.kind ?? null, portionMl: bottle?.volumeMl ?? null };
  milk.set(no, found);
  return found;
}
