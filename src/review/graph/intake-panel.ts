import * as Plot from '@observablehq/plot';
import { flOzFromMl, mlFromFlOz, quarterFlOzText } from '../../base/units.ts';
import { CUE_KINDS } from '../../pacing/cues/cues.ts';
import type { FeedPace } from '../facts/feed-pace.ts';
import {
  lowerEdgeMl,
  TWO_BREASTS_COURSE,
  upperEdgeCorners,
  upperEdgeMinute,
  upperEdgeMl,
  WHOLE_FEED_MEANS,
} from './band.ts';
import { cueDots } from './cue-marks.ts';
import { intakeAt } from './feed-trace.ts';
import { letterWidthPx } from './look.ts';
import type { Panel, PanelContext } from './panel.ts';
import { columnsOf, drawPanel, ticksTo } from './panel.ts';
import { thin } from './thin.ts';

/** Least height of the axis, so that a feed of a few sips does not look large. */
const LEAST_TOP_ML = 45;
/** Below this height there is no space for words between the lower edge and the axis. */
const ROOM_FOR_LABEL_PX = 18;

/** Milk taken against the band. */
export function intakePanel(context: PanelContext): Panel {
  const { trace, palette, layout, endMin, volumeUnit, words } = context;
  const taken = thin(trace.intakeMl, endMin, columnsOf(layout));
  const mostMl = taken.reduce((most, { amount }) => Math.max(most, amount ?? 0), trace.readMl ?? 0);
  const topMl = Math.max(LEAST_TOP_ML, mostMl * 1.12);
  return drawPanel(context, {
    title: words.panels.taken,
    unit: volumeUnit === 'fl-oz' ? 'fl oz (mL)' : 'mL (fl oz)',
    heightPx: layout.intakeHeightPx,
    top: topMl,
    marks: [
      ...bandMarks(context, topMl),
      ...volumeAxes(context, topMl),
      ...bandLabels(context, topMl),
      Plot.lineY(taken, {
        x: 'min',
        y: 'amount',
        stroke: palette.ink,
        strokeWidth: 2.4,
        strokeLinejoin: 'round',
        strokeLinecap: 'round',
      }),
      ...CUE_KINDS.map((kind) => cueDots(context, kind, (cue) => cue.intakeMl, layout.cueOnLinePx)),
      ...readingMarks(context),
    ],
    time: 'minutes',
  });
}

/** A reading of the bottle's marks is shown beside the end of the line, which is not changed. */
function readingMarks({ trace, palette, layout, words }: PanelContext): Plot.Markish[] {
  if (trace.readMl === null) return [];
  const place = [{ min: trace.lengthMin, ml: trace.readMl }];
  return [
    Plot.dot(place, {
      x: 'min',
      y: 'ml',
      r: 5,
      stroke: palette.ink,
      strokeWidth: 1.8,
      fill: palette.paper,
      symbol: 'diamond2',
    }),
    Plot.text(place, {
      x: 'min',
      y: 'ml',
      text: () => words.marksLabel,
      dx: -9,
      dy: -9,
      textAnchor: 'end',
      fill: palette.ink,
      stroke: palette.paper,
      strokeWidth: 3,
      fontSize: layout.fontPx - 1,
    }),
  ];
}

interface BandPoint {
  min: number;
  lowerMl: number;
  upperMl: number;
}

/** The band at its corners and on a grid of 1/8 min, which is fine enough for the crossing of the two means. */
function bandPoints({ lines }: FeedPace, endMin: number, topMl: number): BandPoint[] {
  const corners = [
    ...upperEdgeCorners(lines),
    ...TWO_BREASTS_COURSE.map(([min]) => min),
    ...WHOLE_FEED_MEANS.map(({ minutes }) => minutes),
    upperEdgeMinute(lines, topMl),
    endMin,
  ];
  const grid = Array.from({ length: Math.ceil(endMin * 8) }, (_, i) => i / 8);
  return [...new Set([...corners, ...grid])]
    .filter((min) => min <= endMin)
    .sort((a, b) => a - b)
    .map((min) => ({
      min,
      upperMl: Math.min(upperEdgeMl(lines, min), topMl),
      lowerMl: Math.min(lowerEdgeMl(min), topMl),
    }));
}

