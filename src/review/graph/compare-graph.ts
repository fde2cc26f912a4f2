/** Two feeds over each other: milk and flow over minutes since each one's first latch. One line is thick, one thin and dashed. */
import * as Plot from '@observablehq/plot';
import { flOzFromMl, mlFromFlOz, quarterFlOzText } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { describeFeed, summarySentence, whenText } from '../telling/feed-words.ts';
import type { TellingOptions } from '../telling/telling.ts';
import { REVIEW_WORDS } from '../telling/words.ts';
import { blankDocument } from './blank-document.ts';
import { type FeedTrace, feedTrace, type Series } from './feed-trace.ts';
import { drawFlows } from './flow-panel.ts';
import { layoutFor, PALETTES, type Theme } from './look.ts';
import { columnsOf, drawPanel, type Panel, type PanelContext, ticksTo } from './panel.ts';
import { Sheet } from './sheet.ts';
import { thin } from './thin.ts';

export interface CompareOptions extends TellingOptions {
  widthPx?: number;
  theme?: Theme;
  /** False leaves out the headings, if the page itself shows them. */
  hasHeading?: boolean;
}

const WIDTH_PX = 760;
const LEAST_TOP_ML = 45;
const SHORTEST_AXIS_MIN = 3;

/** An SVG document. */
export function compareGraphSvg(first: KeptFeed, second: KeptFeed, options: CompareOptions): string {
  const { language = 'en', volumeUnit, widthPx = WIDTH_PX, theme = 'light', hasHeading = true } = options;
  const words = REVIEW_WORDS[language];
  const traces = [feedTrace(first), feedTrace(second)] as const;
  const layout = layoutFor(widthPx);
  const palette = PALETTES[theme];
  const id = `compare-${`${first.id}-${second.id}`.replaceAll(/[^\w-]/g, '')}`;
  const sheet = new Sheet(layout, palette);
  if (first.simulated || second.simulated)
    sheet.write(words.simulatedFeed, { sizePx: layout.fontPx, weight: 600, fill: palette.hue });
  [first, second].forEach((feed, i) => {
    if (!hasHeading) return;
    const which = i === 0 ? words.compare.first : words.compare.second;
    const said = `${which}: ${whenText(feed, options)} · ${summarySentence(feed, traces[i]!, options)}`;
    sheet.write(said, { sizePx: layout.fontPx, weight: i === 0 ? 600 : 400, fill: palette.ink });
  });
  sheet.skip(layout.gapPx);
  const longest = Math.max(...traces.map(({ lengthMin }) => lengthMin));
  const context: PanelContext = {
    document: blankDocument(),
    // Hatching would not show which of the two is unknown; gaps in the lines do.
    trace: { ...traces[0], unknown: [] },
    palette,
    layout,
    endMin: Math.max(SHORTEST_AXIS_MIN, longest * 1.02),
    volumeUnit,
    language,
    words,
    hatch: `url(#${id})`,
  };
  for (const panel of [takenPanel(context, traces), flowsPanel(context, traces)]) sheet.place(panel);
  return sheet.finish({
    id,
    title: words.compare.title,
    description: [
      words.compare.describe,
      ...[first, second].map((feed, i) => describeFeed(feed, traces[i]!, options)),
    ].join(' '),
  });
}

type Pair = readonly [FeedTrace, FeedTrace];

function takenPanel(context: PanelContext, traces: Pair): Panel {
  const { layout, volumeUnit, words } = context;
  const lines = traces.map(({ intakeMl }) => thin(intakeMl, context.endMin, columnsOf(layout)));
  const mostMl = lines.flat().reduce((most, { amount }) => Math.max(most, amount ?? 0), 0);
  const top = Math.max(LEAST_TOP_ML, mostMl * 1.1);
  const isOunces = volumeUnit === 'fl-oz';
  const ticks = isOunces
    ? ticksTo(flOzFromMl(top), [0.5, 1, 2, 4], 5).map((flOz) => ({
        ml: mlFromFlOz(flOz),
        text: quarterFlOzText(mlFromFlOz(flOz)),
      }))
    : ticksTo(top, [15, 30, 60, 120], 5).map((ml) => ({ ml, text: String(ml) }));
  const { palette, endMin } = context;
  return drawPanel(context, {
    title: words.panels.taken,
    unit: isOunces ? 'fl oz' : 'mL',
    heightPx: layout.intakeHeightPx,
    top,
    marks: [
      Plot.ruleY(ticks, { y: 'ml', x1: 0, x2: endMin, stroke: palette.grid }),
      Plot.text(ticks, {
        x: 0,
        y: 'ml',
        text: 'text',
        dx: -6,
        textAnchor: 'end',
        fill: palette.ink,
        fontSize: layout.fontPx,
      }),
      ...pairOfLines(context, lines),
    ],
    time: 'minutes',
  });
}

function flowsPanel(context: PanelContext, traces: Pair): Panel {
  const columns = columnsOf(context.layout);
  const lines = traces.map(({ flowMlPerMin }) => thin(flowMlPerMin, context.endMin, columns));
  return drawFlows(context, lines, () => pairOfLines(context, lines), 'minutes-in-full');
}

function pairOfLines({ palette }: PanelContext, lines: Series[]): Plot.Markish[] {
  const place = { x: 'min', y: 'amount', strokeLinejoin: 'round' } as const;
  return [
    Plot.lineY(lines[0]!, { ...place, stroke: palette.ink, strokeWidth: 2.4 }),
    Plot.lineY(lines[1]!, { ...place, stroke: palette.hue, strokeWidth: 1.6, strokeDasharray: '5 3' }),
  ];
}
