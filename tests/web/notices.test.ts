import { describe, expect, it } from 'vitest';
import type { NoticeKind } from '../../src/feed/live/live-view.ts';
import { LANGUAGES, WORDS } from '../../src/pacing/cues/words.ts';
import type { SensorFault } from '../../src/sensing/index.ts';
import { AFTER_WORDS } from '../../src/web/after/words.ts';
import { isUnkept, noticesNow, noticeText } from '../../src/web/live/notices.ts';
import { SENSOR_FAULTS } from '../../src/web/parts/sensor-faults.ts';
import { viewOf } from '../support/fake-live.ts';

const ALL: NoticeKind[] = [
  'battery-low',
  'whose-feed',
  'cues-off',
  'not-screened',
  'cues-next-feed',
  'with-plan',
  'screen-again',
  'quieter',
  'quietest',
  'own-feed-faster',
  'check-sleeve',
];

describe('notices', () => {
  it('leave a cue alone, but for a low battery', () => {
    expect(noticesNow(ALL, 'tilt-down', true)).toEqual(['battery-low']);
    expect(noticesNow(['cues-off', 'quieter'], 'burp', true)).toEqual([]);
  });
  it('say one thing in a feed, and only what bears on it', () => {
    expect(noticesNow(ALL, 'gentle', true)).toEqual(['battery-low']);
    expect(noticesNow(['whose-feed', 'cues-off'], 'gentle', true)).toEqual(['cues-off']);
    expect(noticesNow(['quieter', 'with-plan'], 'cannot-tell', true)).toEqual([]);
  });
  it('say the two weightiest at other times', () => {
    expect(noticesNow(ALL, 'waiting', false)).toEqual(['battery-low', 'whose-feed']);
    expect(noticesNow(ALL, 'waiting', false, true)).toEqual(['battery-low']);
    expect(noticesNow([], undefined, false)).toEqual([]);
  });
  it.each(LANGUAGES)('have words in %s, each its own, none with an amount or the breast', (language) => {
    const texts = ALL.map((kind) => noticeText(kind, language, WORDS[language]));
    expect(new Set(texts).size).toBe(ALL.length);
    for (const text of texts) {
      expect(text.length).toBeGreaterThan(20);
      expect(text).not.toMatch(/\d|breast|pecho/i);
    }
    expect(noticeText('cues-off', 'en', WORDS.en)).toMatch(/clinician’s plan/);
    expect(noticeText('not-screened', 'en', WORDS.en)).toMatch(/seven questions.*choose or add the baby/);
    expect(noticesNow(['not-screened', 'quieter'], 'gentle', true)).toEqual(['not-screened']);
  });
});

describe('a sensor that does not fit', () => {
  const FAULTS = Object.keys(SENSOR_FAULTS.en) as SensorFault[];

  it.each(LANGUAGES)(
    'is named in the feed in %s, each in words of its own that fit on a line or two',
    (language) => {
      const said = FAULTS.map((fault) => noticeText('check-sleeve', language, WORDS[language], [fault]));
      expect(new Set([...said, noticeText('check-sleeve', language, WORDS[language])]).size).toBe(
        FAULTS.length + 1,
      );
      for (const text of said) {
        expect(text).toMatch(/feed goes on|toma sigue/);
        expect(text.length).toBeLessThan(130);
      }
    },
  );

  it('is named after the feed as well', () => {
    expect(AFTER_WORDS.en.sensor(SENSOR_FAULTS.en['gyroscope-stuck'])).toMatch(
      /not right in this feed.*turn sensor/,
    );
    expect(AFTER_WORDS.es.sensor(SENSOR_FAULTS.es['gyroscope-stuck'])).toMatch(
      /en esta toma.*sensor de giro/,
    );
  });
});

it('a feed that is only in memory is told from one that can be looked at', () => {
  const ended = viewOf({ feedState: 'ended', feedId: 'feed-2' });
  expect(isUnkept(ended)).toBe(false);
  expect(isUnkept({ ...ended, unkept: ['feed-1'] })).toBe(false);
  expect(isUnkept({ ...ended, unkept: ['feed-1', 'feed-2'] })).toBe(true);
});
