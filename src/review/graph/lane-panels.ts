import * as Plot from '@observablehq/plot';
import { CUE_KINDS } from '../../pacing/cues/cues.ts';
import { uprightBreaks } from '../facts/feed-facts.ts';
import { shortAmountText } from '../telling/feed-words.ts';
import { cueDots, cueWords } from './cue-marks.ts';
import type { FeedTrace, Span } from './feed-trace.ts';
import type { Panel, PanelContext, PanelDrawing } from './panel.ts';
import { drawPanel } from './panel.ts';

/** The thin strips below the curves, the last one has the time axis. */
export function lanePanels(context: PanelContext): Panel[] {
  const lanes = [
    teatLane(context),
    ...burpLanes(context),
    ...burpedLanes(context),
    ...cueLanes(context),
    ...pausedLanes(context),
    ...pourLanes(context),
  ];
  return lanes.map((lane, i) =>
    drawPanel(context, i === lanes.length - 1 ? { ...lane, time: 'minutes-in-full' } : lane),
  );
}

/** When the nipple was in the mouth. */
function teatLane(context: PanelContext): PanelDrawing {
  const bars = spanBars(context, context.trace.teatIn, { fill: context.palette.ink, fillOpacity: 0.8 });
  return lane(context, context.words.panels.nipple, [bars]);
}

/** Breaks with the bottle upright, as for a burp; no lane if there was none. */
function burpLanes(context: PanelContext): PanelDrawing[] {
  const breaks = uprightBreaks(context.trace);
  if (breaks.length === 0) return [];
  return [
    lane(context, context.words.panels.burps, [
      spanBars(context, breaks, { fill: context.palette.hue, fillOpacity: 0.55 }),
    ]),
  ];
}

/** Times of entered burps; no lane if there was none. */
function burpedLanes(context: PanelContext): PanelDrawing[] {
  const { trace, words, palette } = context;
  if (trace.burpedAtMin.length === 0) return [];
  const ticks = Plot.tickX(trace.burpedAtMin, {
    x: (min: number) => min,
    stroke: palette.ink,
    strokeWidth: 2.4,
  });
  return [lane(context, words.panels.burped, [ticks])];
}

/** One lane for each kind of cue that came, by its shape. */
function cueLanes(context: PanelContext): PanelDrawing[] {
  const { trace, words, language } = context;
  const { cues } = trace;
  return CUE_KINDS.filter((kind) => cues.some((cue) => cue.kind === kind)).map((kind) =>
    lane(context, words.quoted(cueWords(kind, language)), [
      cueDots(context, kind, () => 0.5, context.layout.cueInLanePx),
    ]),
  );
}

/** Times with cues turned off; no lane if there was none. */
function pausedLanes(context: PanelContext): PanelDrawing[] {
  const { guidancePaused } = context.trace;
  if (guidancePaused.length === 0) return [];
  const frames = spanBars(context, guidancePaused, {
    fill: 'none',
    stroke: context.palette.ink,
    strokeDasharray: '3 2',
  });
  return [lane(context, context.words.panels.paused, [frames])];
}

/** Milk that left with the nipple out, milk poured in, and exchanged or refilled bottles: a lane each if there was any. */
function pourLanes(context: PanelContext): PanelDrawing[] {
  return [
    { kind: 'spill', title: context.words.panels.spilt, symbol: 'times' } as const,
    { kind: 'refill', title: context.words.panels.poured, symbol: 'plus' } as const,
    { kind: 'bottle', title: context.words.panels.bottle, symbol: 'square' } as const,
  ].flatMap(({ kind, title, symbol }) => {
    const pours = context.trace.pours.filter((pour) => pour.kind === kind);
    if (pours.length === 0) return [];
    const crosses = Plot.dot(pours, {
      x: 'min',
      y: 0.5,
      symbol,
      r: 4.5,
      stroke: context.palette.ink,
      strokeWidth: 1.8,
    });
    return [lane(context, title, [crosses, ...pourWords(context, pours)])];
  });
}

/** The amount beside each mark: to its right, or to its left near the end of the axis. */
function pourWords(context: PanelContext, pours: FeedTrace['pours']): Plot.Markish[] {
  const { palette, layout, endMin, volumeUnit } = context;
  return [false, true].map((isLate) =>
    Plot.text(
      pours.filter(({ min }) => min > endMin * 0.7 === isLate),
      {
        x: 'min',
        y: 0.5,
        text: ({ kind, volumeMl }) =>
          `${kind === 'bottle' ? (volumeMl > 0 ? '+' : '−') : ''}${shortAmountText(Math.abs(volumeMl), volumeUnit)}`,
        dx: isLate ? -9 : 9,
        textAnchor: isLate ? 'end' : 'start',
        fill: palette.ink,
        stroke: palette.paper,
        strokeWidth: 3,
        fontSize: layout.fontPx,
      },
    ),
  );
}

function lane(context: PanelContext, title: string, marks: Plot.Markish[]): PanelDrawing {
  const { palette, layout, endMin } = context;
  const line = Plot.ruleY([0.5], { x1: 0, x2: endMin, stroke: palette.grid });
  return { title, unit: '', heightPx: layout.laneHeightPx, top: 1, marks: [line, ...marks], isLane: true };
}

type BarStyle = { fill: string; fillOpacity?: number; stroke?: string; strokeDasharray?: string };

/** Bars, cut at the end of the axis. */
const spanBars = ({ endMin }: PanelContext, spans: Span[], style: BarStyle): Plot.Markish =>
  Plot.rect(
    spans.filter(({ fromMin }) => fromMin < endMin),
    { x1: 'fromMin', x2: ({ toMin }: Span) => Math.min(toMin, endMin), y1: 0.25, y2: 0.75, ...style },
  );
