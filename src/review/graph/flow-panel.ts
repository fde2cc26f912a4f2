import * as Plot from '@observablehq/plot';
import { fastMlPerMin } from '../facts/feed-facts.ts';
import type { FeedTrace, Series } from './feed-trace.ts';
import type { Panel, PanelContext, PanelDrawing } from './panel.ts';
import { columnsOf, drawPanel, plainAxis, ticksTo } from './panel.ts';
import { thin } from './thin.ts';

/** The axis reaches at least this far, so that a low flow looks low, mL/min. */
const LEAST_TOP_ML_PER_MIN = 18;
const LEAST_TOP_SUCKS = 10;
/** Coverage factor of the uncertainty that is shown (JCGM 100:2008, 6.3.3: k = 2 is about 95 %). */
const K = 2;

/** Flow, as the sleeve contract defines it: the change of intake over 10 s; around it its uncertainty, where that is known. */
export function flowPanel(context: PanelContext): Panel {
  const { trace, palette, layout, endMin, words } = context;
  const fast = fastMlPerMin(trace);
  const flow = thin(trace.flowMlPerMin, endMin, columnsOf(layout));
  const spread = spreadOf(trace, flow);
  return drawFlows(context, [flow], (top) => [
    spread.length > 0
      ? Plot.areaY(spread, {
          x: 'min',
          y1: 'low',
          y2: (point) => upTo(point.high, top),
          fill: palette.hue,
          fillOpacity: 0.3,
        })
      : Plot.areaY(flow, { x: 'min', y1: 0, y2: 'amount', fill: palette.hue, fillOpacity: 0.3 }),
    Plot.ruleY([fast], { x1: 0, x2: endMin, stroke: palette.hue, strokeDasharray: '2 4' }),
    Plot.text([fast], {
      x: endMin,
      y: fast,
      text: () => words.fastLine,
      dx: 4,
      textAnchor: 'start',
      fill: palette.softInk,
      fontSize: layout.fontPx - 2,
    }),
    Plot.lineY(flow, { x: 'min', y: 'amount', stroke: palette.ink, strokeWidth: 1 }),
  ]);
}

/** A panel of flows with its axis. @param marks  what is drawn on it, given the top of the axis, mL/min */
export function drawFlows(
  context: PanelContext,
  lines: readonly Series[],
  marks: (topMlPerMin: number) => Plot.Markish[],
  time?: PanelDrawing['time'],
): Panel {
  const { layout, words } = context;
  const greatest = lines.flat().reduce((most, { amount }) => Math.max(most, amount ?? 0), 0);
  const top = Math.max(LEAST_TOP_ML_PER_MIN, greatest * 1.08);
  return drawPanel(context, {
    title: words.panels.flow,
    unit: words.units.flow,
    heightPx: layout.flowHeightPx,
    top,
    marks: [...plainAxis(context, ticksTo(top, [5, 10, 20, 40, 80], 3)), ...marks(top)],
    ...(time && { time }),
  });
}

const upTo = (amount: number | null, top: number): number | null => amount && Math.min(amount, top);

interface SpreadPoint {
  min: number;
  low: number | null;
  high: number | null;
}

/** Lower and upper end at the drawn points; empty if unknown. */
function spreadOf({ flowSdMlPerMin }: FeedTrace, flow: FeedTrace['flowMlPerMin']): SpreadPoint[] {
  if (!flowSdMlPerMin) return [];
  const sdAt = new Map(flowSdMlPerMin.map(({ min, amount }) => [min, amount]));
  return flow.map(({ min, amount }) => {
    const sd = sdAt.get(min) ?? null;
    if (amount === null || sd === null) return { min, low: null, high: null };
    return { min, low: Math.max(0, amount - K * sd), high: amount + K * sd };
  });
}

/** The rhythm of sucking: runs of sucks, as tall as they have sucks; null if sucks are not known. */
export function burstsPanel(context: PanelContext): Panel | null {
  const { palette, layout, trace, words } = context;
  if (trace.bursts === null) return null;
  const most = trace.bursts.reduce((top, { suckCount }) => Math.max(top, suckCount), LEAST_TOP_SUCKS);
  return drawPanel(context, {
    title: words.panels.bursts,
    unit: words.units.sucks,
    heightPx: layout.burstsHeightPx,
    top: most * 1.05,
    marks: [
      ...plainAxis(context, ticksTo(most, [5, 10, 20, 50, 100], 2)),
      Plot.rect(trace.bursts, {
        x1: 'fromMin',
        x2: 'toMin',
        y1: 0,
        y2: 'suckCount',
        fill: palette.ink,
        fillOpacity: 0.8,
      }),
    ],
  });
}