function bandMarks({ palette, endMin, trace: { pace } }: PanelContext, topMl: number): Plot.Markish[] {
  const band = bandPoints(pace, endMin, topMl);
  const edge = { x: 'min', stroke: palette.hue, strokeWidth: 1.6 } as const;
  const lower = Plot.lineY(band, {
    ...edge,
    y: 'lowerMl',
    strokeDasharray: '0.1 3.4',
    strokeLinecap: 'round',
    strokeWidth: 2,
  });
  // If the cue was off, no upper line is drawn.
  if (!pace.isCued) return [lower];
  return [
    Plot.areaY(band, {
      x: 'min',
      // A clinician's slow pace may be below the means of the studies.
      y1: ({ lowerMl, upperMl }: BandPoint) => Math.min(lowerMl, upperMl),
      y2: 'upperMl',
      fill: palette.hue,
      fillOpacity: palette.bandOpacity,
    }),
    Plot.lineY(
      band.filter(({ min }) => min <= upperEdgeMinute(pace.lines, topMl)),
      { ...edge, y: 'upperMl', strokeDasharray: '7 4' },
    ),
    lower,
  ];
}

/**
 * Labels of the edges: the upper one on the side away from the milk's line, the lower one at its end, below
 * it if there is space.
 */
function bandLabels(context: PanelContext, topMl: number): Plot.Markish[] {
  const { palette, layout, endMin, trace, words } = context;
  const fontSize = layout.fontPx - 1;
  const style = {
    x: 'min',
    y: 'ml',
    text: 'text',
    fill: palette.softInk,
    stroke: palette.paper,
    strokeWidth: 3,
    fontSize,
  } as const;
  const { lines, isCued } = trace.pace;
  const upperMl = Math.min(topMl, upperEdgeMl(lines, endMin)) * 0.86;
  const upperMin = upperEdgeMinute(lines, upperMl);
  const isFast = (intakeAt(trace, upperMin) ?? 0) > upperMl;
  const upper = { min: upperMin, ml: upperMl, text: words.cueLine };

  const widthMin = ((words.lowerEdge.length * letterWidthPx(fontSize) + 6) / columnsOf(layout)) * endMin;
  const leftMin = Math.max(0, endMin - widthMin);
  const isRoomBelow = (lowerEdgeMl(leftMin) / topMl) * layout.intakeHeightPx > ROOM_FOR_LABEL_PX;
  const lowerMin = isRoomBelow ? leftMin : endMin;
  const lower = { min: lowerMin, ml: lowerEdgeMl(lowerMin), text: words.lowerEdge };
  return [
    Plot.text(isCued ? [upper] : [], {
      ...style,
      textAnchor: isFast ? 'start' : 'end',
      dx: isFast ? 8 : -8,
      dy: isFast ? 5 : -4,
    }),
    Plot.text([lower], {
      ...style,
      textAnchor: isRoomBelow ? 'start' : 'end',
      dx: isRoomBelow ? 0 : -4,
      dy: isRoomBelow ? 11 : -9,
    }),
  ];
}

interface VolumeTick {
  ml: number;
  text: string;
}

/** The first unit at the left with its lines, the other at the right; the topmost number carries the unit. */
function volumeAxes({ palette, layout, volumeUnit, endMin }: PanelContext, topMl: number): Plot.Markish[] {
  const ounces = ticksTo(flOzFromMl(topMl), [0.5, 1, 2, 4], 5);
  const millilitres = ticksTo(topMl, [15, 30, 60, 120], 5);
  const flOzTicks = withUnit(ounces, 'fl oz', mlFromFlOz, (flOz) => quarterFlOzText(mlFromFlOz(flOz)));
  const mlTicks = withUnit(millilitres, 'mL', (ml) => ml, String);
  const [first, second] = volumeUnit === 'fl-oz' ? [flOzTicks, mlTicks] : [mlTicks, flOzTicks];
  const style = { y: 'ml', text: 'text', fontSize: layout.fontPx } as const;
  return [
    Plot.ruleY(first, { y: 'ml', x1: 0, x2: endMin, stroke: palette.grid }),
    Plot.text(first, { ...style, x: 0, dx: -6, textAnchor: 'end', fill: palette.ink }),
    Plot.text(second, { ...style, x: endMin, dx: 6, textAnchor: 'start', fill: palette.softInk }),
  ];
}

function withUnit(
  ticks: number[],
  unit: string,
  mlOf: (tick: number) => number,
  textOf: (tick: number) => string,
): VolumeTick[] {
  return ticks.map((tick, i) => ({
    ml: mlOf(tick),
    text: i === ticks.length - 1 ? `${textOf(tick)} ${unit}` : textOf(tick),
  }));
}
