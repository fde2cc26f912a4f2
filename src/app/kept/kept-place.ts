/** The place where feeds are kept: a data folder, or a database server. Which of the two, only this file asks. */
import type { FeedStore } from '../../store/feed-store.ts';
import { openStore } from '../../store/open-store.ts';
import type { HeldFolder } from '../../store/portable/held-folder.ts';
import { type DatabaseChoice, isDatabaseUrl, surroundingsFor } from '../../store/postgres/address.ts';

/** A folder, a database's address with its password in the surroundings, or how a database is reached. */
export type KeptPlace = string | DatabaseChoice;

/** What is kept there; where, for people; where, for a helper process. */
export interface OpenPlace {
  store: FeedStore;
  folder: string;
  helper: { folder: string; env?: NodeJS.ProcessEnv };
}

/** @throws PlainError when it cannot be read */
export async function openPlace(place: KeptPlace): Promise<OpenPlace> {
  if (typeof place === 'string' && !isDatabaseUrl(place))
    return { store: openStore(place), folder: place, helper: { folder: place } };
  const choice = typeof place === 'string' ? { database: place } : place;
  const { openStoreAt } = await import('../../store/postgres/postgres-store.ts');
  const store = openStoreAt(choice);
  const { address } = store;
  const env = surroundingsFor(choice, address);
  return { store, folder: address.label, helper: { folder: choice.database, env } };
}

/** The same, locked for work that changes much of it. */
export async function holdPlace(
  place: KeptPlace,
): Promise<HeldFolder & { letMonthsGo?: (nowMs: number) => string[] }> {
  if (typeof place !== 'string')
    return (await import('../../store/postgres/postgres-store.ts')).holdSite(place);
  return (await import('../../store/portable/held-folder.ts')).holdFolder(place);
}
