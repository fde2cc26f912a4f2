/** The curves of a study's arms: milk taken and flow over minutes since the first suck, with published curves. */
import * as Plot from '@observablehq/plot';
import type { Language } from '../../pacing/cues/words.ts';
import type { ArmCurves, CurvePoint } from '../../research/group/curves.ts';
import type { PublishedCurve } from '../../research/group/published-curves.ts';
import { STUDY_FIGURE_WORDS, type StudyFigureWords } from '../telling/study-words.ts';
import { REVIEW_WORDS } from '../telling/words.ts';
import { blankDocument } from './blank-document.ts';
import { layoutFor, PALETTES, type Theme } from './look.ts';
import { drawPanel, type Panel, type PanelGround, plainAxis, ticksTo } from './panel.ts';
import { Sheet } from './sheet.ts';

export interface GroupGraphOptions {
  title: string;
  language?: Language;
  widthPx?: number;
  theme?: Theme;
}

/** How each arm is drawn: by dashes and ink, so that they can be distinguished in black and white. */
const DASHES = ['', '7 4', '2 3', '9 3 2 3', '4 2', '1 4'];
const WIDTH_PX = 760;
const LEAST_TOP_ML = 60;
const LEAST_TOP_ML_PER_MIN = 12;
const SHORTEST_AXIS_MIN = 5;

/** An SVG document. */
export function groupGraphSvg(
  arms: readonly ArmCurves[],
  published: readonly PublishedCurve[],
  options: GroupGraphOptions,
): string {
  const { title, language = 'en', widthPx = WIDTH_PX, theme = 'light' } = options;
  const said = STUDY_FIGURE_WORDS[language];
  const layout = layoutFor(widthPx);
  const palette = PALETTES[theme];
  const drawn = arms.filter(({ intakeMl }) => intakeMl.length > 0);
  const lastMin = Math.max(0, ...drawn.flatMap(({ intakeMl }) => intakeMl.map(({ min }) => min)));
  const context: PanelGround = {
    document: blankDocument(),
    trace: { unknown: [] },
    palette,
    layout,
    endMin: Math.max(SHORTEST_AXIS_MIN, lastMin * 1.02),
    words: { ...REVIEW_WORDS[language], minutesAxis: said.minutesAxis },
    hatch: 'none',
  };
  const sheet = new Sheet(layout, palette);
  sheet.write(title, { sizePx: layout.headingPx, weight: 600, fill: palette.ink, balanced: true });
  const legend = legendOf(arms, said);
  for (const line of legend) sheet.write(line, { sizePx: layout.fontPx, fill: palette.ink });
  sheet.write(said.lines, { sizePx: layout.notePx, fill: palette.softInk });
  sheet.skip(layout.gapPx);
  sheet.place(intakePanel(context, said, drawn, published));
  sheet.place(flowPanel(context, said, drawn));
  for (const line of published.map(({ name, source }, i) => sourceLine(i + 1, said.published[name], source)))
    sheet.write(line, { sizePx: layout.notePx, fill: palette.softInk });
  return sheet.finish({ id: 'group', title, description: legend.join(' ') });
}

const sourceLine = (
  number: number,
  { name, note }: StudyFigureWords['published']['breast-even'],
  source: string,
): string => `${number} ${name}: ${source} (${note})`;

const legendOf = (arms: readonly ArmCurves[], said: StudyFigureWords): string[] =>
  arms.map(({ arm, participants, sessions }, i) => {
    const how = participants < 2 ? said.tooFew : said.dashes[i % said.dashes.length]!;
    return said.arm(arm, how, participants, sessions);
  });

const mostOf = (points: readonly CurvePoint[]): number =>
  Math.max(0, ...points.map(({ mean, sd }) => mean + sd));

function intakePanel(
  context: PanelGround,
  said: StudyFigureWords,
  arms: readonly ArmCurves[],
  published: readonly PublishedCurve[],
): Panel {
  const { layout, palette, endMin } = context;
  const shown = published.map((curve, i) => ({ i, points: untilMin(curve.points, endMin) }));
  const most = Math.max(
    ...arms.map(({ intakeMl }) => mostOf(intakeMl)),
    ...shown.flatMap(({ points }) => points.map(({ ml }) => ml)),
  );
  const top = Math.max(LEAST_TOP_ML, most * 1.08);
  return drawPanel(context, {
    title: said.taken,
    unit: 'mL',
    heightPx: layout.intakeHeightPx,
    top,
    marks: [
      ...plainAxis(context, ticksTo(top, [10, 20, 50, 100], 6)),
      ...shown.flatMap(({ i, points }) => [
        Plot.lineY(points, { x: 'min', y: 'ml', stroke: palette.softInk, strokeWidth: 1 }),
        Plot.text(points.slice(-1), {
          x: 'min',
          y: 'ml',
          text: () => String(i + 1),
          dx: 7,
          fill: palette.softInk,
          fontSize: layout.notePx,
        }),
      ]),
      ...arms.flatMap(({ intakeMl }, i) => curveMarks(context, intakeMl, i)),
    ],
    time: 'minutes',
  });
}

function flowPanel(context: PanelGround, said: StudyFigureWords, arms: readonly ArmCurves[]): Panel {
  const top = Math.max(LEAST_TOP_ML_PER_MIN, ...arms.map(({ flowMlPerMin }) => mostOf(flowMlPerMin) * 1.08));
  return drawPanel(context, {
    title: said.flow,
    unit: 'mL/min',
    heightPx: context.layout.flowHeightPx * 1.6,
    top,
    marks: [
      ...plainAxis(context, ticksTo(top, [2, 5, 10, 20, 40], 5)),
      ...arms.flatMap(({ flowMlPerMin }, i) => curveMarks(context, flowMlPerMin, i)),
    ],
    time: 'minutes-in-full',
  });
}

function curveMarks({ palette }: PanelGround, points: readonly CurvePoint[], arm: number): Plot.Markish[] {
  const color = arm === 0 ? palette.ink : palette.hue;
  return [
    Plot.areaY(points as CurvePoint[], {
      x: 'min',
      y1: ({ mean, sd }: CurvePoint) => Math.max(0, mean - sd),
      y2: ({ mean, sd }: CurvePoint) => mean + sd,
      fill: color,
      fillOpacity: palette.bandOpacity,
    }),
    Plot.lineY(points as CurvePoint[], {
      x: 'min',
      y: 'mean',
      stroke: color,
      strokeWidth: 2,
      strokeDasharray: DASHES[arm % DASHES.length]!,
      strokeLinejoin: 'round',
    }),
  ];
}

/** A published line, cut at the end of the axis. */
function untilMin(points: PublishedCurve['points'], endMin: number): { min: number; ml: number }[] {
  const kept = points.filter(([min]) => min <= endMin).map(([min, ml]) => ({ min, ml }));
  const next = points[kept.length];
  const last = kept.at(-1);
  if (!next || !last || last.min === endMin) return kept;
  const part = (endMin - last.min) / (next[0] - last.min);
  return [...kept, { min: endMin, ml: last.ml + part * (next[1] - last.ml) }];
}
