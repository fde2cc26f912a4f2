import * as Plot from '@observablehq/plot';
import type { Panel, PanelContext } from './panel.ts';
import { columnsOf, drawPanel } from './panel.ts';
import { thin } from './thin.ts';

const TOP_DEG = 180;
const LEVEL_DEG = 90;

/** How the bottle was held: 0° upright, 90° level, 180° nipple straight down. Null where no row was kept. */
export function anglePanel(context: PanelContext): Panel | null {
  const { trace, palette, layout, endMin, words } = context;
  if (trace.tiltDeg.length === 0) return null;
  const tilt = thin(trace.tiltDeg, endMin, columnsOf(layout));
  const ticks = [
    { deg: 0, text: '0°' },
    { deg: LEVEL_DEG, text: '90°' },
  ];
  return drawPanel(context, {
    title: words.panels.angle,
    unit: `0° ${words.units.upright}`,
    heightPx: layout.angleHeightPx,
    top: TOP_DEG,
    marks: [
      Plot.ruleY(ticks, { y: 'deg', x1: 0, x2: endMin, stroke: palette.grid }),
      Plot.text(ticks, {
        x: 0,
        y: 'deg',
        text: 'text',
        dx: -6,
        textAnchor: 'end',
        fill: palette.ink,
        fontSize: layout.fontPx,
      }),
      Plot.text([LEVEL_DEG], {
        x: endMin,
        y: LEVEL_DEG,
        text: () => words.units.level,
        dx: 4,
        textAnchor: 'start',
        fill: palette.softInk,
        fontSize: layout.fontPx - 2,
      }),
      Plot.lineY(tilt, { x: 'min', y: 'amount', stroke: palette.ink, strokeWidth: 1.3 }),
    ],
  });
}
