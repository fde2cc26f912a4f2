import { escapeHtml } from './escape-html.ts';
import type { Layout, Palette } from './look.ts';
import { FONT_FAMILY, wrapText } from './look.ts';
import type { Panel } from './panel.ts';

export interface TextStyle {
  sizePx: number;
  fill: string;
  weight?: number;
  /** Lines of about the same length, for a heading. */
  balanced?: boolean;
}

/** Texts for screen readers. `id` must be unique on the page that holds it. */
export interface SheetWords {
  id: string;
  title: string;
  description: string;
}

/** Arranges texts and panels below one another in one SVG document. */
export class Sheet {
  readonly #parts: string[] = [];
  #y: number;

  constructor(
    private readonly layout: Layout,
    private readonly palette: Palette,
  ) {
    this.#y = layout.marginPx;
  }

  skip(heightPx: number): void {
    this.#y += heightPx;
  }

  write(text: string, { sizePx, fill, weight = 400, balanced = false }: TextStyle): void {
    const { widthPx, marginPx } = this.layout;
    for (const line of wrapText(text, widthPx - 2 * marginPx, sizePx, balanced)) {
      this.#y += sizePx * 1.28;
      this.#parts.push(textElement(line, { x: marginPx, y: this.#y - sizePx * 0.3, sizePx, fill, weight }));
    }
  }

  place(panel: Panel): void {
    this.#writeTitle(panel);
    this.#parts.push(
      `<g transform="translate(0,${round(this.#y)})">${drawingOf(panel.svg, this.palette.ink)}</g>`,
    );
    this.#y += panel.heightPx + (panel.isLane ? 0 : this.layout.gapPx);
  }

  /**
   * The pattern named `id` fills stretches without an estimate.
   * @param endMin right end of the time axis; with it a page can compute the time that a finger points at
   */
  finish({ id, title, description }: SheetWords, endMin: number | null = null): string {
    const { widthPx, marginPx, leftPx, rightPx } = this.layout;
    const { paper, ink } = this.palette;
    const axis = endMin === null ? '' : ` data-left="${leftPx}" data-right="${rightPx}" data-end="${endMin}"`;
    const heightPx = Math.ceil(this.#y + marginPx);
    return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${widthPx} ${heightPx}" role="img"${axis} aria-labelledby="${id}-title ${id}-desc" font-family="${FONT_FAMILY}">
<title id="${id}-title">${escapeHtml(title)}</title>
<desc id="${id}-desc">${escapeHtml(description)}</desc>
<defs><pattern id="${id}" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M-1,7L7,-1M-1,1L1,-1M5,7L7,5" stroke="${ink}" stroke-opacity="0.4" stroke-width="0.8"/></pattern></defs>
<rect width="${widthPx}" height="${heightPx}" fill="${paper}"/>
${this.#parts.join('\n')}
</svg>
`;
  }

  /** Above the panel on a phone, else in the column at its left. */
  #writeTitle({ title, unit, isLane, heightPx }: Panel): void {
    const { isCompact, marginPx: x, fontPx: sizePx, titlePx, laneHeightPx } = this.layout;
    const { ink, softInk } = this.palette;
    const weight = isLane ? 400 : 600;
    if (isCompact) {
      this.#y += titlePx;
      const softly =
        unit === '' ? '' : `<tspan font-weight="400" fill="${softInk}" dx="6">${escapeHtml(unit)}</tspan>`;
      this.#parts.push(textElement(title, { x, y: this.#y - 4, sizePx, fill: ink, weight }, softly));
      return;
    }
    const y = this.#y + (isLane ? Math.min(heightPx, laneHeightPx) / 2 + sizePx * 0.34 : sizePx + 2);
    this.#parts.push(textElement(title, { x, y, sizePx, fill: ink, weight }));
    if (unit !== '')
      this.#parts.push(textElement(unit, { x, y: y + sizePx * 1.3, sizePx, fill: softInk, weight: 400 }));
  }
}

/** Plot's drawing without its style sheet, which would affect the page around it, but with the defaults of its root. */
function drawingOf(svg: SVGElement, ink: string): string {
  for (const style of svg.querySelectorAll('style')) style.remove();
  return `<g text-anchor="middle" fill="${ink}">${svg.innerHTML}</g>`;
}

interface TextPlace extends TextStyle {
  x: number;
  y: number;
}

function textElement(text: string, { x, y, sizePx, fill, weight }: TextPlace, after = ''): string {
  return `<text x="${round(x)}" y="${round(y)}" font-size="${sizePx}" font-weight="${weight}" fill="${fill}">${escapeHtml(text)}${after}</text>`;
}

const round = (px: number): number => Math.round(px * 100) / 100;
