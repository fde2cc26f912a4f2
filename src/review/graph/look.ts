/** Colors and dimensions of a graph. */

export interface Palette {
  paper: string;
  ink: string;
  /** For secondary words and ticks. */
  softInk: string;
  grid: string;
  hue: string;
  /** Strength of the band's fill, 0 to 1. */
  bandOpacity: number;
}

/**
 * `light` and `dark` are complete, for a file, a print or a PNG. `inline` uses the page's text and background color;
 * set `--graph-hue`, `--graph-soft`, `--graph-grid` and `--graph-paper` there to change more.
 */
export type Theme = 'light' | 'dark' | 'inline';

export const PALETTES: Record<Theme, Palette> = {
  light: {
    paper: '#fbf8f2',
    ink: '#1c1712',
    softInk: '#5e564c',
    grid: '#ddd5c8',
    hue: '#a8481a',
    bandOpacity: 0.13,
  },
  dark: {
    paper: '#191512',
    ink: '#ece2d2',
    softInk: '#b0a696',
    grid: '#3b342d',
    hue: '#e5834a',
    bandOpacity: 0.2,
  },
  inline: {
    paper: 'var(--graph-paper, transparent)',
    ink: 'currentColor',
    softInk: 'var(--graph-soft, currentColor)',
    grid: 'var(--graph-grid, #8888)',
    hue: 'var(--graph-hue, #c05f2a)',
    bandOpacity: 0.16,
  },
};

export const FONT_FAMILY = "'Source Sans 3', 'Source Sans Pro', system-ui, 'Segoe UI', Roboto, sans-serif";

export interface Layout {
  widthPx: number;
  /** True on a phone: titles are above their panels; else in a column at the left. */
  isCompact: boolean;
  /** Left and right ends of the time axis. */
  leftPx: number;
  rightPx: number;
  marginPx: number;
  fontPx: number;
  headingPx: number;
  notePx: number;
  titlePx: number;
  intakeHeightPx: number;
  flowHeightPx: number;
  burstsHeightPx: number;
  angleHeightPx: number;
  laneHeightPx: number;
  cueInLanePx: number;
  cueOnLinePx: number;
  gapPx: number;
}

const NARROWEST_PX = 280;
const WIDEST_PX = 1600;
const COMPACT_BELOW_PX = 600;

/** @returns dimensions for a graph `widthPx` wide, kept within 280 and 1600 px */
export function layoutFor(widthPx: number): Layout {
  const width = Math.round(Math.min(Math.max(widthPx, NARROWEST_PX), WIDEST_PX));
  if (width < COMPACT_BELOW_PX) {
    return {
      widthPx: width,
      isCompact: true,
      leftPx: 50,
      rightPx: width - 48,
      marginPx: 10,
      fontPx: 12,
      headingPx: 17,
      notePx: 11.5,
      titlePx: 18,
      intakeHeightPx: 230,
      flowHeightPx: 96,
      burstsHeightPx: 60,
      angleHeightPx: 56,
      laneHeightPx: 16,
      cueInLanePx: 11,
      cueOnLinePx: 8,
      gapPx: 12,
    };
  }
  const titleColumnPx = 128;
  return {
    widthPx: width,
    isCompact: false,
    leftPx: titleColumnPx + 52,
    rightPx: width - 62,
    marginPx: 20,
    fontPx: 13,
    headingPx: 21,
    notePx: 12,
    titlePx: 0,
    intakeHeightPx: Math.round(Math.min(360, width * 0.36)),
    flowHeightPx: 112,
    burstsHeightPx: 64,
    angleHeightPx: 60,
    laneHeightPx: 24,
    cueInLanePx: 12,
    cueOnLinePx: 9,
    gapPx: 14,
  };
}

/** Mean width of a letter, as a share of its size; slightly too wide, to allow for substitute fonts. */
const LETTER_WIDTH_SHARE = 0.5;

export const letterWidthPx = (fontPx: number): number => fontPx * LETTER_WIDTH_SHARE;

/** Breaks a text into the fewest lines that fit `widthPx` at `fontPx`, and makes them about equally long if `balanced`. */
export function wrapText(text: string, widthPx: number, fontPx: number, balanced = false): string[] {
  const lettersPerLine = Math.max(12, Math.floor(widthPx / letterWidthPx(fontPx)));
  const bound = withUnitsBound(text);
  const lines = filledLines(bound, lettersPerLine);
  if (!balanced) return lines;
  const evenly = Math.ceil(text.length / lines.length);
  for (let letters = evenly; letters < lettersPerLine; letters++) {
    const even = filledLines(bound, letters);
    if (even.length === lines.length) return even;
  }
  return lines;
}

/** No line breaks between a number and its unit, or before a separating dot. */
const withUnitsBound = (text: string): string =>
  text.replaceAll('fl oz', 'fl\u00a0oz').replaceAll(/(?<=[\d¼½¾]) (?=fl|mL|min)| (?=· )/g, '\u00a0');

function filledLines(text: string, lettersPerLine: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= lettersPerLine) {
      lines[lines.length - 1] = `${line} ${word}`;
    } else lines.push(word);
  }
  return lines;
}
