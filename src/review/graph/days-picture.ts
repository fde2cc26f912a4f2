/**
 * Draws days: one row a day, each feed at its start, as tall as the milk taken; at the right the day's milk from bottles
 * beside the published range for that age. Kinds differ by shape, not by color. Pure; an SVG document without a script.
 */
import { clockOf } from '../../base/calendar.ts';
import type { DayFeed, DaySum } from '../facts/day-sums.ts';
import { escapeHtml } from './escape-html.ts';
import { FONT_FAMILY, PALETTES, type Palette, type Theme } from './look.ts';

export interface PicturedDay {
  sum: DaySum;
  /** "Mon 11" or so; empty for a single day. */
  label: string;
  /** The day's milk, as text; empty without a bottle. */
  total: string;
  /** Published milk in 24 hours at that age, mL; null where no birth date is known. */
  published: { lowMl: number; middleMl: number; highMl: number } | null;
}

export interface DaysPictureWords {
  title: string;
  description: string;
  taken: string;
  published: string;
  bottle: string;
  fast: string;
  breast: string;
  refused: string;
}

export interface DaysPictureOptions {
  zone: string;
  widthPx: number;
  theme: Theme;
  words: DaysPictureWords;
}

const COMPACT_BELOW_PX = 600;
const FONT_PX = 12;
const LEAST_BOTTLE_ML = 150;
const HOUR_TICKS = [0, 6, 12, 18, 24];

interface Frame {
  palette: Palette;
  leftPx: number;
  rightPx: number;
  totalLeftPx: number;
  totalRightPx: number;
  rowPx: number;
  /** Height of the tallest bottle, mL, and of the longest bar of a day. */
  topMl: number;
  mostMl: number;
}

