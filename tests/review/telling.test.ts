import { describe, expect, test } from 'vitest';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { LANGUAGES } from '../../src/pacing/cues/words.ts';
import { minuteRows } from '../../src/review/facts/minutes.ts';
import { feedValues } from '../../src/review/facts/values.ts';
import { feedTrace } from '../../src/review/graph/feed-trace.ts';
import { tellFeed } from '../../src/review/telling/telling.ts';
import {
  drowsyFeed,
  eventfulFeed,
  fastFeed,
  gentleFeed,
  refusedFeed,
  unfinishedFeed,
} from '../support/graph-feeds.ts';

const FL_OZ = { volumeUnit: 'fl-oz', timeZone: 'UTC' } as const;
const FEEDS = { gentleFeed, fastFeed, drowsyFeed, eventfulFeed, unfinishedFeed, refusedFeed };
const withReading = (offeredMl: number | null, leftMl: number, note: string | null = null): KeptFeed => {
  const feed = gentleFeed();
  const { startedAtMs, endedAtMs, setup } = feed;
  return { ...feed, corrected: { startedAtMs, endedAtMs, setup, reading: { offeredMl, leftMl }, note } };
};

describe('what is told', () => {
  test('is about milk: nobody is named unless asked, and no portion is held against it', () => {
    for (const make of Object.values(FEEDS)) {
      for (const language of LANGUAGES) {
        const feed = { ...make(), setup: { ...make().setup, portionMl: 137 } };
        const text = JSON.stringify(tellFeed(feed, { ...FL_OZ, language }));
        expect(text).not.toMatch(/Wren|Juno|137|portion|%|undefined|NaN/);
        expect(JSON.stringify(tellFeed(feed, { ...FL_OZ, language, hasNames: true }))).toContain(
          'Wren · Juno',
        );
      }
    }
  });

  test('what somebody read off the bottle stands beside, never in place', () => {
    const told = tellFeed(withReading(120, 30), FL_OZ);
    expect(told.reading).toBe('By the bottle’s own marks: 3 fl oz (90 mL) taken.');
    expect(told.sentence).toBe(tellFeed(gentleFeed(), FL_OZ).sentence);
    expect(tellFeed(withReading(null, 30), FL_OZ).reading).toBe(
      'By the bottle’s own marks: 1 fl oz (30 mL) left over.',
    );
    expect(tellFeed(gentleFeed(), FL_OZ).reading).toBeNull();
    expect(tellFeed(withReading(120, 30, 'slept after'), FL_OZ).note).toBe('slept after');
  });

  test('a simulated feed whose sleeve has sent all has lost no sleeve', () => {
    const feed = { ...gentleFeed(), endReason: 'link-ended' as const };
    const ended = (simulated: boolean, language: 'en' | 'es') =>
      tellFeed({ ...feed, simulated }, { ...FL_OZ, language }).ended;
    expect([ended(true, 'en'), ended(true, 'es')]).toEqual([
      'Ended with the simulation.',
      'Terminada con la simulación.',
    ]);
    expect(ended(false, 'en')).toBe('Ended when the sleeve went away.');
  });

  test('each cue, and what followed', () => {
    const { cues } = tellFeed(gentleFeed(), FL_OZ);
    expect(cues).toHaveLength(6);
    expect(cues[0]).toEqual({
      at: '3:00',
      words: 'Burp',
      by: 'by page and light',
      followed: expect.stringMatching(/^nipple out after \d+ s$/),
    });
    const [first] = tellFeed(fastFeed(), { ...FL_OZ, language: 'es' }).cues;
    expect(first).toEqual({
      at: '0:33',
      words: 'Baje la mano',
      by: 'por página y luz',
      followed: 'la toma siguió',
    });
  });

  test('a cue that the rules found and nobody was told of is not held against anybody', () => {
    const feed = fastFeed();
    const burps = feed.cues.filter(({ kind }) => kind === 'burp');
    expect(burps).toHaveLength(3);
    const told = feed.told!.filter(({ shown }) => shown !== 'burp');
    const { cues, cuesNote } = tellFeed({ ...feed, told }, FL_OZ);
    expect(cues.map(({ words }) => words)).not.toContain('Burp');
    expect(cues).toHaveLength(5);
    expect(cuesNote).toBeNull();
    expect(JSON.stringify(feedValues({ ...feed, told }).cues)).not.toContain('burp');
  });

  test('a cue that told by light alone, then by sound, is one cue', () => {
    const at = (output: 'light' | 'sound', atSec: number) =>
      ({ shown: 'keep-low', sinceSec: 80, atSec, output }) as const;
    const { cues } = tellFeed({ ...fastFeed(), told: [at('light', 80), at('sound', 86)] }, FL_OZ);
    expect(cues).toEqual([
      { at: '1:00', words: 'Keep it low', by: 'by light and sound', followed: 'the feed went on' },
    ]);
  });

  test('of a feed from before it is not known what was shown, and nothing is said to have followed', () => {
    const { told: _told, ...before } = fastFeed();
    for (const language of LANGUAGES) {
      const { cues, cuesNote } = tellFeed(before, { ...FL_OZ, language });
      expect(cuesNote).toMatch(/^Not known:|^No se sabe:/);
      expect(cues).toHaveLength(before.cues.length);
      for (const { by, followed } of cues) expect([by, followed]).toEqual([null, null]);
    }
  });

  test('facts of pauses, breaks and how it was held', () => {
    expect(tellFeed(gentleFeed(), FL_OZ).facts).toEqual([
      '4 pauses with the nipple out, the longest about half a minute.',
      expect.stringMatching(/^Bottle upright [45] times, as for a burp\.$/),
      'Held about level on the whole.',
    ]);
  });
});

