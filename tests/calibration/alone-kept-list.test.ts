/** Feeds by a sleeve alone are kept once, however often they are fetched. */
import { describe, expect, it } from 'vitest';
import type { AloneFeed } from '../../src/calibration/alone/kept-feeds.ts';
import { mergeAloneFeeds, readAloneFeeds } from '../../src/calibration/alone/kept-list.ts';

const feed = (serial: number, perMinuteMl: number[], more: Partial<AloneFeed> = {}): AloneFeed => ({
  serial,
  tooFast: 1,
  burps: 2,
  guidedMinutes: 0,
  intakeMl: perMinuteMl.reduce((sum, ml) => sum + ml, 0),
  intakeSdMl: 4,
  perMinuteMl,
  ...more,
});
const from = (sleeveId: string, fetchedAtMs = 1000) => ({ sleeveId, fetchedAtMs });

describe('feeds by the sleeve alone', () => {
  it('are kept once over restarts, with the date of the first time', () => {
    const first = mergeAloneFeeds([], [feed(3, [5, 6]), feed(4, [7])], from('7'));
    expect(first.added).toBe(2);
    const again = mergeAloneFeeds(first.feeds, [feed(3, [5, 6]), feed(4, [7])], from('7', 9000));
    expect(again).toEqual({ added: 0, feeds: first.feeds });
    expect(new Set(again.feeds.map(({ id }) => id)).size).toBe(2);
  });

  it('grow where they were fetched while they ran', () => {
    const { feeds } = mergeAloneFeeds([], [feed(3, [5])], from('7'));
    const later = mergeAloneFeeds(feeds, [feed(3, [5, 6, 7], { tooFast: 4 })], from('7', 9000));
    expect(later.added).toBe(0);
    expect(later.feeds).toMatchObject([
      { id: '1', perMinuteMl: [5, 6, 7], tooFast: 4, intakeMl: 18, fetchedAtMs: 1000 },
    ]);
  });

  it('are others with the same number on another sleeve, or once the numbers have come round', () => {
    const { feeds } = mergeAloneFeeds([], [feed(3, [5, 6])], from('7'));
    expect(mergeAloneFeeds(feeds, [feed(3, [5, 6])], from('8')).added).toBe(1);
    expect(mergeAloneFeeds(feeds, [feed(3, [4, 6])], from('7')).added).toBe(1);
  });

  it('leave out what a host guided, which it kept itself, and what lasted no minute', () => {
    const { feeds } = mergeAloneFeeds(
      [],
      [feed(1, [5], { guidedMinutes: 1 }), feed(2, []), feed(3, [2])],
      from('7'),
    );
    expect(feeds.map(({ serial }) => serial)).toEqual([3]);
  });

  it('come back from a store as they were; what is none of them is nothing', () => {
    const { feeds } = mergeAloneFeeds(
      [],
      [feed(1, [5], { tooFast: null, burps: null, guidedMinutes: null })],
      from('7'),
    );
    expect(readAloneFeeds(JSON.parse(JSON.stringify(feeds)))).toEqual(feeds);
    for (const other of [null, {}, [{ id: 3 }], 'x']) expect(readAloneFeeds(other)).toEqual([]);
  });

  it('are kept for long, not for ever: the oldest go first', () => {
    let feeds = mergeAloneFeeds([], [], from('7')).feeds;
    for (let i = 0; i < 510; i++) feeds = mergeAloneFeeds(feeds, [feed(i % 250, [i])], from('7')).feeds;
    expect(feeds).toHaveLength(500);
    expect(feeds[0]!.perMinuteMl).toEqual([10]);
    expect(feeds.at(-1)!.id).toBe('510');
  });
});
