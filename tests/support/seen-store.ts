/** All of a store that can be read through its front, and the files of its captures. */
import { readFileSync } from 'node:fs';
import { openStore } from '../../src/store/open-store.ts';

export function seenIn(folder: string) {
  const store = openStore(folder);
  try {
    const list = store.list({ discarded: true });
    return {
      list,
      feeds: list.map(({ id }) => store.get(id)),
      captures: list.map(({ id }) => hexOf(store.capturePath(id))),
      handFeeds: store.listHandFeeds({ withdrawn: true }),
      milk: store.readMilkEvents(),
      settings: store.settings(),
      calibrations: store.calibrations(),
      babies: store.listBabies(),
    };
  } finally {
    store.close();
  }
}

const hexOf = (path: string | null): string | null => path && readFileSync(path).toString('hex');
