/** `ebbline graph`: one kept feed as SVG or PNG, as a page to hand on, or as a sheet of paper. */

import { namedNow } from '../app/babies/known-babies.ts';
import { familyZone } from '../app/kept/family-zone.ts';
import { PlainError } from '../base/errors.ts';
import type { VolumeUnit } from '../base/units.ts';
import type { Language } from '../pacing/index.ts';
import { feedFile } from '../paper/feed/feed-file.ts';
import { feedPdf } from '../paper/feed/feed-pdf.ts';
import { sessionGraphPng, sessionGraphSvg } from '../review/index.ts';
import { dataFolder } from '../store/data-folder.ts';
import { openStore } from '../store/feed-store.ts';
import { writeOut } from './review/write-out.ts';

export interface GraphCommandOptions {
  simulated?: boolean;
  out?: string;
  language?: Language;
  unit?: VolumeUnit;
  /** Goes into a page or a PDF; the feed's own kept note if absent. */
  note?: string;
  names?: boolean;
}

const ENDINGS = /\.(svg|png|html|pdf)$/;

/** @throws PlainError when there is no such feed, or the file cannot be written */
export async function graphCommand(feedId: string | undefined, options: GraphCommandOptions): Promise<void> {
  const { out, language = 'en', unit: volumeUnit = 'fl-oz' } = options;
  const ending = out === undefined ? 'svg' : ENDINGS.exec(out)?.[1];
  if (ending === undefined) {
    throw new PlainError(
      'graph-ending',
      `The file ${out} must end in .svg, .png, .html or .pdf.`,
      'Choose one of the four.',
    );
  }
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    const id = feedId ?? store.list({ limit: 1 })[0]?.id;
    const kept = id === undefined ? null : store.get(id);
    const feed = kept && namedNow(kept, store.allBabies());
    if (!feed) {
      throw new PlainError(
        'feed-unknown',
        id === undefined ? 'No feeds are kept.' : `There is no kept feed ${id}.`,
        'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
      );
    }
    const timeZone = familyZone(store).zone;
    const telling = { language, volumeUnit, timeZone, note: options.note, hasNames: options.names ?? false };
    const content =
      ending === 'pdf'
        ? await feedPdf(feed, telling)
        : ending === 'html'
          ? feedFile(feed, telling)
          : ending === 'png'
            ? sessionGraphPng(feed, { language, volumeUnit, timeZone })
            : `${sessionGraphSvg(feed, { language, volumeUnit, timeZone })}\n`;
    if (out === undefined) process.stdout.write(content);
    else writeOut(out, content);
  } finally {
    store.close();
  }
}
