/** A kept feed, minute by minute, for the table under its graph. Pure. */
import type { KeptFeed } from '../feed/feed.ts';
import type { FeedAnswer, MinuteRow } from './answers.ts';

/** @returns device time of the feed's first latch, seconds since the first accepted sample. */
export const feedStartSec = (feed: KeptFeed): number =>
  Math.max(0, (feed.startedAtMs - feed.sampleZeroAtMs) / 1000);

/** @returns the running intake as (time, mL) columns: refined where it exists, live otherwise. */
function intakeColumns(feed: KeptFeed): { atSec: readonly number[]; intakeMl: readonly number[] } {
  if (feed.refined) return feed.refined;
  return { atSec: feed.rows.map((row) => row.atSec), intakeMl: feed.rows.map((row) => row.intakeMl) };
}

/** @returns one row for each minute begun; empty for a feed without a single estimate. */
export function perMinute(feed: KeptFeed): MinuteRow[] {
  const { atSec, intakeMl } = intakeColumns(feed);
  const startSec = feedStartSec(feed);
  const lastSec = Math.min(atSec.at(-1) ?? startSec, startSec + feed.durationSec);
  const minutes = Math.ceil((lastSec - startSec) / 60);
  const rows: MinuteRow[] = [];
  let index = 0;
  let latestMl = 0;
  const readUntil = (untilSec: number): number => {
    while (index < atSec.length && atSec[index]! <= untilSec) latestMl = intakeMl[index++]!;
    return latestMl;
  };
  const beforeMl = readUntil(startSec);
  let previousMl = beforeMl;
  for (let minute = 1; minute <= minutes; minute++) {
    const fromSec = startSec + (minute - 1) * 60;
    const untilSec = Math.min(fromSec + 60, lastSec);
    const endMl = readUntil(untilSec);
    const isLast = minute === minutes;
    rows.push({
      minute,
      takenMl: endMl - previousMl,
      takenSoFarMl: endMl - beforeMl,
      cues: feed.cues
        .filter((cue) => cue.atSec >= fromSec && (cue.atSec < untilSec || isLast))
        .map((cue) => cue.kind),
    });
    previousMl = endMl;
  }
  return rows;
}

/** @returns what the page is told of one kept feed: everything but the long columns. */
export function feedAnswer(kept: KeptFeed): FeedAnswer {
  const { calibration: _calibration, rows: _rows, refined, cues, events, ...feed } = kept;
  return {
    feed,
    refined: refined !== null,
    feedStartSec: feedStartSec(kept),
    cues,
    events,
    perMinute: perMinute(kept),
  };
}
