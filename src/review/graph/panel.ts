import * as Plot from '@observablehq/plot';
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { ReviewWords } from '../telling/words.ts';
import type { FeedTrace, Span } from './feed-trace.ts';
import type { Layout, Palette } from './look.ts';

/** Common properties of all panels. */
export interface PanelGround {
  document: Document;
  trace: Pick<FeedTrace, 'unknown'>;
  palette: Palette;
  layout: Layout;
  /** Right end of the time axis, minutes. */
  endMin: number;
  words: ReviewWords;
  /** Fill of stretches without an estimate. */
  hatch: string;
}

/** What every panel of one feed's graph shares. */
export interface PanelContext extends PanelGround {
  trace: FeedTrace;
  volumeUnit: VolumeUnit;
  language: Language;
}

/** One strip of a graph, all as wide as the graph and with the same time axis. */
export interface Panel {
  title: string;
  /** In softer ink beside the title; empty in a lane. */
  unit: string;
  heightPx: number;
  /** A thin strip of marks without an axis of its own. */
  isLane: boolean;
  svg: SVGElement;
}

/** What a panel draws, from back to front. */
export interface PanelDrawing {
  title: string;
  unit: string;
  heightPx: number;
  /** The y axis runs from 0 to here. */
  top: number;
  marks: Plot.Markish[];
  isLane?: boolean;
  /** What is written under the panel. */
  time?: 'minutes' | 'minutes-in-full';
}

const PAD_TOP_PX = 8;
const PAD_BOTTOM_PX = 4;
const TIME_TEXT_PX = 19;
const TIME_IN_FULL_PX = 36;

/** Draws a panel over the common ground: minutes, and hatching where nothing was known. */
export function drawPanel(context: PanelGround, drawing: PanelDrawing): Panel {
  const { document, layout, palette, endMin, trace, hatch } = context;
  const { title, unit, top, marks, time, isLane = false } = drawing;
  const timePx = time === undefined ? 0 : time === 'minutes' ? TIME_TEXT_PX : TIME_IN_FULL_PX;
  const padPx = isLane ? 0 : PAD_BOTTOM_PX;
  const heightPx = drawing.heightPx + timePx;
  const ticks = timeTicks(endMin, layout);
  const svg = Plot.plot({
    document,
    width: layout.widthPx,
    height: heightPx,
    marginLeft: layout.leftPx,
    marginRight: layout.widthPx - layout.rightPx,
    marginTop: isLane ? 0 : PAD_TOP_PX,
    marginBottom: padPx + timePx,
    x: { domain: [0, endMin], axis: null },
    y: { domain: [0, top], axis: null },
    marks: [
      Plot.ruleX(ticks, { y1: 0, y2: top, stroke: palette.grid, strokeOpacity: 0.7 }),
      Plot.rect(trace.unknown, {
        x1: 'fromMin',
        x2: ({ toMin }: Span) => Math.min(toMin, endMin),
        y1: 0,
        y2: top,
        fill: hatch,
      }),
      ...marks,
      time === undefined ? null : timeAxis(context, ticks, padPx),
      time === 'minutes-in-full' ? timeAxisName(context, padPx) : null,
    ],
  } as Plot.PlotOptions);
  return { title, unit, heightPx, isLane, svg: svg as unknown as SVGElement };
}

/** Lines and numbers at the left for a plain count or flow. */
export function plainAxis({ palette, layout, endMin }: PanelGround, ticks: number[]): Plot.Markish[] {
  return [
    Plot.ruleY(ticks, { x1: 0, x2: endMin, stroke: palette.grid }),
    Plot.text(ticks, {
      x: 0,
      y: (tick: number) => tick,
      text: String,
      dx: -6,
      textAnchor: 'end',
      fill: palette.ink,
      fontSize: layout.fontPx,
    }),
  ];
}

/** Round numbers from 0 up to `top`, by the first step that gives no more than `most` of them besides 0. */
export function ticksTo(top: number, steps: readonly number[], most: number): number[] {
  const step = steps.find((one) => top / one < most + 1) ?? steps.at(-1)!;
  return Array.from({ length: Math.floor(top / step) + 1 }, (_, i) => i * step);
}

/** Columns of pixels along the time axis. */
export const columnsOf = ({ leftPx, rightPx }: Layout): number => Math.ceil(rightPx - leftPx);

function timeTicks(endMin: number, layout: Layout): number[] {
  const most = Math.max(3, Math.floor(columnsOf(layout) / 44));
  return ticksTo(endMin, [1, 2, 5, 10, 15, 30, 60], most);
}

function timeAxis({ palette, layout }: PanelGround, ticks: number[], padPx: number): Plot.Markish {
  return Plot.text(ticks, {
    x: (tick: number) => tick,
    y: 0,
    text: String,
    dy: padPx + 10,
    fill: palette.ink,
    fontSize: layout.fontPx,
  });
}

function timeAxisName({ palette, layout, words }: PanelGround, padPx: number): Plot.Markish {
  return Plot.text([words.minutesAxis], {
    x: 0,
    y: 0,
    text: String,
    dy: padPx + 27,
    textAnchor: 'start',
    fill: palette.softInk,
    fontSize: layout.fontPx,
  });
}
