/** `ebbline feeds graph`: one kept feed as SVG or PNG, as a page to hand on, or as a sheet of paper. */

import { familyZone } from '../../app/kept/family-zone.ts';
import { feedOrLatest, GRAPH_WRITERS } from '../../app/review/graph-file.ts';
import { PlainError } from '../../base/errors.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/index.ts';
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

/** @throws PlainError when there is no such feed, or the file cannot be written */
export async function graphCommand(feedId: string | undefined, options: GraphCommandOptions): Promise<void> {
  const { out, language = 'en', unit: volumeUnit = 'fl-oz', force = false, simulated } = options;
  const ending = out === undefined || out === '-' ? 'svg' : /\.(\w+)$/.exec(out)?.[1];
  const write = GRAPH_WRITERS[ending ?? ''];
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
