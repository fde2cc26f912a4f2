import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { mlFromFlOz } from '../../src/base/units.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import type { FeedGraphOptions } from '../../src/review/graph/feed-graph.ts';
import { feedGraphSvg } from '../../src/review/graph/feed-graph.ts';
import {
  drowsyFeed,
  eventfulFeed,
  fastFeed,
  gentleFeed,
  refusedFeed,
  unfinishedFeed,
} from '../support/graph-feeds.ts';

const PHONE = { widthPx: 360, timeZone: 'UTC' } as const;
const REPORT = { widthPx: 760, timeZone: 'UTC' } as const;
const FEEDS = { gentleFeed, fastFeed, drowsyFeed, eventfulFeed, unfinishedFeed, refusedFeed };

function drawn(feed: KeptFeed, options: FeedGraphOptions = REPORT) {
  const svg = feedGraphSvg(feed, options);
  const { document } = parseHTML(`<body>${svg}</body>`);
  const root = document.querySelector('svg')!;
  const texts = [...root.querySelectorAll('text')].map((text) => text.textContent!.replaceAll('\u00a0', ' '));
  return { svg, root, texts };
}

describe('the document', () => {
  test.each(Object.entries(FEEDS))(
    '%s: whole SVG, named and described, no fault in its numbers',
    (_name, make) => {
      for (const options of [PHONE, REPORT]) {
        const { svg, root } = drawn(make(), options);
        expect(svg.startsWith('<svg xmlns="http://www.w3.org/2000/svg"')).toBe(true);
        expect(root.getAttribute('viewBox')).toMatch(new RegExp(`^0 0 ${options.widthPx} \\d+$`));
        expect(root.getAttribute('role')).toBe('img');
        const [titleId, descriptionId] = root.getAttribute('aria-labelledby')!.split(' ');
        expect(root.querySelector(`#${titleId}`)!.textContent).toMatch(/ taken /);
        expect(root.querySelector(`#${descriptionId}`)!.textContent).toMatch(/^Graph of milk taken/);
        expect(svg).not.toMatch(/NaN|undefined|Infinity|<style/);
      }
    },
  );

  test('any characters in the sleeve’s name leave the graph whole', () => {
    const { svg, texts } = drawn({ ...gentleFeed(), sleeveId: '</svg><script>&"\u0000\ud800' });
    expect(svg).not.toContain('<script');
    expect(svg).not.toContain('\u0000');
    expect(texts.join(' ')).toContain('sleeve </svg><script>&"');
  });

  test('a feed without a single row is drawn all the same', () => {
    const empty = {
      ...gentleFeed(),
      refined: null,
      rows: [],
      cues: [],
      told: [],
      events: [],
      durationSec: 0,
    };
    expect(drawn(empty).texts.join(' ')).toContain('not known');
  });
});

