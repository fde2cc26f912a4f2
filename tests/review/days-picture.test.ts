import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { LANGUAGES } from '../../src/pacing/cues/words.ts';
import { dailyIntake } from '../../src/planning/intake/daily-intake.ts';
import { daySum, feedsOfBaby, weekSums } from '../../src/review/facts/day-sums.ts';
import { feedCurve } from '../../src/review/facts/feed-curve.ts';
import { isFast } from '../../src/review/graph/days-picture.ts';
import { drawDays } from '../../src/review/telling/days-drawn.ts';
import { handFeed, listedFeed } from '../support/day-feeds.ts';
import { fastFeed, gentleFeed, unfinishedFeed } from '../support/graph-feeds.ts';

const WREN = { id: null, name: 'Wren' };
const at = (iso: string) => Date.parse(iso);
const FEEDS = feedsOfBaby(
  {
    feeds: [
      listedFeed(at('2026-05-14T06:00:00Z')),
      // 90 mL in 5 min are 18 mL/min: over the 14 mL/min of the bucket for milk that pours (pace profile).
      listedFeed(at('2026-05-14T12:00:00Z'), { intakeMl: 90, durationSec: 300 }),
      listedFeed(at('2026-05-14T18:00:00Z'), { intakeMl: 4 }),
    ],
    handFeeds: [handFeed(at('2026-05-14T21:00:00Z'))],
  },
  WREN,
);
const OPTIONS = {
  language: 'en',
  volumeUnit: 'fl-oz',
  zone: 'UTC',
  birthDay: '2026-02-13',
  today: '2026-05-14',
} as const;
const DAY = daySum(FEEDS, '2026-05-14', 'UTC');

function drawn(svg: string) {
  const root = parseHTML(`<body>${svg}</body>`).document.querySelector('svg')!;
  const texts = [...root.querySelectorAll('text')];
  return { root, texts, said: root.querySelector('desc')!.textContent! };
}
const xOf = (element: Element): number => Number(element.getAttribute('x'));

describe('a day drawn', () => {
  const { root, texts, said } = drawn(drawDays([DAY], OPTIONS));
  const hour = (text: string) => xOf(texts.find((one) => one.textContent === text)!);

  test('each bottle stands where it began on the wall’s clock, as tall as its milk', () => {
    const stems = [...root.querySelectorAll('path[stroke-width="4"]')].map((path) =>
      path
        .getAttribute('d')!
        .match(/^M([\d.]+) ([\d.]+)V([\d.]+)$/)!
        .slice(1)
        .map(Number),
    );
    expect(stems).toHaveLength(2);
    expect(stems[0]![0]).toBeCloseTo(hour('6'), 0);
    expect(stems[1]![0]).toBeCloseTo(hour('12'), 0);
    const [first, second] = stems.map(([, base, top]) => base! - top!);
    expect(second! / first!).toBeCloseTo(90 / 80, 1);
  });

  test('bottles, fast ones, the breast and a refusal are told apart without color', () => {
    const bare = root.outerHTML.replaceAll(/(fill|stroke)="#?\w+"/g, '');
    // Each mark twice: once in the day, once in the legend.
    expect(bare.match(/h14l-7 11z/g)).toHaveLength(2);
    expect(bare.match(/l5 6l-5 6l-5 -6z/g)).toHaveLength(2);
    expect(bare.match(/l8 -8/g)).toHaveLength(2);
  });

  test('its milk lies against what is published for the age: 90 days (Rios-Leyvraz and Yao 2023)', () => {
    const [band] = root.querySelectorAll('rect[fill-opacity]');
    const bar = root.querySelector('rect[height="8"]')!;
    const { lowMl, highMl } = dailyIntake(90);
    const width = (element: Element) => Number(element.getAttribute('width'));
    expect(width(band!) / width(bar)).toBeCloseTo((highMl - lowMl) / DAY.takenMl, 1);
    expect((xOf(band!) - xOf(bar)) / width(bar)).toBeCloseTo(lowMl / DAY.takenMl, 1);
    expect(drawDays([DAY], { ...OPTIONS, birthDay: null })).not.toContain('fill-opacity');
  });

  test('says all of it in words too', () => {
    expect(said).toBe('Thursday, May 14: 2 bottles, 6 fl oz (174 mL), 1 of them fast; 1 feed at the breast.');
  });
});

test('a week has a row for each day, in both languages, at a phone’s width, and nothing sticks out', () => {
  for (const language of LANGUAGES) {
    const svg = drawDays(weekSums(FEEDS, '2026-05-14', 'UTC'), { ...OPTIONS, language, widthPx: 328 });
    const { texts, said } = drawn(svg);
    expect(said.match(/\. \p{L}/gu)).toHaveLength(6);
    expect(svg).not.toMatch(/NaN|undefined/);
    // Letters are 0.52 of their size wide in the mean, as in the legend.
    for (const text of texts) {
      const wide = text.textContent!.length * 12 * 0.52;
      expect(
        xOf(text) + (text.getAttribute('text-anchor') ? wide / 2 : wide),
        text.textContent!,
      ).toBeLessThan(336);
    }
  }
});

test('a bottle is fast by its milk and its minutes, not without either', () => {
  const [slow, fast] = FEEDS;
  expect([isFast(slow!), isFast(fast!)]).toEqual([false, true]);
  expect(isFast({ ...fast!, durationSec: null })).toBe(false);
  expect(isFast({ ...fast!, durationSec: 30 })).toBe(false);
  expect(isFast({ ...fast!, kind: 'refused' })).toBe(false);
});

describe('a feed’s small curve', () => {
  test('ends at what was taken, and marks what ran fast', () => {
    const curve = feedCurve(fastFeed());
    expect(curve.takenMl.at(-1)).toBeCloseTo(fastFeed().intakeMl, 0);
    expect(curve.fast.filter(Boolean).length / curve.fast.length).toBeGreaterThan(0.8);
    expect(feedCurve(gentleFeed()).fast.some(Boolean)).toBe(false);
    expect(curve.takenMl).toHaveLength(curve.fast.length);
  });

  test('of a feed that still runs, or that nobody measured', () => {
    expect(feedCurve(unfinishedFeed()).lengthMin).toBeCloseTo(6, 0);
    const nothing = feedCurve({ ...gentleFeed(), refined: null, rows: [] });
    expect(nothing.takenMl.every((ml) => ml === null)).toBe(true);
  });
});
