/** The known babies, and the one that a page or a command means. */
import { type BabyRef, babyCalled, isOf, isOpen, type KnownBaby } from '../../base/babies.ts';
import { DAY_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Corrected } from '../../feed/record/written-by-hand.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';

/** A baby whose last feed is older than this is not offered, but is found by name. */
const LOOK_BACK_MS = 43 * DAY_MS;

/** A baby as a page or a command asks about it. */
export type AskedBaby = BabyRef & { birthDay: string | null };

const NOBODY: AskedBaby = { id: null, name: null, birthDay: null };

const asked = ({ id, name, birthDay }: KnownBaby): AskedBaby => ({ id, name, birthDay });

const settled = (store: FeedJournal): KnownBaby[] => store.allBabies().filter((baby) => !isOpen(baby));

/** Order: the baby of the next feed, then by latest feed, then babies without feeds. Feeds without a name count only if no baby has a name. */
export function knownBabies(store: FeedJournal, nowMs: number): AskedBaby[] {
  const known = settled(store).filter(
    ({ lastFedAtMs }) => lastFedAtMs === null || lastFedAtMs >= nowMs - LOOK_BACK_MS,
  );
  const named = known.filter(({ name }) => name !== null);
  return (named.length > 0 ? named : known).map(asked);
}

/**
 * The baby that is meant. Only here a name or an id is turned into a baby.
 * @param who  name or id, as typed or as a page sends it; undefined: the first of `knownBabies`; empty: nobody in particular
 * @returns a baby with only a name, if nothing is known of it
 * @throws PlainError baby-which when it may mean several babies
 */
export function askedBaby(store: FeedJournal, who: string | null | undefined, nowMs: number): AskedBaby {
  if (who === undefined || who === null) return knownBabies(store, nowMs)[0] ?? NOBODY;
  if (who.trim() === '') return NOBODY;
  const baby = babyCalled(settled(store), who);
  return baby ? asked(baby) : { ...NOBODY, name: who.trim() };
}

/** As `askedBaby`, but the baby must be known. @throws PlainError baby-unknown too */
export function knownBaby(store: FeedJournal, who: string, nowMs: number): AskedBaby {
  const baby = babyCalled(settled(store), who);
  if (baby) return asked(baby);
  const names = knownBabies(store, nowMs).flatMap(({ name }) => (name === null ? [] : [name]));
  throw new PlainError(
    'baby-unknown',
    `Nothing is kept of a baby called ${who}.`,
    `Known are: ${names.join(', ') || 'no babies with a name'}.`,
  );
}

/** The same feed with the baby's present name. */
export function namedNow<F extends { setup: FeedSetup; corrected?: Corrected | null }>(
  feed: F,
  babies: readonly KnownBaby[],
): F {
  const renamed = (setup: FeedSetup): FeedSetup => {
    const baby = setup.babyId ? babies.find((one) => isOf(setup, one)) : undefined;
    return baby?.name ? { ...setup, babyName: baby.name } : setup;
  };
  const { setup, corrected } = feed;
  return {
    ...feed,
    setup: renamed(setup),
    ...(corrected && { corrected: { ...corrected, setup: renamed(corrected.setup) } }),
  };
}
