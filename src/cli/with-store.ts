import { dataFolder } from '../store/data-folder.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';
import type { HeldFolder } from '../store/portable/held-folder.ts';
import { type DatabaseChoice, surroundingsFor } from '../store/postgres/address.ts';
import { type SideFiles, sideFilesIn } from '../store/side-files.ts';

let chosen: DatabaseChoice | null = null;

/** Called once, when the command line is parsed: feeds are stored in a database, not in the data folder. */
export function chooseDatabase(options: Partial<DatabaseChoice>): void {
  const { database } = options;
  chosen = database === undefined ? null : { ...options, database };
}

/** @returns the chosen database; null: the data folder */
export const chosenDatabase = (): DatabaseChoice | null => chosen;

/**
 * @returns the store (real, simulated, or in the chosen database); its place, for people; its place, for a helper process
 * @throws PlainError if it cannot be read
 */
export async function openKept(
  simulated: boolean,
): Promise<{ store: FeedStore; folder: string; helper: { folder: string; env?: NodeJS.ProcessEnv } }> {
  if (chosen === null) {
    const folder = dataFolder({ simulated });
    return { store: openStore(folder), folder, helper: { folder } };
  }
  const { openStoreAt } = await import('../store/postgres/postgres-store.ts');
  const store = openStoreAt(chosen);
  const { address } = store;
  const env = surroundingsFor(chosen, address);
  return { store, folder: address.label, helper: { folder: chosen.database, env } };
}

/** The same, locked for work that changes much of it. */
export async function holdKept(
  simulated: boolean,
): Promise<HeldFolder & { letMonthsGo?: (nowMs: number) => string[] }> {
  if (chosen === null) {
    const { holdFolder } = await import('../store/portable/held-folder.ts');
    return holdFolder(dataFolder({ simulated }));
  }
  const { holdSite } = await import('../store/postgres/postgres-store.ts');
  return holdSite(chosen);
}

/** Runs work on the stored feeds, real or simulated, and closes the store afterwards. @throws PlainError if they cannot be read */
export async function withStore<T>(
  { simulated = false }: { simulated?: boolean | undefined },
  act: (store: FeedStore, folder: string) => T | Promise<T>,
): Promise<T> {
  const { store, folder } = await openKept(simulated);
  try {
    return await act(store, folder);
  } finally {
    store.close();
  }
}

/** The same with only the files of studies and nipples: in a data folder the feeds need not be read for them. */
export async function withFiles<T>(
  { simulated = false }: { simulated?: boolean | undefined },
  act: (files: SideFiles) => T | Promise<T>,
): Promise<T> {
  if (chosen === null) return act(sideFilesIn(dataFolder({ simulated })));
  return withStore({ simulated }, ({ files }) => act(files));
}
