import { Resvg } from '@resvg/resvg-js';
import { expect, test } from 'vitest';
import { feedGraphPng, feedGraphPngFromSvg, feedGraphSvg, graphFontFiles } from '../../src/review/index.ts';
import { eventfulFeed, gentleFeed, unfinishedFeed } from '../support/graph-feeds.ts';

/** Width and height from a PNG's header (PNG specification, section 11.2.2: IHDR comes first, at byte 16). */
const sizeOf = (png: Buffer) => [png.readUInt32BE(16), png.readUInt32BE(20)];

test('a PNG of the graph, twice as large as drawn', () => {
  const png = feedGraphPng(gentleFeed(), { widthPx: 360 });
  expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const heightPx = Number(/viewBox="0 0 360 (\d+)"/.exec(feedGraphSvg(gentleFeed(), { widthPx: 360 }))![1]);
  expect(sizeOf(png)).toEqual([720, 2 * heightPx]);
  expect(sizeOf(feedGraphPng(gentleFeed(), { widthPx: 360, scale: 1 }))).toEqual([360, heightPx]);
});

test('text is drawn without any font of the machine', () => {
  const text = '<text x="5" y="30" font-family="Nobody Has This" font-size="24">2¾ fl oz ± mL</text>';
  const box = '<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40">';
  const withText = feedGraphPngFromSvg(`${box}${text}</svg>`);
  const without = feedGraphPngFromSvg(`${box}</svg>`);
  expect(withText.length).toBeGreaterThan(without.length + 1000);
});

test.each([
  ['phone', 360],
  ['report', 760],
])('nothing runs over the edge of the sheet: %s', (_name, widthPx) => {
  for (const feed of [gentleFeed(), eventfulFeed(), unfinishedFeed()]) {
    const svg = feedGraphSvg(feed, { widthPx, timeZone: 'UTC' });
    const heightPx = Number(/viewBox="0 0 \d+ (\d+)"/.exec(svg)![1]);
    // The bounds of all that is drawn, without the ground.
    const drawing = svg.replace(/<rect [^>]+\/>/, '');
    expect(drawing.length).toBeLessThan(svg.length);
    const font = { fontFiles: graphFontFiles(), loadSystemFonts: false, sansSerifFamily: 'Source Sans 3' };
    const bounds = new Resvg(drawing, { font }).getBBox()!;
    expect(bounds.width).toBeGreaterThan(widthPx * 0.8);
    expect(bounds.x).toBeGreaterThanOrEqual(0);
    expect(bounds.y).toBeGreaterThanOrEqual(0);
    expect(bounds.x + bounds.width).toBeLessThanOrEqual(widthPx);
    expect(bounds.y + bounds.height).toBeLessThanOrEqual(heightPx);
  }
});
