import * as Plot from '@observablehq/plot';
import type { Panel, PanelContext } from './panel.ts';
import { columnsOf, drawPanel, plainAxis, ticksTo } from './panel.ts';
import { thin } from './thin.ts';

/** The axis reaches at least this far, so that a gentle flow looks gentle, mL/min. */
const LEAST_TOP_ML_PER_MIN = 15;
const LEAST_TOP_SUCKS = 10;

/** Flow, as the sleeve contract defines it: the change of intake over 10 s. */
export function flowPanel(context: PanelContext): Panel {
  const { trace, palette, layout, endMin } = context;
  const flow = thin(trace.flowMlPerMin, endMin, columnsOf(layout));
  const most = flow.reduce((top, { amount }) => Math.max(top, amount ?? 0), 0);
  const top = Math.max(LEAST_TOP_ML_PER_MIN, most * 1.08);
  return drawPanel(context, {
    title: 'Flow',
    unit: 'mL/min, over 10 s',
    heightPx: layout.flowHeightPx,
    top,
    marks: [
      ...plainAxis(context, ticksTo(top, [5, 10, 20, 40, 80], 3)),
      Plot.areaY(flow, { x: 'min', y1: 0, y2: 'amount', fill: palette.hue, fillOpacity: 0.3 }),
      Plot.lineY(flow, { x: 'min', y: 'amount', stroke: palette.ink, strokeWidth: 1 }),
    ],
  });
}

/** Runs of sucks, as tall as they have sucks; null while sucks are not known. */
export function burstsPanel(context: PanelContext): Panel | null {
  const { palette, layout, trace } = context;
  if (trace.bursts === null) return null;
  const most = trace.bursts.reduce((top, { suckCount }) => Math.max(top, suckCount), LEAST_TOP_SUCKS);
  return drawPanel(context, {
    title: 'Suck bursts',
    unit: 'sucks in each',
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
