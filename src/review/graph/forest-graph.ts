/** A forest plot: one line a participant, arm by arm, then each arm's mean and the differences between arms. */

import type { Language } from '../../pacing/cues/words.ts';
import type { Outcome } from '../../research/group/outcomes.ts';
import type { Interval } from '../../research/statistics/effects.ts';
import { STUDY_FIGURE_WORDS, type StudyFigureWords } from '../telling/study-words.ts';
import { escapeHtml } from './escape-html.ts';
import { FONT_FAMILY, PALETTES, type Palette, type Theme, wrapText } from './look.ts';

export interface ForestOptions {
  /** The quantity and its unit. */
  title: string;
  unit: string;
  language?: Language;
  widthPx?: number;
  theme?: Theme;
}

interface Row {
  label: string;
  value: number;
  interval: Interval | null;
  kind: 'participant' | 'arm';
}

const WIDTH_PX = 760;
const FONT_PX = 13;
const ROW_PX = 20;
const LABEL_PX = 190;
const NUMBERS_PX = 190;
const MARGIN_PX = 20;

/** An SVG document. */
export function forestGraphSvg(outcome: Outcome, options: ForestOptions): string {
  const { title, language = 'en', widthPx = WIDTH_PX, theme = 'light' } = options;
  const said = STUDY_FIGURE_WORDS[language];
  const unit = options.unit === '1' ? said.count : options.unit;
  const palette = PALETTES[theme];
  const rows = rowsOf(outcome, said);
  const effects = outcome.effects.map(({ first, second, design, effect }) =>
    said.difference(second, first, design === 'within', effectText(effect, unit, said)),
  );
  const notes = [...effects, said.bars(outcome.missing)].flatMap((line) =>
    wrapText(line, widthPx - 2 * MARGIN_PX, FONT_PX),
  );
  const headPx = MARGIN_PX + 30;
  const bottomPx = headPx + rows.length * ROW_PX;
  const heightPx = bottomPx + 44 + notes.length * FONT_PX * 1.3 + MARGIN_PX;
  const scale = scaleOf(rows, LABEL_PX, widthPx - NUMBERS_PX);
  const parts = [
    text(MARGIN_PX, MARGIN_PX + 12, title, palette.ink, 'start', 600),
    ...axisOf(scale, headPx, bottomPx, unit, palette),
    ...rows.map((row, i) => rowOf(row, headPx + (i + 0.5) * ROW_PX, { scale, widthPx, palette, said })),
    ...notes.map((line, i) => text(MARGIN_PX, bottomPx + 50 + i * FONT_PX * 1.3, line, palette.softInk)),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${Math.ceil(heightPx)}" viewBox="0 0 ${widthPx} ${Math.ceil(heightPx)}" role="img" aria-labelledby="forest-title forest-desc" font-family="${FONT_FAMILY}" font-size="${FONT_PX}">
<title id="forest-title">${escapeHtml(title)}</title>
<desc id="forest-desc">${escapeHtml(effects.join(' ') || notes.join(' '))}</desc>
<rect width="${widthPx}" height="${Math.ceil(heightPx)}" fill="${palette.paper}"/>
${parts.join('\n')}
</svg>
`;
}

function effectText(
  { difference, hedgesG }: Outcome['effects'][number]['effect'],
  unit: string,
  said: StudyFigureWords,
): string {
  const of = ({ value, low, high }: Interval): string => said.interval(short(value), short(low), short(high));
  return `${of(difference)} ${unit}${hedgesG === null ? '' : `; ${said.standardized(of(hedgesG))}`}.`;
}

const short = (value: number): string => {
  const text = value.toFixed(Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2);
  return Number(text) === 0 ? text.replace('-', '') : text;
};

function rowsOf({ participants, arms }: Outcome, said: StudyFigureWords): Row[] {
  const names = [...new Set(participants.map(({ arm }) => arm))];
  return names.flatMap((name): Row[] => {
    const own = participants
      .filter(({ arm }) => arm === name)
      .map(({ participant, sessions, mean, interval }) => ({
        label: said.feedsOf(participant, sessions),
        value: mean,
        interval,
        kind: 'participant' as const,
      }));
    const all = arms.find(({ arm }) => arm === name);
    if (!all) return own;
    const { summary, interval } = all;
    return [...own, { label: said.armOf(name, summary.n), value: summary.mean, interval, kind: 'arm' }];
  });
}

interface Scale {
  low: number;
  high: number;
  px: (value: number) => number;
}

/** Intervals of two feeds may be many times as wide as all others: so the scale follows means and arms, and longer bars are cut at its edge. */
function scaleOf(rows: readonly Row[], leftPx: number, rightPx: number): Scale {
  const values = rows.flatMap(({ value, interval, kind }) =>
    kind === 'arm' && interval ? [value, interval.low, interval.high] : [value],
  );
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const pad = Math.max((most - least) * 0.15, Math.abs(most) * 0.02, 1e-6);
  const [low, high] = [least - pad, most + pad];
  const px = (value: number): number =>
    leftPx + ((rightPx - leftPx) * (Math.min(Math.max(value, low), high) - low)) / (high - low);
  return { low, high, px };
}

function axisOf(
  { low, high, px }: Scale,
  topPx: number,
  bottomPx: number,
  unit: string,
  palette: Palette,
): string[] {
  const rough = (high - low) / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10);
  const parts: string[] = [];
  for (let i = Math.ceil(low / step); i * step <= high; i++) {
    const x = round(px(i * step));
    const label = Number((i * step).toPrecision(12));
    parts.push(`<path d="M${x} ${topPx}V${bottomPx}" stroke="${palette.grid}"/>`);
    parts.push(text(x, bottomPx + 16, String(label), palette.ink, 'middle'));
  }
  parts.push(text(round((px(low) + px(high)) / 2), bottomPx + 32, unit, palette.softInk, 'middle'));
  return parts;
}

interface RowPlace {
  scale: Scale;
  widthPx: number;
  palette: Palette;
  said: StudyFigureWords;
}

function rowOf(
  { label, value, interval, kind }: Row,
  y: number,
  { scale: { px }, widthPx, palette, said }: RowPlace,
): string {
  const x = round(px(value));
  const isArm = kind === 'arm';
  const bar = interval
    ? `<path d="M${round(px(interval.low))} ${y}H${round(px(interval.high))}" stroke="${palette.ink}" stroke-width="${isArm ? 2.4 : 1.2}"/>`
    : '';
  const mark = isArm
    ? `<path d="M${x - 7} ${y}l7 -6l7 6l-7 6z" fill="${palette.hue}" stroke="${palette.ink}"/>`
    : `<rect x="${x - 4}" y="${y - 4}" width="8" height="8" fill="${palette.ink}"/>`;
  const numbers = interval
    ? said.range(short(value), short(interval.low), short(interval.high))
    : short(value);
  const weight = isArm ? 600 : 400;
  return [
    text(MARGIN_PX, y + 4, label, palette.ink, 'start', weight),
    bar,
    mark,
    text(widthPx - MARGIN_PX, y + 4, numbers, palette.ink, 'end', weight),
  ].join('');
}

const text = (x: number, y: number, words: string, fill: string, anchor = 'start', weight = 400): string =>
  `<text x="${round(x)}" y="${round(y)}" fill="${fill}"${anchor === 'start' ? '' : ` text-anchor="${anchor}"`}${weight === 400 ? '' : ` font-weight="${weight}"`}>${escapeHtml(words)}</text>`;

const round = (px: number): number => Math.round(px * 10) / 10;
