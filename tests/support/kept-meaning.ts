/** What a store means, as plain data: two stores that mean the same are the same here, however they are kept. */
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { createScanner, scan } from '../../firmware-bridge/wire/index.ts';
import { openStore } from '../../src/store/open-store.ts';

const plain = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

function samplesOfCapture(path: string | null) {
  if (path === null) return null;
  const samples: unknown[] = [];
  const { bytes } = readCapture(path);
  scan(createScanner(), bytes, { sample: (sample) => samples.push(sample) });
  return { count: samples.length, first: samples.at(0), last: samples.at(-1) };
}

/** @param nowMs the day on which it is looked at */
export function meaningOf(folder: string, nowMs: number) {
  const store = openStore(folder, { nowMs: () => nowMs });
  try {
    const feeds = store.list({ discarded: true }).map(({ id }) => {
      const { rows, ...feed } = store.get(id)!;
      // Where a capture lies is the store's affair.
      return {
        ...feed,
        captureFile: null,
        rows: { count: rows.length, first: rows.at(0), last: rows.at(-1) },
        capture: samplesOfCapture(store.capturePath(id)),
      };
    });
    return plain({
      feeds,
      babies: store.allBabies(),
      handFeeds: store.listHandFeeds(),
      milkEvents: store.readMilkEvents(),
      setup: store.readSetup(),
      packing: store.readPacking(),
      isSoundOn: store.readSoundOn(),
    });
  } finally {
    store.close();
  }
}

export type Meaning = ReturnType<typeof meaningOf>;
