import { openFeeds } from '../app/babies/open-feeds.ts';
import { leftOutText } from '../app/babies/whose-text.ts';
import { type KeptPlace, type OpenPlace, openPlace } from '../app/kept/kept-place.ts';
import { dataFolder } from '../store/data-folder.ts';
import type { FeedStore } from '../store/feed-store.ts';
import type { DatabaseChoice } from '../store/postgres/address.ts';
import { type SideFiles, sideFilesIn } from '../store/side-files.ts';
import { type Lines, say } from './print-out.ts';

/** Options of a command about kept feeds. */
export interface Kept {
  simulated?: boolean;
}

let chosen: DatabaseChoice | null = null;

/** Called once, when the command line is read: feeds are kept in a database, not in the data folder. */
export function chooseDatabase({ database, ...how }: Partial<DatabaseChoice>): void {
  chosen = database === undefined ? null : { ...how, database };
}

/** @returns the chosen database; null: the data folder */
export const chosenDatabase = (): DatabaseChoice | null => chosen;

export const keptPlace = (options: Kept): KeptPlace => chosen ?? dataFolder(options);

export const openKept = (options: Kept): Promise<OpenPlace> => openPlace(keptPlace(options));

/** Runs work on the stored feeds, real or simulated, and closes the store afterwards. @throws PlainError if they cannot be read */
export async function withStore<T>(
  options: Kept,
  act: (store: FeedStore, folder: string) => T | Promise<T>,
): Promise<T> {
  const { store, folder } = await openKept(options);
  try {
    return await act(store, folder);
  } finally {
    store.close();
  }
}

/** A run on the stored feeds, which prints what `act` returns. */
export const onStore =
  <G extends Kept>(act: (store: FeedStore, given: G, folder: string) => Lines | Promise<Lines>) =>
  (given: G): Promise<void> =>
    withStore(given, async (store, folder) => say(await act(store, given, folder)));

/** The same on feeds of a baby: warns of feeds that are left out, since it is not certain whose they are. */
export const onBabies = <G extends Kept>(act: (store: FeedStore, given: G) => Lines | Promise<Lines>) =>
  onStore((store, given: G) => {
    for (const line of leftOutText(openFeeds(store))) process.stderr.write(`${line}\n`);
    return act(store, given);
  });

/** A run with only the files of studies and nipples: in a data folder the feeds need not be read for them. */
export async function withFiles<T>(options: Kept, act: (files: SideFiles) => T | Promise<T>): Promise<T> {
  if (chosen === null) return act(sideFilesIn(dataFolder(options)));
  return withStore(options, ({ files }) => act(files));
}

/** A run on those files, which prints what `act` returns. */
export const onFiles =
  <G extends Kept>(act: (files: SideFiles, given: G) => Lines) =>
  (given: G): Promise<void> =>
    withFiles(given, (files) => say(act(files, given)));
