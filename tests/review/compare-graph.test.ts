import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import { compareGraphSvg } from '../../src/review/graph/compare-graph.ts';
import { eventfulFeed, fastFeed, gentleFeed } from '../support/graph-feeds.ts';

const OPTIONS = { volumeUnit: 'fl-oz', timeZone: 'UTC' } as const;
const drawn = (...args: Parameters<typeof compareGraphSvg>) => {
  const svg = compareGraphSvg(...args);
  const root = parseHTML(`<body>${svg}</body>`).document.querySelector('svg')!;
  return { svg, root, texts: [...root.querySelectorAll('text')].map((text) => text.textContent).join(' ') };
};

test('two lines for milk and two for flow, told apart without color', () => {
  const { svg, root, texts } = drawn(gentleFeed(), fastFeed(), OPTIONS);
  const lines = [...root.querySelectorAll('g[aria-label=line]')];
  expect(lines.map((line) => line.getAttribute('stroke-dasharray'))).toEqual([null, '5 3', null, '5 3']);
  expect(svg).not.toMatch(/NaN|undefined/);
  expect(texts.replaceAll('\u00a0', ' ')).toMatch(
    /First, thick line: .*never ran fast\..*Second, dashed line: .*ran fast most of the time/,
  );
  // Neither feed is called better, and nobody is named.
  expect(texts).not.toMatch(/better|worse|best|Wren|Juno|simulat/i);
});

test('a simulated one among them is marked; gaps stay gaps; Spanish too', () => {
  const { root, texts } = drawn(gentleFeed(), eventfulFeed(), { ...OPTIONS, language: 'es', widthPx: 360 });
  expect(texts).toContain('Toma simulada');
  const paths = [...root.querySelectorAll('g[aria-label=line] path')].map((path) => path.getAttribute('d')!);
  expect(paths.map((path) => path.match(/M/g)!.length)).toEqual([1, 2, 1, 2]);
});
