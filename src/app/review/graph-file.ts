/** A kept feed as a picture, a page or a sheet of paper, by the file's extension, as the command line asks for it. */
import type { VolumeUnit } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/index.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { feedGraphPng, feedGraphSvg } from '../../review/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { namedNow } from '../babies/known-babies.ts';
import { familyZone } from '../kept/family-zone.ts';
import { endingOf } from '../out-file.ts';
import { feedUnknown, keptFeed } from './kept-feed.ts';

interface Telling {
  language: Language;
  volumeUnit: VolumeUnit;
  timeZone: string;
  note: string | undefined;
  hasNames: boolean;
}

const ENDINGS = ['svg', 'png', 'html', 'pdf'] as const;
const WRITERS: Readonly<
  Record<
    (typeof ENDINGS)[number],
    (feed: KeptFeed, telling: Telling) => string | Uint8Array | Promise<string | Uint8Array>
  >
> = {
  svg: (feed, telling) => `${feedGraphSvg(feed, telling)}\n`,
  png: feedGraphPng,
  html: feedFile,
  pdf: feedPdf,
};

export interface GraphAsked {
  /** Without it the latest one. */
  feed?: string;
  /** "-" is standard output; without it a file named after the feed. */
  out?: string;
  language: Language;
  unit: VolumeUnit;
  note?: string;
  names?: boolean;
}

/** @returns where it is to go, and what @throws PlainError feed-unknown, file-ending */
export async function graphAsAsked(
  store: FeedStore,
  { feed: feedId, out, language, unit: volumeUnit, note, names: hasNames = false }: GraphAsked,
): Promise<{ path: string; content: string | Uint8Array }> {
  const ending = out === undefined || out === '-' ? 'svg' : endingOf(out, ENDINGS);
  const feed = feedOrLatest(store, feedId);
  const telling = { language, volumeUnit, timeZone: familyZone(store).zone, note, hasNames };
  return { path: out ?? `feed-${feed.id}.svg`, content: await WRITERS[ending](feed, telling) };
}

function feedOrLatest(store: FeedStore, feedId: string | undefined): KeptFeed {
  const id = feedId ?? store.list({ limit: 1 })[0]?.id;
  if (id === undefined) throw feedUnknown('No feeds are kept.');
  return namedNow(keptFeed(store, id), store.allBabies());
}
