/** The content of a store as plain data: two stores with the same content are equal here, however they are stored. */
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

/** @param nowMs the day for which it is computed */
export function meaningOf(folder: string, nowMs: number) {
  const store = openStore(folder, { nowMs: () => nowMs });
  try {
    const feeds = store.list({ discarded: true }).map(({ id }) => {
      const { rows, ...feed } = store.get(id)!;
      // Paths of captures are left out: they are the store's own business.
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