describe('what it says', () => {
  test('simulated feeds say so twice, real ones never', () => {
    const simulated = drawn(eventfulFeed(), { ...REPORT, hasHeading: false }).texts.join(' ');
    expect(simulated).toContain('Simulated feed');
    expect(simulated).toContain('in simulation');
    expect(drawn(gentleFeed()).texts.join(' ')).not.toMatch(/simulat/i);
  });

  test('units stand on every axis', () => {
    const { texts } = drawn(gentleFeed());
    for (const unit of [
      'fl oz (mL)',
      '3 fl oz',
      '90 mL',
      'mL/min, over 10 s',
      'sucks in each',
      'minutes since the first latch',
    ]) {
      expect(texts).toContain(unit);
    }
    const millilitresFirst = drawn(gentleFeed(), { ...REPORT, volumeUnit: 'ml' }).texts;
    expect(millilitresFirst).toContain('mL (fl oz)');
  });

  test('the band is labeled for what it is', () => {
    const { texts } = drawn(gentleFeed());
    expect(texts).toContain('small studies of newborns');
    const note = texts.join(' ');
    expect(note).toContain('means of small studies of newborns');
    expect(note).toMatch(/Lucas 1980, 1981.*Kent 2013.*it is no target/);
  });

  test('each kind of cue that came has a lane of its own, by its words', () => {
    expect(drawn(gentleFeed()).texts).toEqual(
      expect.arrayContaining(['“Burp”', '“Change arms”', '“Look at baby”']),
    );
    expect(drawn(gentleFeed()).texts).not.toContain('“Lower your hand”');
    expect(drawn(fastFeed()).texts).toContain('“Lower your hand”');
    expect(drawn(eventfulFeed()).texts).toEqual(
      expect.arrayContaining(['Leaked or spilt', 'Poured in', 'Cues off']),
    );
  });

  test('a burp that somebody noted, a hand that was held: lanes and a panel of their own', () => {
    const feed = gentleFeed();
    const noted = { ...feed, events: [...feed.events, { kind: 'burped' as const, atSec: 300 }] };
    expect(drawn(noted).texts).toEqual(
      expect.arrayContaining(['Burp noted', 'Upright, nipple out', 'How it was held', 'Flow', 'fast']),
    );
    expect(drawn(feed).texts).not.toContain('Burp noted');
    expect(drawn(noted, { ...REPORT, language: 'es' }).texts).toEqual(
      expect.arrayContaining(['Leche tomada', 'Aire sacado, anotado', 'minutos desde el primer agarre']),
    );
  });

  test('the uncertainty of the flow is drawn around it where it is known, and named', () => {
    const feed = gentleFeed();
    const refined = { ...feed.refined!, flowSdMlPerMin: feed.refined!.flowMlPerMin.map(() => 1.2) };
    const { root, texts } = drawn({ ...feed, refined });
    expect(texts.join(' ')).toMatch(
      /Shaded around the flow: how far it may be off, two standard deviations\..*flow to about 2\.4 mL\/min/,
    );
    expect(drawn(feed).texts.join(' ')).not.toContain('Shaded');
    // The shaded area of the second panel is as high as four deviations wherever the flow is high enough.
    const [, flowArea] = [...root.querySelectorAll('g[aria-label=area] path')];
    expect(flowArea!.getAttribute('d')!.length).toBeGreaterThan(1000);
  });

  test('what was read off the bottle is a mark beside the line', () => {
    const { startedAtMs, endedAtMs, setup } = gentleFeed();
    const corrected = { startedAtMs, endedAtMs, setup, reading: { offeredMl: 120, leftMl: 30 }, note: null };
    const { texts } = drawn({ ...gentleFeed(), corrected });
    expect(texts).toContain('by the marks');
    expect(texts.join(' ')).toContain('By the bottle’s own marks: 3 fl oz (90 mL) taken.');
    expect(drawn(gentleFeed()).texts).not.toContain('by the marks');
  });

  test('a feed that is not finished shows live rows and says so; sucks are left out', () => {
    const { texts } = drawn(unfinishedFeed());
    expect(texts.join(' ')).toContain('not finished, live numbers');
    expect(texts).not.toContain('Suck bursts');
  });

  test('neither the portion, nor a share of it, nor what is left', () => {
    for (const make of Object.values(FEEDS)) {
      const feed = { ...make(), setup: { ...make().setup, portionMl: 137 } };
      const { svg, texts } = drawn(feed);
      const all = `${svg} ${texts.join(' ')}`;
      expect(texts.join(' ')).not.toMatch(/portion|remain|left in|%|137/);
      expect(all).not.toContain('4½ fl oz');
      // Nobody is named.
      expect(all).not.toMatch(/Wren|Juno/);
    }
  });

  test('hatching is explained where there is any', () => {
    expect(drawn(eventfulFeed()).texts.join(' ')).toContain('Hatched: no estimate.');
    expect(drawn(gentleFeed()).texts.join(' ')).not.toContain('Hatched');
  });
});

