/** One feed on one sheet of letter paper, tagged for screen readers: the graph is a figure with its own description. */
import PDFDocument from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import { PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { feedGraphSvg } from '../../review/graph/feed-graph.ts';
import { graphFontFiles } from '../../review/graph/render.ts';
import { type ToldFeed, tellFeed } from '../../review/telling/telling.ts';
import { REVIEW_WORDS } from '../../review/telling/words.ts';
import { forPaper } from '../for-paper.ts';
import { wholePdf } from '../whole-pdf.ts';
import { cueLine, type FileOptions } from './feed-file.ts';

const MARGIN_PT = 40;
const GRAPH_PX = 760;
const INK = '#1c1712';
const SOFT = '#5e564c';
const HUE = '#a8481a';
/** Least height of the graph; it shrinks to this before texts are cut. */
const LEAST_GRAPH_PT = 300;
const COLUMNS = 2;
const MOST_CUES = 15;

interface Line {
  tag: 'P' | 'H1' | 'H2';
  text: string;
  sizePt: number;
  color?: string;
  isBold?: boolean;
  gapPt?: number;
}

/** @returns the bytes of a PDF @throws PlainError when the font lacks letters of the note or of a name */
export async function feedPdf(feed: KeptFeed, options: FileOptions): Promise<Buffer> {
  const { language = 'en', volumeUnit, timeZone } = options;
  const told = tellFeed(feed, options);
  const pdf = openPdf(told, language);
  const done = wholePdf(pdf);
  const widthPt = pdf.page.width - 2 * MARGIN_PT;
  const root = pdf.struct('Document');
  pdf.addStructure(root);
  const above = linesAbove(told, options);
  const below = linesBelow(told, language);
  for (const { text } of [...above, ...below]) refuseUnknownLetters(pdf, text);

  const write = (lines: readonly Line[], fromPt: number): number => {
    let y = fromPt;
    for (const line of lines) {
      y += line.gapPt ?? 0;
      const style = styled(pdf, line);
      root.add(pdf.struct(line.tag, {}, () => style.text(line.text, MARGIN_PT, y, { width: widthPt })));
      y += heightOf(pdf, line, widthPt);
    }
    return y;
  };
  const top = write(above, MARGIN_PT);
  const belowPt = below.reduce((sum, line) => sum + (line.gapPt ?? 0) + heightOf(pdf, line, widthPt), 0);
  const cuesPt = cuesHeight(told);
  const drawing = feedGraphSvg(feed, {
    widthPx: GRAPH_PX,
    volumeUnit,
    language,
    hasHeading: false,
    hasNotes: false,
    hasMark: false,
    ...(timeZone !== undefined && { timeZone }),
  });
  const [, heightPx] = /viewBox="0 0 \d+ (\d+)"/.exec(drawing)!.map(Number);
  const roomPt = pdf.page.height - MARGIN_PT - top - belowPt - cuesPt - 6;
  const scale = Math.min(widthPt / GRAPH_PX, Math.max(LEAST_GRAPH_PT, roomPt) / heightPx!);
  root.add(
    pdf.struct('Figure', { alt: told.description }, () =>
      svgToPdf(pdf, forPaper(drawing), MARGIN_PT, top + 2, {
        width: GRAPH_PX * scale,
        height: heightPx! * scale,
        assumePt: true,
        fontCallback: (_family, isBold) => (isBold ? 'semibold' : 'regular'),
      }),
    ),
  );
  const cuesAt = top + heightPx! * scale + 4;
  writeCues(pdf, root, told, language, cuesAt, widthPt);
  write(below, Math.min(cuesAt + cuesPt, pdf.page.height - MARGIN_PT - belowPt));
  root.end();
  pdf.end();
  return done;
}

function openPdf(told: ToldFeed, language: string): PDFKit.PDFDocument {
  const [regular, semibold] = graphFontFiles();
  const pdf = new PDFDocument({
    size: 'LETTER',
    margin: MARGIN_PT,
    font: regular,
    tagged: true,
    lang: language,
    displayTitle: true,
    pdfVersion: '1.7',
    info: { Title: `${told.sentence} ${told.when}` },
  });
  pdf.registerFont('regular', regular).registerFont('semibold', semibold);
  // One page only: text at the foot must not start another.
  pdf.page.margins.bottom = 0;
  return pdf;
}

function linesAbove(told: ToldFeed, options: FileOptions): Line[] {
  const { noteTitle } = REVIEW_WORDS[options.language ?? 'en'];
  const note = options.note ?? told.note ?? '';
  const lines: (Line | false)[] = [
    told.simulated !== null && { tag: 'P', text: told.simulated, sizePt: 10, color: HUE, isBold: true },
    { tag: 'H1', text: told.sentence, sizePt: 17, isBold: true },
    told.reading !== null && { tag: 'P', text: told.reading, sizePt: 11 },
    { tag: 'P', text: [told.when, told.names].filter(Boolean).join(' · '), sizePt: 10, color: SOFT },
    note !== '' && { tag: 'P', text: `${noteTitle}: ${note}`, sizePt: 11, gapPt: 4 },
  ];
  return lines.filter((line) => line !== false);
}

function linesBelow(told: ToldFeed, language: 'en' | 'es'): Line[] {
  const { caution } = REVIEW_WORDS[language];
  const note: Line[] = told.cuesNote ? [{ tag: 'P', text: told.cuesNote, sizePt: 8.5, gapPt: 4 }] : [];
  return [
    ...note,
    { tag: 'P', text: [...told.facts, told.ended].join(' '), sizePt: 9, gapPt: 6 },
    { tag: 'P', text: told.figures.join(' '), sizePt: 7.5, color: SOFT, gapPt: 4 },
    { tag: 'P', text: told.bandNote, sizePt: 7.5, color: SOFT, gapPt: 4 },
    { tag: 'P', text: told.provenance, sizePt: 7.5, color: SOFT, gapPt: 2 },
    { tag: 'P', text: caution, sizePt: 8, isBold: true, gapPt: 3 },
  ];
}

const CUE_LINE_PT = 11;
const CUES_HEAD_PT = 14;

function cuesHeight({ cues }: ToldFeed): number {
  const shown = Math.min(cues.length, MOST_CUES);
  return CUES_HEAD_PT + Math.max(1, Math.ceil(shown / COLUMNS)) * CUE_LINE_PT;
}

/** Down the columns, in order of time; those without space are only in the graph and its description. */
function writeCues(
  pdf: PDFKit.PDFDocument,
  root: PDFKit.PDFStructureElement,
  { cues, cuesNote }: ToldFeed,
  language: 'en' | 'es',
  topPt: number,
  widthPt: number,
): void {
  const words = REVIEW_WORDS[language];
  const head = styled(pdf, { tag: 'H2', text: '', sizePt: 10, isBold: true });
  root.add(pdf.struct('H2', {}, () => head.text(words.cuesTitle, MARGIN_PT, topPt, { width: widthPt })));
  const style: Line = { tag: 'P', text: '', sizePt: 8.5 };
  if (cues.length === 0) {
    if (cuesNote) return;
    const plain = styled(pdf, style);
    root.add(pdf.struct('P', {}, () => plain.text(words.noCues, MARGIN_PT, topPt + CUES_HEAD_PT)));
    return;
  }
  const shown = cues.slice(0, MOST_CUES);
  const perColumn = Math.ceil(shown.length / COLUMNS);
  const list = pdf.struct('L');
  root.add(list);
  shown.forEach((cue, i) => {
    const x = MARGIN_PT + Math.floor(i / perColumn) * (widthPt / COLUMNS);
    const y = topPt + CUES_HEAD_PT + (i % perColumn) * CUE_LINE_PT;
    const text = cueLine(cue, words);
    const place = { width: widthPt / COLUMNS - 6, height: CUE_LINE_PT, ellipsis: true, lineBreak: true };
    const item = pdf.struct('LI');
    list.add(item);
    item.add(pdf.struct('LBody', {}, () => styled(pdf, style).text(text, x, y, place)));
    item.end();
  });
  list.end();
}

const styled = (pdf: PDFKit.PDFDocument, { sizePt, color = INK, isBold = false }: Line): PDFKit.PDFDocument =>
  pdf
    .font(isBold ? 'semibold' : 'regular')
    .fontSize(sizePt)
    .fillColor(color);

const heightOf = (pdf: PDFKit.PDFDocument, line: Line, width: number): number =>
  styled(pdf, line).heightOfString(line.text, { width });

/** Refuses letters that the font lacks, since they would silently be left out. */
function refuseUnknownLetters(pdf: PDFKit.PDFDocument, text: string): void {
  // pdfkit's types omit the fontkit font, which knows its letters.
  const { font } = (
    pdf as unknown as { _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } } }
  )._font;
  const unknown = [...text].find(
    (letter) => letter !== '\n' && !font.hasGlyphForCodePoint(letter.codePointAt(0)!),
  );
  if (unknown === undefined) return;
  throw new PlainError(
    'letters-unknown',
    `The PDF’s type has no “${unknown}”.`,
    'Write it in other letters, or make the page instead: it ends in .html.',
  );
}
