/** Draws one sheet of letter paper as a PDF, tagged for screen readers. */
import PDFDocument from 'pdfkit';
import { PlainError } from '../base/errors.ts';
import { graphFontFiles } from '../review/graph/render.ts';
import { wholePdf } from './whole-pdf.ts';

export type Pdf = PDFKit.PDFDocument;
export type Tag = 'P' | 'H1' | 'H2';

export const MARGIN = 36;
export const INK = '#1c1712';
export const SOFT = '#5c5247';
export const HUE = '#8a380c';
export const RULE = '#d3c8b6';
export const LINE = '#a3998a';

export interface Place {
  x: number;
  y: number;
  width: number;
}
export interface Style {
  size: number;
  font?: 'regular' | 'semibold';
  color?: string;
}
/** Writes a paragraph, or only measures it. @returns y below it */
export type Write = (text: string, place: Place, style: Style, tag?: Tag) => number;
/** Lines and backgrounds, which screen readers skip. */
export type Shape = (draw: (pdf: Pdf) => void) => void;

export interface Pen {
  pdf: Pdf;
  write: Write;
  measure: Write;
  shape: Shape;
  /** @returns the bytes of the document */
  finish: () => Promise<Buffer>;
}

/** @param texts all that will be written: @throws PlainError when the font lacks letters for them */
export function openPen(title: string, language: string, texts: readonly string[]): Pen {
  const [regular, semibold] = graphFontFiles();
  const pdf = new PDFDocument({
    size: 'LETTER',
    margin: MARGIN,
    font: regular,
    tagged: true,
    lang: language,
    displayTitle: true,
    pdfVersion: '1.7',
    info: { Title: title },
  });
  pdf.registerFont('regular', regular).registerFont('semibold', semibold);
  // One page only: drawing at the foot must not start another.
  pdf.page.margins.bottom = 0;
  const done = wholePdf(pdf);
  refuseUnknownLetters(pdf, texts);
  const measure: Write = (text, { y, width }, { size, font = 'regular' }) =>
    y + pdf.font(font).fontSize(size).heightOfString(text, { width });
  const write: Write = (text, place, style, tag = 'P') => {
    const { size, font = 'regular', color = INK } = style;
    const draw = () =>
      pdf.font(font).fontSize(size).fillColor(color).text(text, place.x, place.y, { width: place.width });
    pdf.addStructure(pdf.struct(tag, {}, draw));
    return measure(text, place, style);
  };
  const shape: Shape = (draw) => {
    pdf.markContent('Artifact', { type: 'Layout' });
    draw(pdf);
    pdf.endMarkedContent();
  };
  const finish = (): Promise<Buffer> => {
    pdf.end();
    return done;
  };
  return { pdf, write, measure, shape, finish };
}

function refuseUnknownLetters(pdf: Pdf, texts: readonly string[]): void {
  // pdfkit's types omit the fontkit font, which knows its letters.
  const { font } = (
    pdf as unknown as { _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } } }
  )._font;
  for (const text of texts) {
    const unknown = [...text].find((letter) => !font.hasGlyphForCodePoint(letter.codePointAt(0)!));
    if (unknown === undefined) continue;
    throw new PlainError(
      'letters-unknown',
      `The PDF’s type has no “${unknown}”, which stands in “${text}”.`,
      'Write it in other letters, or make the page instead: a file name that ends in .html.',
    );
  }
}