describe('minute by minute', () => {
  test('adds up to the total, and counts every suck and cue', () => {
    const feed = gentleFeed();
    const trace = feedTrace(feed);
    const rows = minuteRows(trace);
    expect(rows).toHaveLength(Math.ceil(trace.lengthMin));
    const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((all, row) => all + of(row), 0);
    expect(sum(({ takenMl }) => takenMl!)).toBeCloseTo(feed.intakeMl, 1);
    expect(rows.at(-1)!.takenSoFarMl).toBeCloseTo(feed.intakeMl, 1);
    expect(sum(({ suckCount }) => suckCount!)).toBe(feed.refined!.suckAtSec.length);
    expect(rows.flatMap(({ cues }) => cues)).toEqual(feed.cues.map(({ kind }) => kind));
    expect(rows[0]!.tiltDeg).toBe(95);
  });

  test('what falls into a gap is unknown; a feed without rows has none', () => {
    const { table } = tellFeed(eventfulFeed(), FL_OZ);
    expect(table.rows[7]!.slice(0, 4)).toEqual(['8', 'unknown', 'unknown', 'unknown']);
    expect(table.rows[7]![6]).toBe('unknown');
    expect(table.rows[9]![1]).toMatch(/^\d+\.\d$/);
    expect(minuteRows(feedTrace({ ...gentleFeed(), refined: null, rows: [] }))).toEqual([]);
  });

  test('units as chosen: 1 US fl oz is 29.5735 mL (NIST Handbook 44, appendix C)', () => {
    const row = tellFeed(gentleFeed(), FL_OZ).table.rows[5]!;
    expect(Number(row[2])).toBeCloseTo(Number(row[3]) / 29.5735, 1);
    const inMl = tellFeed(gentleFeed(), { ...FL_OZ, volumeUnit: 'ml' }).table.rows[5]!;
    expect([inMl[2], inMl[3]]).toEqual([row[3], row[2]]);
  });
});

test('values under the graph, second by second', () => {
  const feed = gentleFeed();
  const values = feedValues(feed);
  const { length } = values.intakeMl;
  for (const column of [values.flowMlPerMin, values.tiltDeg, values.teatIn, values.suckCount])
    expect(column).toHaveLength(length);
  expect(values.intakeMl.at(-1)).toBeCloseTo(feed.intakeMl, 0);
  expect(values.suckCount.at(-1)).toBe(feed.refined!.suckAtSec.length);
  expect(values.teatIn[0]).toBe(true);
  expect(feedValues(eventfulFeed()).intakeMl[7.5 * 60]).toBeNull();
  expect(feedValues(unfinishedFeed()).suckCount[10]).toBeNull();
});
