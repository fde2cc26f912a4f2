/** `ebbline feeds graph`: one kept feed as SVG or PNG, as a page to hand on, or as a sheet of paper. */
import { familyZone } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import { feedOrLatest, GRAPH_ENDINGS, GRAPH_WRITERS } from '../../app/review/graph-file.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/index.ts';
import { say, writeOut } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

export interface GraphCommandOptions extends Kept {
  /** "-" for standard output. */
  out?: string;
  force?: boolean;
  language?: Language;
  unit?: VolumeUnit;
  /** Goes into a page or a PDF; the feed's own kept note if absent. */
  note?: string;
  names?: boolean;
}

/** @throws PlainError when there is no such feed, or the file cannot be written */
export async function graphCommand(feedId: string | undefined, options: GraphCommandOptions): Promise<void> {
  const { out, language = 'en', unit: volumeUnit = 'fl-oz', note, names = false } = options;
  const ending = out === undefined || out === '-' ? 'svg' : endingOf(out, GRAPH_ENDINGS);
  await withStore(options, async (store) => {
    const feed = feedOrLatest(store, feedId);
    const timeZone = familyZone(store).zone;
    const telling = { language, volumeUnit, timeZone, note, hasNames: names };
    const content = await GRAPH_WRITERS[ending](feed, telling);
    if (out === '-') say(String(content).trimEnd());
    else writeOut(out ?? `feed-${feed.id}.svg`, content, options);
  });
}
