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
  /** Faults in words; empty: none. */
  wrong: string[];
}

/** @param bytes  sent by each of the sleeves, or by the one with this number */
export function checkedFeeds(
  store: FeedStore,
  bytes: Uint8Array | ((sleeve: number) => Uint8Array),
  calibration: Calibration,
): CheckedFeed[] {
  const sentBy = typeof bytes === 'function' ? bytes : () => bytes;
  return store.list({ limit: 1000 }).map(({ id, sleeveId }) => {
    const sent = Buffer.from(sentBy(Number(sleeveId)));
    return checkedFeed(store, store.get(id)!, sent, calibration);
  });
}

function checkedFeed(store: FeedStore, feed: KeptFeed, bytes: Buffer, calibration: Calibration): CheckedFeed {
  const wrong: string[] = [];
  const path = store.capturePath(feed.id);
  const capture = path === null ? Buffer.alloc(0) : Buffer.from(readCapture(path).bytes);
  const from = bytes.indexOf(capture.subarray(0, 200));
  const isStretch = from >= 0 && bytes.subarray(from, from + capture.length).equals(capture);
  if (!isStretch) wrong.push(`its ${capture.length} bytes are no stretch of those that were sent`);
  const { result } = replay([capture], asItRan(feed, calibration));
  const rounded = (figure: number | null, digits: number): number | null =>
    figure === null ? null : Number(figure.toFixed(digits));
  const same = (what: string, kept: readonly unknown[], home: readonly unknown[]): void => {
    const texts = [kept, home].map((list) => list.map((one) => JSON.stringify(one)));
    const at = texts[0]!.findIndex((text, i) => text !== texts[1]![i]);
    if (at < 0 && kept.length === home.length) return;
    const [ours, theirs] = texts.map((list) => list.slice(at < 0 ? -2 : at, at < 0 ? undefined : at + 3));
    wrong.push(`${kept.length} ${what} and ${home.length} at home differ, from ${ours} and ${theirs} on`);
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
    from: isStretch ? from : null,
    to: isStretch ? from + capture.length : null,
    rows: feed.rows.length,
    cues: feed.cues.length,
    wrong,
  };
}