/** @param days oldest first; one of them makes a picture of a day */
export function daysPictureSvg(days: readonly PicturedDay[], options: DaysPictureOptions): string {
  const { widthPx, theme, words } = options;
  const frame = frameOf(days, widthPx, theme);
  const headPx = 2 * FONT_PX + 10;
  const rows = days.map((day, i) => rowOf(day, headPx + i * frame.rowPx, frame, options.zone));
  const bottomPx = headPx + days.length * frame.rowPx;
  const legend = legendOf(frame, words, bottomPx + 22, widthPx);
  const heightPx = Math.ceil(bottomPx + 22 + legend.heightPx + 6);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${widthPx} ${heightPx}" role="img" aria-labelledby="days-title days-desc" font-family="${FONT_FAMILY}" font-size="${FONT_PX}">
<title id="days-title">${escapeHtml(words.title)}</title>
<desc id="days-desc">${escapeHtml(words.description)}</desc>
<rect width="${widthPx}" height="${heightPx}" fill="${frame.palette.paper}"/>
${headOf(days, frame, words, headPx, bottomPx)}
${rows.join('\n')}
${legend.svg}
</svg>
`;
}

function frameOf(days: readonly PicturedDay[], widthPx: number, theme: Theme): Frame {
  const isCompact = widthPx < COMPACT_BELOW_PX;
  const labelPx = days.length === 1 ? 6 : isCompact ? 44 : 96;
  const totalPx = isCompact ? 106 : 190;
  const bottles = days.flatMap(({ sum }) => sum.feeds.map(({ takenMl }) => takenMl ?? 0));
  const totals = days.flatMap(({ sum, published }) => [sum.takenMl, published?.highMl ?? 0]);
  return {
    palette: PALETTES[theme],
    leftPx: labelPx,
    rightPx: widthPx - totalPx - 16,
    totalLeftPx: widthPx - totalPx,
    totalRightPx: widthPx - 6,
    rowPx: days.length === 1 ? 120 : 58,
    topMl: Math.max(LEAST_BOTTLE_ML, ...bottles),
    mostMl: Math.max(1, ...totals) * 1.04,
  };
}

function headOf(
  days: readonly PicturedDay[],
  { palette, leftPx, rightPx, totalLeftPx }: Frame,
  words: DaysPictureWords,
  topPx: number,
  bottomPx: number,
): string {
  const hours = HOUR_TICKS.map((hour) => {
    const x = round(leftPx + ((rightPx - leftPx) * hour) / 24);
    return `<path d="M${x} ${topPx}V${bottomPx}" stroke="${palette.grid}"/>${textAt(x, topPx - 5, String(hour), palette.softInk, 'middle')}`;
  });
  const hasRange = days.some(({ published }) => published !== null);
  return [
    ...hours,
    textAt(totalLeftPx, FONT_PX, words.taken, palette.ink),
    hasRange ? textAt(totalLeftPx, 2 * FONT_PX + 4, words.published, palette.softInk) : '',
  ].join('\n');
}

function rowOf(
  { sum, label, total, published }: PicturedDay,
  topPx: number,
  frame: Frame,
  zone: string,
): string {
  const { palette, rightPx, totalLeftPx, totalRightPx, rowPx, mostMl } = frame;
  const basePx = topPx + rowPx - 6;
  const marks = sum.feeds.map((feed) => feedMark(feed, basePx, frame, zone));
  const ofMl = (ml: number): number => round(totalLeftPx + ((totalRightPx - totalLeftPx) * ml) / mostMl);
  const barPx = basePx - 12;
  const range = published
    ? `<rect x="${ofMl(published.lowMl)}" y="${barPx - 4}" width="${round(ofMl(published.highMl) - ofMl(published.lowMl))}" height="16" fill="${palette.hue}" fill-opacity="${palette.bandOpacity}"/>
<path d="M${ofMl(published.middleMl)} ${barPx - 4}v16" stroke="${palette.hue}" stroke-width="1.4" stroke-dasharray="3 2"/>`
    : '';
  const bar =
    sum.takenMl > 0
      ? `<rect x="${totalLeftPx}" y="${barPx}" width="${round(ofMl(sum.takenMl) - totalLeftPx)}" height="8" fill="${palette.ink}"/>`
      : '';
  return [
    `<path d="M${frame.leftPx} ${basePx}H${rightPx}M${totalLeftPx} ${basePx}H${totalRightPx}" stroke="${palette.grid}"/>`,
    label === '' ? '' : textAt(4, basePx - 4, label, palette.ink),
    range,
    bar,
    total === '' ? '' : textAt(totalLeftPx, barPx - 8, total, palette.ink),
    ...marks,
  ].join('\n');
}

/** Local clock time, so that noon is at the same place also on days of 23 or 25 hours. */
const hourOf = (atMs: number, zone: string): number => {
  const [hour, minute] = clockOf(atMs, zone).split(':').map(Number) as [number, number];
  return hour + minute / 60;
};

function feedMark(feed: DayFeed, basePx: number, frame: Frame, zone: string): string {
  const { palette, leftPx, rightPx, rowPx, topMl } = frame;
  const x = round(leftPx + ((rightPx - leftPx) * hourOf(feed.atMs, zone)) / 24);
  if (feed.kind === 'breast') return shapeAt('breast', x, basePx - 6, palette);
  if (feed.kind === 'refused' || feed.takenMl === null) return shapeAt('refused', x, basePx - 6, palette);
  const heightPx = round(((rowPx - 26) * feed.takenMl) / topMl);
  const y = round(basePx - heightPx);
  const stem = `<path d="M${x} ${basePx}V${y}" stroke="${palette.ink}" stroke-width="4"/>`;
  return `${stem}${shapeAt(isFast(feed) ? 'fast' : 'bottle', x, y, palette)}`;
}

/** Mean flow of the whole feed above this counts as fast, mL/min: the pouring rate of the pace profile. */
const FAST_ML_PER_MIN = 14;
const SHORTEST_SEC = 60;

/** Whether a bottle was fast as a whole, also without a curve. */
export const isFast = ({ kind, takenMl, durationSec }: DayFeed): boolean =>
  kind === 'bottle' &&
  takenMl !== null &&
  durationSec !== null &&
  durationSec >= SHORTEST_SEC &&
  takenMl / (durationSec / 60) > FAST_ML_PER_MIN;

type Shape = 'bottle' | 'fast' | 'breast' | 'refused';

function shapeAt(shape: Shape, x: number, y: number, { ink, hue }: Palette): string {
  const paint = (fill: string) => `fill="${fill}" stroke="${ink}" stroke-width="1.3"`;
  switch (shape) {
    case 'fast':
      return `<path d="M${x - 7} ${y - 6}h14l-7 11z" ${paint(hue)}/>`;
    case 'breast':
      return `<path d="M${x} ${y - 6}l5 6l-5 6l-5 -6z" ${paint('none')}/>`;
    case 'refused':
      return `<circle cx="${x}" cy="${y}" r="4.5" ${paint('none')}/><path d="M${x - 4} ${y + 4}l8 -8" stroke="${ink}"/>`;
    case 'bottle':
      return `<circle cx="${x}" cy="${y}" r="4.5" ${paint(ink)}/>`;
  }
}

/** The legend of shapes, in as many lines as needed. */
function legendOf(
  { palette }: Frame,
  words: DaysPictureWords,
  topPx: number,
  widthPx: number,
): { svg: string; heightPx: number } {
  const entries: [Shape, string][] = [
    ['bottle', words.bottle],
    ['fast', words.fast],
    ['breast', words.breast],
    ['refused', words.refused],
  ];
  let x = 10;
  let y = topPx;
  const parts: string[] = [];
  for (const [shape, text] of entries) {
    const wide = 22 + text.length * FONT_PX * 0.52;
    if (x > 10 && x + wide > widthPx - 4) {
      x = 10;
      y += 20;
    }
    parts.push(shapeAt(shape, x, y - 4, palette), textAt(x + 11, y, text, palette.ink));
    x += wide;
  }
  return { svg: parts.join('\n'), heightPx: y - topPx + 6 };
}

const textAt = (x: number, y: number, text: string, fill: string, anchor = 'start'): string =>
  `<text x="${round(x)}" y="${round(y)}" fill="${fill}"${anchor === 'start' ? '' : ` text-anchor="${anchor}"`}>${escapeHtml(text)}</text>`;

const round = (px: number): number => Math.round(px * 10) / 10;
