/** A store with two invented weeks of one baby: three bottles a day, about 72 mL each out of 89. */
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { begunFeed, partOfSecond } from './store-samples.ts';

export const DAY_MS = 24 * 3_600_000;

/** @param nowMs the weeks end the day before; feeds at 9, 12 and 15 o'clock UTC; @param clock of the store; default: it stands still */
export function packingStore(folder: string, nowMs: number, clock = (): number => nowMs): FeedStore {
  const store = openStore(folder, { recording: true, nowMs: clock });
  const midnight = Math.floor(nowMs / DAY_MS) * DAY_MS;
  const babyBirthDate = new Date(midnight - 100 * DAY_MS).toISOString().slice(0, 10);
  for (let i = 1; i <= 14; i++) {
    for (const hour of [9, 12, 15]) {
      const startedAtMs = midnight - i * DAY_MS + hour * 3_600_000;
      const id = `feed-${i}-${hour}`;
      const setup = { ...begunFeed(id).setup, babyName: 'Wren', babyBirthDate, portionMl: 89 };
      store.begin(begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs, setup }), null);
      store.append(id, { ...partOfSecond(0), intakeMl: 70 + hour / 5, durationSec: 900.0125 });
      store.finish(id, { endReason: 'page', endedAtMs: startedAtMs + 900_000, refined: null });
    }
  }
  return store;
}
