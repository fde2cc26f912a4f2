/** `ebbline feeds graph`: one kept feed as SVG or PNG, as a page to hand on, or as a sheet of paper. */

import { namedNow } from '../../app/babies/known-babies.ts';
import { familyZone } from '../../app/kept/family-zone.ts';
import { PlainError } from '../../base/errors.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/index.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { sessionGraphPng, sessionGraphSvg } from '../../review/index.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say, writeOut } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface GraphCommandOptions {
  simulated?: boolean;
  /** "-" for standard output. */
  out?: string;
  force?: boolean;
  language?: Language;
  unit?: VolumeUnit;
  /** Goes into a page or a PDF; the feed's own kept note if absent. */
  note?: string;
  names?: boolean;
}

type Telling = { language: Language; volumeUnit: VolumeUnit; note: string | undefined; hasNames: boolean };

const WRITERS: Readonly<
  Record<string, (feed: KeptFeed, telling: Telling) => string | Uint8Array | Promise<string | Uint8Array>>
> = {
  svg: (feed, telling) => `${sessionGraphSvg(feed, telling)}\n`,
  png: sessionGraphPng,
  html: feedFile,
  pdf: feedPdf,
};

/** @throws PlainError when there is no such feed, or the file cannot be written */
export async function graphCommand(feedId: string | undefined, options: GraphCommandOptions): Promise<void> {
  const { out, language = 'en', unit: volumeUnit = 'fl-oz', force = false, simulated } = options;
  const ending = out === undefined || out === '-' ? 'svg' : /\.(\w+)$/.exec(out)?.[1];
  const write = WRITERS[ending ?? ''];
  if (!write) {
    throw new PlainError(
      'graph-ending',
      `The file ${out} must end in .svg, .png, .html or .pdf.`,
      'Choose one of the four.',
    );
  }
  await withStore({ simulated }, async (store) => {
    const feed = feedOrLatest(store, feedId);
    const timeZone = familyZone(store).zone;
    const telling = { language, volumeUnit, timeZone, note: options.note, hasNames: options.names ?? false };
    const content = await write(feed, telling);
    if (out === '-') say(String(content).trimEnd());
    else writeOut(out ?? `feed-${feed.id}.svg`, content, { force });
  });
}

function feedOrLatest(store: FeedStore, feedId: string | undefined): KeptFeed {
  const id = feedId ?? store.list({ limit: 1 })[0]?.id;
  const feed = id === undefined ? null : store.get(id);
  if (feed) return namedNow(feed, store.allBabies());
  throw new PlainError(
    'feed-unknown',
    id === undefined ? 'No feeds are kept.' : `There is no kept feed ${id}.`,
    'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
  );
}
