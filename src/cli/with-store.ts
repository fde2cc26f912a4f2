import { dataFolder } from '../store/data-folder.ts';
import { type FeedStore, openStore } from '../store/feed-store.ts';

/** Does something with the kept feeds, real or simulated, and closes them afterwards. @throws PlainError when they cannot be read */
export async function withStore<T>(
  { simulated = false }: { simulated?: boolean | undefined },
  act: (store: FeedStore, folder: string) => T | Promise<T>,
): Promise<T> {
  const folder = dataFolder({ simulated });
  const store = openStore(folder);
  try {
    return await act(store, folder);
  } finally {
    store.close();
  }
}
