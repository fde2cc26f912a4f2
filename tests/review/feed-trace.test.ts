import { describe, expect, test } from 'vitest';
import type { FeedRow, KeptFeed } from '../../src/feed/record/feed.ts';
import { feedTrace, intakeAt } from '../../src/review/graph/feed-trace.ts';
import { eventfulFeed, gentleFeed, unfinishedFeed } from '../support/graph-feeds.ts';

/** A live feed of the given rows; the first latch falls where a row says so. */
function liveFeed(rows: FeedRow[], changes: Partial<KeptFeed> = {}): KeptFeed {
  return { ...gentleFeed(), refined: null, rows, cues: [], events: [], ...changes };
}

const row = (atSec: number, changes: Partial<FeedRow> = {}): FeedRow => ({
  atSec,
  milkMl: 90,
  flowMlPerMin: 5,
  intakeMl: atSec / 10,
  teatInMouth: atSec >= 60,
  tiltDeg: 90,
  ...changes,
});
const rowsUntil = (endSec: number): FeedRow[] => Array.from({ length: endSec * 2 + 1 }, (_, i) => row(i / 2));

describe('time', () => {
  test('runs in minutes from the first latch; what was before is left out', () => {
    const trace = feedTrace(liveFeed(rowsUntil(180)));
    expect(trace.intakeMl[0]).toEqual({ min: 0, amount: 6 });
    expect(trace.intakeMl.at(-1)).toEqual({ min: 2, amount: 18 });
    expect(trace.teatIn).toEqual([{ fromMin: 0, toMin: 2 }]);
    expect(trace.lengthMin).toBe(2);
  });

  test('idle time after the last latch does not count, unless the feed goes on', () => {
    const rows = rowsUntil(600).map((one) => ({ ...one, teatInMouth: one.atSec >= 60 && one.atSec < 360 }));
    expect(feedTrace(liveFeed(rows)).lengthMin).toBe(5);
    expect(feedTrace(liveFeed(rows, { state: 'open' })).lengthMin).toBe(9);
  });

  test('without a latch in the rows the host tells when it was', () => {
    const rows = rowsUntil(50);
    const startsAt30 = { sampleZeroAtMs: 0, startedAtMs: 30_000 };
    expect(feedTrace(liveFeed(rows, startsAt30)).intakeMl[0]).toEqual({ min: 0, amount: 3 });
  });
});

describe('gaps stay gaps', () => {
  test('rows that are missing', () => {
    const rows = rowsUntil(300).filter(({ atSec }) => atSec <= 120 || atSec >= 180);
    const trace = feedTrace(liveFeed(rows));
    expect(trace.unknown).toEqual([{ fromMin: 1, toMin: 2 }]);
    expect(trace.teatIn).toEqual([
      { fromMin: 0, toMin: 1 },
      { fromMin: 2, toMin: 4 },
    ]);
    expect(intakeAt(trace, 0.9)).toBeCloseTo(11.4, 9);
    expect(intakeAt(trace, 1.6)).toBeNull();
    expect(trace.flowMlPerMin.filter(({ amount }) => amount === null)).toHaveLength(1);
  });

  test('rows without an estimate, from the first latch on', () => {
    const rows = rowsUntil(180).map((one) =>
      one.atSec < 90 ? { ...one, milkMl: null, flowMlPerMin: null } : one,
    );
    const trace = feedTrace(liveFeed(rows));
    expect(trace.unknown).toEqual([{ fromMin: 0, toMin: 0.5 }]);
    expect(trace.intakeMl[0]).toEqual({ min: 0, amount: null });
    expect(intakeAt(trace, 0.6)).toBeCloseTo(9.6, 9);
  });

  test('one unknown row is no gap worth hatching, but no line runs over it either', () => {
    const rows = rowsUntil(180).map((one) => (one.atSec === 100 ? { ...one, milkMl: null } : one));
    const trace = feedTrace(liveFeed(rows));
    expect(trace.unknown).toEqual([]);
    expect(trace.intakeMl.filter(({ amount }) => amount === null)).toHaveLength(1);
  });
});

describe('refined and live', () => {
  test('the refined pass is drawn where there is one', () => {
    const feed = gentleFeed();
    const trace = feedTrace(feed);
    expect(trace.source).toBe('refined');
    expect(trace.intakeMl.at(-1)!.amount).toBe(feed.refined!.totals.intakeMl);
    expect(trace.milkSdMl).toBe(0.4);
  });

  test('its uncertainty is the median one, where it is known', () => {
    const feed = gentleFeed();
    const milkSdMl = [null, 0.9, 0.3, null, 0.2];
    expect(feedTrace({ ...feed, refined: { ...feed.refined!, milkSdMl } }).milkSdMl).toBe(0.3);
  });

  test('live rows otherwise; sucks are not known then', () => {
    const trace = feedTrace(unfinishedFeed());
    expect(trace).toMatchObject({ source: 'live', bursts: null, milkSdMl: null });
    expect(trace.lengthMin).toBeCloseTo(6, 1);
  });

  test('refined events replace the live ones, what only the live feed knows stays', () => {
    const feed = eventfulFeed();
    const refined = { ...feed.refined!, events: [{ kind: 'spill', atSec: 80, volumeMl: 7 } as const] };
    const trace = feedTrace({ ...feed, refined });
    expect(trace.pours).toEqual([{ min: 1, kind: 'spill', volumeMl: 7 }]);
    expect(trace.guidancePaused).toEqual([{ fromMin: 11, toMin: 13 }]);
  });

  test('cues still paused at the end are paused to the end', () => {
    const feed = liveFeed(rowsUntil(180), { events: [{ kind: 'guidance-paused', atSec: 120 }] });
    expect(feedTrace(feed).guidancePaused).toEqual([{ fromMin: 1, toMin: 2 }]);
  });
});

test('sucks less than 2.5 s apart make one burst', () => {
  const feed = gentleFeed();
  const suckAtSec = [20, 21, 22.4, 24.9, 26, 40];
  const { bursts } = feedTrace({ ...feed, refined: { ...feed.refined!, suckAtSec } });
  expect(bursts!.map(({ suckCount }) => suckCount)).toEqual([3, 2, 1]);
  expect(bursts![0]!.fromMin).toBe(0);
  expect(bursts![0]!.toMin).toBeCloseTo((2.4 + 0.9) / 60, 9);
});

test('a feed without a single row is drawn all the same', () => {
  const trace = feedTrace(liveFeed([], { durationSec: 0 }));
  expect(trace).toMatchObject({ intakeMl: [], teatIn: [], unknown: [], lengthMin: 0 });
});
