/** A store on a disk and a database that fail on request; closed when the test is over. */
import { onTestFinished } from 'vitest';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { type FailingStorage, failingStorage } from './failing-storage.ts';
import { temporaryFolder } from './temporary-folder.ts';

export function failingStore(): { storage: FailingStorage; store: FeedStore } {
  const storage = failingStorage();
  const store = openStore(temporaryFolder(), { recording: true, disk: storage.disk, open: storage.open });
  onTestFinished(() => store.close());
  return { storage, store };
}
