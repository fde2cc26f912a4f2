/** Whether the stored feeds of a house are complete and equal to feeds recorded at home. */

import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import type { KeptFeed } from '../../../src/feed/record/feed.ts';
import { asItRan, replay } from '../../../src/feed/replay.ts';
import type { Calibration } from '../../../src/sensing/index.ts';
import type { FeedStore } from '../../../src/store/feed-store.ts';

export interface CheckedFeed {
  id: string;
  sleeve: number;
  /** Positions in the sleeve's bytes at which the capture begins and ends; null: it is not part of them. */
  from: number | null;
  to: number | null;
  rows: number;
  cues: number;
  /** Bytes between `from` and `to` that the capture lacks. */
  missingBytes: number;
  /** Faults in words; empty: none. */
  wrong: string[];
}

/** @param bytes  sent by each of the sleeves @param mayLackBytes  that no relay was there for */
export function checkedFeeds(
  store: FeedStore,
  bytes: Uint8Array,
  calibration: Calibration,
  mayLackBytes = 0,
): CheckedFeed[] {
  return store
    .list({ limit: 1000 })
    .map(({ id }) => checkedFeed(store, store.get(id)!, Buffer.from(bytes), calibration, mayLackBytes));
}

/**
 * Where the parts of a capture lie in the bytes that were sent: parts in order, none twice.
 * @returns null if it has bytes that were not sent, or in another order
 */
export function stretchesIn(
  capture: Buffer,
  sent: Buffer,
): { from: number; to: number; missing: number } | null {
  const from = sent.indexOf(capture.subarray(0, 200));
  if (from < 0 || capture.length === 0) return null;
  let [at, inSent, missing] = [0, from, 0];
  while (at < capture.length) {
    if (capture[at] === sent[inSent]) {
      at += 1;
      inSent += 1;
      continue;
    }
    const next = sent.indexOf(capture.subarray(at, at + 64), inSent);
    if (next < 0) return null;
    missing += next - inSent;
    inSent = next;
  }
  return { from, to: inSent, missing };
}

function checkedFeed(
  store: FeedStore,
  feed: KeptFeed,
  bytes: Buffer,
  calibration: Calibration,
  mayLackBytes: number,
): CheckedFeed {
  const wrong: string[] = [];
  const path = store.capturePath(feed.id);
  const capture = path === null ? Buffer.alloc(0) : Buffer.from(readCapture(path).bytes);
  const found = stretchesIn(capture, bytes);
  if (!found) wrong.push(`its ${capture.length} bytes are none of those that were sent, or in another order`);
  else if (found.missing > mayLackBytes) wrong.push(`${found.missing} bytes are missing in it`);
  const { result } = replay([capture], asItRan(feed, calibration));
  const rounded = (figure: number | null, digits: number): number | null =>
    figure === null ? null : Number(figure.toFixed(digits));
  const same = (what: string, kept: unknown, home: unknown): void => {
    if (JSON.stringify(kept) !== JSON.stringify(home)) wrong.push(`${what} differ from those at home`);
  };
  same('cues', feed.cues, result.cues);
  same(
    'events',
    feed.events.filter(({ kind }) => !/^link|^guidance/.test(kind)),
    result.events,
  );
  same(
    'times of rows',
    feed.rows.map(({ atSec }) => rounded(atSec, 4)),
    result.live.atSec,
  );
  same(
    'milk',
    feed.rows.map(({ milkMl }) => rounded(milkMl, 3)),
    result.live.milkMl,
  );
  same(
    'intake',
    feed.rows.map(({ intakeMl }) => rounded(intakeMl, 3)),
    result.live.intakeMl,
  );
  same(
    'flow',
    feed.rows.map(({ flowMlPerMin }) => rounded(flowMlPerMin, 3)),
    result.live.flowMlPerMin,
  );
  const told = (feed.told ?? []).map(
    ({ sinceSec, shown, output }) => `${shown} ${output} ${sinceSec.toFixed(3)}`,
  );
  if (new Set(told).size !== told.length) wrong.push('something was told twice');
  return {
    id: feed.id,
    sleeve: Number(feed.sleeveId),
    from: found?.from ?? null,
    to: found?.to ?? null,
    missingBytes: found?.missing ?? 0,
    rows: feed.rows.length,
    cues: feed.cues.length,
    wrong,
  };
}
