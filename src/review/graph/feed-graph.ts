import type { VolumeUnit } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/cues/words.ts';
import {
  describeFeed,
  provenanceText,
  readingNote,
  readingText,
  summarySentence,
  whenText,
} from '../telling/feed-words.ts';
import { REVIEW_WORDS } from '../telling/words.ts';
import { anglePanel } from './angle-panel.ts';
import { blankDocument } from './blank-document.ts';
import type { FeedTrace } from './feed-trace.ts';
import { feedTrace } from './feed-trace.ts';
import { burstsPanel, flowPanel } from './flow-panel.ts';
import { intakePanel } from './intake-panel.ts';
import { lanePanels } from './lane-panels.ts';
import type { Theme } from './look.ts';
import { layoutFor, PALETTES } from './look.ts';
import type { Panel, PanelContext } from './panel.ts';
import { Sheet } from './sheet.ts';

export interface FeedGraphOptions {
  /** Width to draw for, CSS pixels: 360 for a phone, 720 to 960 for a report. */
  widthPx?: number;
  /** Which volume unit stands first. */
  volumeUnit?: VolumeUnit;
  theme?: Theme;
  /** English if absent. */
  language?: Language;
  /** IANA name of the time zone for the date; the host's own if absent. */
  timeZone?: string;
  /** False leaves out the sentence and the date, if the page itself shows them. */
  hasHeading?: boolean;
  /** False leaves out the notes below: what the band is, and the sources. */
  hasNotes?: boolean;
  /** False if the page itself marks the feed as simulated. */
  hasMark?: boolean;
}

const REPORT_WIDTH_PX = 760;
/** Shortest time axis, so that a feed of a few sips is not stretched over the whole width, minutes. */
const SHORTEST_AXIS_MIN = 3;

/**
 * The graph of a stored feed as an SVG document: milk taken against the band, flow, suck bursts, nipple in and out,
 * cues. From the refined pass where there is one, else from the live rows, and it says which.
 */
export function feedGraphSvg(feed: KeptFeed, options: FeedGraphOptions = {}): string {
  const {
    volumeUnit = 'fl-oz',
    theme = 'light',
    widthPx = REPORT_WIDTH_PX,
    hasHeading = true,
    hasNotes = true,
    hasMark = true,
  } = options;
  const palette = PALETTES[theme];
  const layout = layoutFor(widthPx);
  const trace = feedTrace(feed);
  const id = `graph-${feed.id.replaceAll(/[^\w-]/g, '')}`;
  const { language = 'en' } = options;
  const words = REVIEW_WORDS[language];
  const said = { volumeUnit, timeZone: options.timeZone, language };
  const sentence = summarySentence(feed, trace, said);
  const reading = readingText(feed, trace, said);
  const note = { sizePx: layout.notePx, fill: palette.softInk };

  const sheet = new Sheet(layout, palette);
  if (feed.simulated && hasMark)
    sheet.write(words.simulatedFeed, { sizePx: layout.fontPx, weight: 600, fill: palette.hue });
  if (hasHeading) {
    sheet.write(sentence, { sizePx: layout.headingPx, weight: 600, fill: palette.ink, balanced: true });
    if (reading) sheet.write(reading, { sizePx: layout.fontPx, fill: palette.ink });
    sheet.write(whenText(feed, said), { sizePx: layout.fontPx, fill: palette.softInk });
  }
  sheet.skip(layout.gapPx);
  const document = blankDocument();
  const endMin = endOfAxisMin(trace);
  const hatch = `url(#${id})`;
  const context = { document, trace, palette, layout, endMin, volumeUnit, language, words, hatch };
  for (const panel of panelsOf(context)) sheet.place(panel);
  if (hasNotes) {
    sheet.skip(layout.gapPx);
    sheet.write(readingNote(trace, said), note);
    sheet.skip(4);
    sheet.write(provenanceText(feed, trace, said), note);
  }
  return sheet.finish({ id, title: sentence, description: describeFeed(feed, trace, said) }, endMin);
}

function panelsOf(context: PanelContext): Panel[] {
  const curves = [intakePanel(context), flowPanel(context), burstsPanel(context), anglePanel(context)];
  return [...curves, ...lanePanels(context)].filter((panel) => panel !== null);
}

/** A little longer than the last event: idle time after the last latch is not drawn. */
function endOfAxisMin({ lengthMin, cues, pours }: FeedTrace): number {
  const last = Math.max(lengthMin, ...cues.map(({ min }) => min), ...pours.map(({ min }) => min));
  return Math.max(SHORTEST_AXIS_MIN, last * 1.02);
}
