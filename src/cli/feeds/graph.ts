/** `ebbline feeds graph`: one kept feed as SVG or PNG, as a page to hand on, or as a sheet of paper. */
import { familyZone } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import { feedOrLatest, GRAPH_ENDINGS, GRAPH_WRITERS } from '../../app/review/graph-file.ts';
import { writeOut } from '../print-out.ts';
import { onStore } from '../with-store.ts';
import type { FeedGiven } from './commands.ts';

/** @throws PlainError when there is no such feed, or the file cannot be written */
export const drawFeed = onStore(async (store, given: FeedGiven<'feeds graph'>) => {
  const { out, language, unit: volumeUnit, note, names = false } = given;
  const ending = out === undefined || out === '-' ? 'svg' : endingOf(out, GRAPH_ENDINGS);
  const feed = feedOrLatest(store, given.feed);
  const timeZone = familyZone(store).zone;
  const telling = { language, volumeUnit, timeZone, note, hasNames: names };
  const content = await GRAPH_WRITERS[ending](feed, telling);
  return out === '-' ? String(content).trimEnd() : writeOut(out ?? `feed-${feed.id}.svg`, content, given);
});
