/** A kept feed as a picture, a page or a sheet of paper, by the file's extension. */
import type { VolumeUnit } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/index.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { feedGraphPng, feedGraphSvg } from '../../review/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { namedNow } from '../babies/known-babies.ts';
import { feedUnknown, keptFeed } from './kept-feed.ts';

type Telling = { language: Language; volumeUnit: VolumeUnit; note: string | undefined; hasNames: boolean };

export const GRAPH_ENDINGS = ['svg', 'png', 'html', 'pdf'] as const;
export const GRAPH_WRITERS: Readonly<
  Record<
    (typeof GRAPH_ENDINGS)[number],
    (feed: KeptFeed, telling: Telling) => string | Uint8Array | Promise<string | Uint8Array>
  >
> = {
  svg: (feed, telling) => `${feedGraphSvg(feed, telling)}\n`,
  png: feedGraphPng,
  html: feedFile,
  pdf: feedPdf,
};

/** @throws PlainError feed-unknown */
export function feedOrLatest(store: FeedStore, feedId: string | undefined): KeptFeed {
  const id = feedId ?? store.list({ limit: 1 })[0]?.id;
  if (id === undefined) throw feedUnknown('No feeds are kept.');
  return namedNow(keptFeed(store, id), store.allBabies());
}
