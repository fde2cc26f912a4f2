import { describe, expect, it } from 'vitest';
import { feedAnswer, perMinute } from '../../src/server/per-minute.ts';
import { keptFeed, LEAD_SEC } from '../support/kept-feeds.ts';

describe('perMinute', () => {
  const rows = perMinute(keptFeed());

  it('counts minutes from the first latch, the last one as long as it lasts', () => {
    expect(rows.map((row) => row.minute)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    for (const row of rows.slice(0, 10)) expect(row.takenMl).toBeCloseTo(6, 6);
    expect(rows[10]!.takenMl).toBeCloseTo(3, 6);
    expect(rows[10]!.takenSoFarMl).toBeCloseTo(63, 6);
  });

  it('puts each cue into its minute, one at the very end into the last', () => {
    expect(rows.flatMap((row) => row.cues.map((kind) => [row.minute, kind]))).toEqual([
      [1, 'tilt-down'],
      [3, 'burp'],
      [11, 'offer-stop'],
    ]);
  });

  it('begins at nothing, though the sleeve had measured another feed before', () => {
    const later = keptFeed();
    const rows = later.rows.map((row) => ({ ...row, intakeMl: row.intakeMl + 40 }));
    expect(perMinute({ ...later, rows }).map((row) => row.takenSoFarMl)).toEqual(
      perMinute(later).map((row) => expect.closeTo(row.takenSoFarMl, 6)),
    );
  });

  it('prefers the refined intake', () => {
    const refined = {
      atSec: [0, LEAD_SEC, LEAD_SEC + 60, LEAD_SEC + 630],
      intakeMl: [0, 0, 10, 60],
      milkMl: [90, 90, 80, 30],
      flowMlPerMin: [0, 0, 10, 5],
      milkSdMl: [1, 1, 1, 1],
      teatInMouth: [false, true, true, true],
      totals: { intakeMl: 60, spiltMl: 0, addedMl: 0 },
      suckAtSec: [],
      events: [],
    };
    const feed = keptFeed({ refined });
    expect(perMinute(feed)[0]!.takenMl).toBe(10);
    expect(feedAnswer(feed).refined).toBe(true);
  });

  it('is empty for a feed without an estimate', () => {
    expect(perMinute(keptFeed({ rows: [], durationSec: 0 }))).toEqual([]);
  });
});

describe('feedAnswer', () => {
  it('leaves the long columns and the calibration out', () => {
    const answer = feedAnswer(keptFeed());
    expect(JSON.stringify(answer).length).toBeLessThan(6000);
    expect(answer.feed).not.toHaveProperty('rows');
    expect(answer.feed).not.toHaveProperty('calibration');
    expect(answer.feedStartSec).toBe(LEAD_SEC);
  });
});