describe('what it shows', () => {
  /** The line of the milk: the boldest stroke of the graph. */
  const milkLine = (root: Element): string =>
    [...root.querySelectorAll('g')]
      .find((group) => group.getAttribute('stroke-width') === '2.4')!
      .querySelector('path')!
      .getAttribute('d')!;
  const pointsOf = (path: string) =>
    [...path.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
  /** Where a tick's text stands, in the coordinates of its panel. */
  function tickAt(root: Element, text: string): readonly [number, number] {
    const tick = [...root.querySelectorAll('text')].find(
      (one) => one.textContent === text && one.hasAttribute('transform'),
    )!;
    const [, x, y] = /translate\(([-\d.]+),([-\d.]+)\)/.exec(tick.getAttribute('transform')!)!;
    return [Number(x), Number(y)];
  }

  // 1 US fl oz = 29.5735295625 mL (NIST Handbook 44, appendix C).
  test('the end of the line reads the same on both axes', () => {
    const feed = gentleFeed();
    const { root } = drawn(feed);
    const [, endY] = pointsOf(milkLine(root)).at(-1)!;
    const [, zeroY] = tickAt(root, '0');
    const [, threeOuncesY] = tickAt(root, '3 fl oz');
    const [, ninetyMlY] = tickAt(root, '90 mL');
    const totalMl = feed.refined!.totals.intakeMl;
    expect(((endY - zeroY) / (threeOuncesY - zeroY)) * 3 * 29.5735295625).toBeCloseTo(totalMl, 1);
    expect(((endY - zeroY) / (ninetyMlY - zeroY)) * 90).toBeCloseTo(totalMl, 1);
    expect(mlFromFlOz(3)).not.toBe(90);
  });

  test('a gap breaks the line', () => {
    expect(milkLine(drawn(eventfulFeed()).root).match(/M/g)).toHaveLength(2);
    expect(milkLine(drawn(gentleFeed()).root).match(/M/g)).toHaveLength(1);
  });

  test('shapes tell the cues apart without color', () => {
    const { root } = drawn({
      ...gentleFeed(),
      told: (['tilt-down', 'burp', 'switch-side', 'offer-stop'] as const).map((shown, i) => ({
        shown,
        sinceSec: 100 + 200 * i,
        atSec: 100 + 200 * i,
        output: 'light',
      })),
    });
    const shapes = [...root.querySelectorAll('g[aria-label=dot] path')].map(
      (path) => path.getAttribute('d')!,
    );
    // Four kinds of marks, each on the milk's line and, larger, in its lane.
    expect(new Set(shapes).size).toBe(8);
    const outlines = shapes.map((shape) => shape.replaceAll(/[^A-Z]/g, ''));
    expect(outlines).toContain('MAA');
  });

  test('as many points as pixels can show', () => {
    const { root } = drawn(gentleFeed(), PHONE);
    const flow = [...root.querySelectorAll('g[aria-label=line] path')].at(-1)!.getAttribute('d')!;
    expect(pointsOf(flow).length).toBeLessThan(4 * 270);
    expect(pointsOf(flow).length).toBeGreaterThan(270);
  });
});

describe('the page around it', () => {
  test('an inline graph takes ink and ground from the page', () => {
    const { svg } = drawn(gentleFeed(), { ...REPORT, theme: 'inline' });
    expect(svg).toContain('currentColor');
    expect(svg).toContain('var(--graph-hue');
    // No fixed color of the other themes is left in it.
    expect(svg).not.toMatch(/#fbf8f2|#1c1712|#a8481a/);
  });

  test('the heading can be left to the page', () => {
    const bare = drawn(gentleFeed(), { ...REPORT, hasHeading: false }).texts.join(' ');
    expect(bare).not.toContain(' taken in ');
    expect(bare).toContain('Milk taken');
  });
});
