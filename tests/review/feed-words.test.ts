import { describe, expect, test } from 'vitest';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { CUE_KINDS } from '../../src/pacing/cues/cues.ts';
import { LANGUAGES, WORDS } from '../../src/pacing/cues/words.ts';
import { cueWords } from '../../src/review/graph/cue-marks.ts';
import { feedTrace } from '../../src/review/graph/feed-trace.ts';
import {
  describeFeed,
  provenanceText,
  shortAmountText,
  summarySentence,
  whenText,
} from '../../src/review/telling/feed-words.ts';
import { tellFeed } from '../../src/review/telling/telling.ts';
import { REVIEW_WORDS } from '../../src/review/telling/words.ts';
import { eventfulFeed, fastFeed, gentleFeed, refusedFeed, unfinishedFeed } from '../support/graph-feeds.ts';

const options = { volumeUnit: 'fl-oz', timeZone: 'America/Chicago' } as const;
const sentence = (feed: KeptFeed) => summarySentence(feed, feedTrace(feed), options);

/** As the eventful feed; what was poured in there came in a bottle that was out of the sleeve. @param ml  below zero: less than before */
function otherBottleFeed(ml: number): KeptFeed {
  const feed = eventfulFeed();
  const refined = feed.refined!;
  const events = refined.events.map((event) =>
    event.kind === 'refill'
      ? ({
          ...event,
          kind: ml > 0 ? ('refill' as const) : ('spill' as const),
          volumeMl: Math.abs(ml),
          bottleWasOut: true,
        } as const)
      : event,
  );
  const [addedMl, lessMl] = [Math.max(0, ml), Math.max(0, -ml)];
  return { ...feed, refined: { ...refined, events }, addedMl, spiltMl: feed.spiltMl + lessMl };
}

test('cues are named as the caregiver read them', () => {
  for (const language of LANGUAGES) {
    for (const kind of CUE_KINDS) expect(cueWords(kind, language)).toBe(WORDS[language].shown[kind].glance);
  }
});

describe('the sentence', () => {
  test('is about milk', () => {
    const feed = { ...gentleFeed(), intakeMl: 82 };
    expect(sentence(feed)).toBe('2¾ fl oz (82 mL) taken in 18 min; milk never ran fast.');
    expect(sentence({ ...fastFeed(), intakeMl: 118.3 })).toBe(
      '4 fl oz (118 mL) taken in 5 min; milk ran fast most of the time.',
    );
  });

  test('tells what was spilt and poured in', () => {
    expect(sentence(eventfulFeed())).toMatch(
      /; ¼ fl oz \(9 mL\) was spilt; 1¼ fl oz \(40 mL\) was poured in; milk ran fast once, for about 2 minutes\.$/,
    );
  });

  test('a bottle that came back to the sleeve with more or less is told as what it is', () => {
    expect(sentence(otherBottleFeed(40))).toMatch(
      /9 mL\) was spilt; the bottle was out of the sleeve, then there was 1¼ fl oz \(40 mL\) more;/,
    );
    // Less milk in the next bottle does not count as spilt.
    expect(sentence(otherBottleFeed(-30))).toMatch(
      /9 mL\) was spilt; the bottle was out of the sleeve, then there was 1 fl oz \(30 mL\) less;/,
    );
  });

  test('a feed that goes on, one that was refused, one that nobody measured', () => {
    expect(sentence(unfinishedFeed())).toMatch(/^\d¾ fl oz \(\d+ mL\) taken so far, in 6 min;/);
    expect(sentence(refusedFeed())).toMatch(/^Less than 1 mL taken in under a minute;/);
    expect(sentence({ ...gentleFeed(), refined: null, rows: [] })).toMatch(
      /^How much milk was taken is not known\.$/,
    );
  });

  test('a sip has no quarter of an ounce near it', () => {
    expect(sentence({ ...gentleFeed(), intakeMl: 3.2 })).toMatch(/^3 mL taken/);
    expect(shortAmountText(3.2, 'fl-oz')).toBe('3 mL');
    expect(shortAmountText(15, 'fl-oz')).toBe('½ fl oz');
    expect(shortAmountText(15, 'ml')).toBe('15 mL');
  });

  test('mL first on request', () => {
    const feed = { ...gentleFeed(), intakeMl: 82 };
    expect(summarySentence(feed, feedTrace(feed), { volumeUnit: 'ml' })).toMatch(/^82 mL \(2¾ fl oz\) taken/);
  });
});

describe('figures', () => {
  test('a parent’s headline has none of seconds, degrees or statistics', () => {
    for (const language of LANGUAGES)
      for (const feed of [gentleFeed(), fastFeed(), eventfulFeed(), refusedFeed()]) {
        const told = tellFeed(feed, { ...options, language });
        expect([told.sentence, ...told.facts].join(' ')).not.toMatch(/\d s\b|°|k =|±|mL\/min/);
      }
  });

  test('stand below, exact', () => {
    const { figures } = tellFeed(fastFeed(), options);
    expect(figures[0]).toMatch(/^Faster than 14 mL\/min for 5 s or longer: \d+ min\.$/);
    expect(figures).toContain('Angle 95° (0° upright, 90° level).');
  });

  test('several fast stretches are counted, and their time is told as one says it', () => {
    const { fast } = REVIEW_WORDS.en;
    expect(fast(4, 32 + 6 + 6 + 6, false)).toBe('milk ran fast four times, about a minute in all');
    expect(fast(2, 13, false)).toBe('milk ran fast twice, a few seconds in all');
    expect(REVIEW_WORDS.es.fast(1, 31, false)).toBe('la leche salió rápido una vez, cerca de medio minuto');
  });
});

describe('where and when', () => {
  test('the time is that of the given zone', () => {
    // 09:00:20 UTC on January 5; Chicago is six hours behind (IANA time zone database).
    expect(whenText(gentleFeed(), options)).toBe('Mon, Jan 5, 2026, 3:00 AM');
    expect(whenText(unfinishedFeed(), options)).toMatch(/ · not finished, live numbers$/);
  });

  test('provenance: source, simulation, sleeve, calibration, version', () => {
    const text = (feed: KeptFeed) => provenanceText(feed, feedTrace(feed), options);
    expect(text(eventfulFeed())).toBe(
      'Refined after the feed, milk right to about 0.8 mL (two standard deviations) · in simulation · sleeve bench-1 · calibrated Jan 2, 2026 · Ebbline 0.1.0.',
    );
    expect(text(unfinishedFeed())).toMatch(/^Live estimate; the feed is not finished · in simulation/);
    expect(text({ ...gentleFeed(), refined: null, calibration: null })).toMatch(
      /^Live estimate; the feed was not refined · sleeve bench-1 · calibration undated/,
    );
  });

  test('screen readers are told every cue, spill and gap', () => {
    const feed = eventfulFeed();
    const text = describeFeed(feed, feedTrace(feed), options);
    expect(text).toContain('“Lower your hand” at 0:36, 1:30.');
    expect(text).toContain('¼ fl oz (9 mL) spilt at 2:06.');
    expect(text).toContain('1¼ fl oz (40 mL) poured in at 5:06.');
    expect(text).toContain('No estimate from 7:00 to 8:06.');
  });
});
