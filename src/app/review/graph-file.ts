/** A kept feed as a picture, a page or a sheet of paper, by the file's extension. */
import { PlainError } from '../../base/errors.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/index.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { feedGraphPng, feedGraphSvg } from '../../review/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { namedNow } from '../babies/known-babies.ts';

type Telling = { language: Language; volumeUnit: VolumeUnit; note: string | undefined; hasNames: boolean };
export const GRAPH_WRITERS: Readonly<
  Record<string, (feed: KeptFeed, telling: Telling) => string | Uint8Array | Promise<string | Uint8Array>>
> = {
  svg: (feed, telling) => `${feedGraphSvg(feed, telling)}\n`,
  png: feedGraphPng,
  html: feedFile,
  pdf: feedPdf,
};

export function feedOrLatest(store: FeedStore, feedId: string | undefined): KeptFeed {
  const id = feedId ?? store.list({ limit: 1 })[0]?.id;
  const feed = id === undefined ? null : store.get(id);
  if (feed) return namedNow(feed, store.allBabies());
  throw new PlainError(
    'feed-unknown',
    id === undefined ? 'No feeds are kept.' : `There is no kept feed ${id}.`,
    'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
  );
}
