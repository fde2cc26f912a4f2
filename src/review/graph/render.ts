import { createRequire } from 'node:module';
import { Resvg } from '@resvg/resvg-js';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { FeedGraphOptions } from './feed-graph.ts';
import { feedGraphSvg } from './feed-graph.ts';

/** The graph's font from a package, since a new machine may have no fonts. */
const FONT_FILES = [
  '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf',
  '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf',
] as const;
const FONT_FAMILY = 'Source Sans 3';

export interface PngOptions {
  /** Pixels of the image for each pixel of the drawing; 2 is sharp on a phone and in print. */
  scale?: number;
}

/** @returns paths of the font's files, regular and semibold. @throws Error when the package is not installed */
export function graphFontFiles(): [regular: string, semibold: string] {
  const { resolve } = createRequire(import.meta.url);
  return [resolve(FONT_FILES[0]), resolve(FONT_FILES[1])];
}

/** Paints one of our SVG documents. @throws Error when it is not SVG */
export function feedGraphPngFromSvg(svg: string, { scale = 2 }: PngOptions = {}): Buffer {
  const font = {
    fontFiles: graphFontFiles(),
    loadSystemFonts: false,
    defaultFontFamily: FONT_FAMILY,
    sansSerifFamily: FONT_FAMILY,
  };
  return new Resvg(svg, { font, fitTo: { mode: 'zoom', value: scale } }).render().asPng();
}

/** The graph of a feed as a PNG. */
export function feedGraphPng(feed: KeptFeed, options: FeedGraphOptions & PngOptions = {}): Buffer {
  return feedGraphPngFromSvg(feedGraphSvg(feed, options), options);
}
