/** A sheet of labels as PDF, tagged for screen readers. */
import PDFDocument from 'pdfkit';
import { graphFontFiles } from '../../review/graph/render.ts';
import { INK, LINE, type Pdf, SOFT } from '../pen.ts';
import { wholePdf } from '../whole-pdf.ts';
import {
  type CodeModules,
  codeModules,
  codePlaces,
  LABEL_MM,
  type LabelSheet,
  MODULE_MM,
  PAPERS,
  type PlacedLabel,
  QUIET_MODULES,
} from './label-sheet.ts';

const PT_PER_MM = 72 / 25.4;
const pt = (mm: number): number => mm * PT_PER_MM;

/** @returns the bytes of the document */
export async function labelSheetPdf(sheet: LabelSheet): Promise<Buffer> {
  const [regular, semibold] = graphFontFiles();
  const { widthMm, heightMm } = PAPERS[sheet.paper];
  const pdf = new PDFDocument({
    size: [pt(widthMm), pt(heightMm)],
    margin: 0,
    font: regular,
    tagged: true,
    lang: sheet.language,
    displayTitle: true,
    pdfVersion: '1.7',
    info: { Title: sheet.title },
  });
  pdf.registerFont('regular', regular).registerFont('semibold', semibold);
  const done = wholePdf(pdf);
  for (let page = 0; page < sheet.pages; page++) {
    if (page > 0) pdf.addPage();
    pdf.page.margins.bottom = 0;
    for (const label of sheet.labels.filter((one) => one.page === page)) drawLabel(pdf, label);
    const noteTopMm = heightMm - 22;
    text(pdf, sheet.note, { xMm: 10, yMm: noteTopMm, widthMm: widthMm - 20 }, 7, 'regular', SOFT);
  }
  pdf.end();
  return done;
}

interface TextPlace {
  xMm: number;
  yMm: number;
  widthMm: number;
}

function text(
  pdf: Pdf,
  words: string,
  { xMm, yMm, widthMm }: TextPlace,
  size: number,
  font: 'regular' | 'semibold',
  color = INK,
  align: 'left' | 'center' = 'left',
): void {
  const draw = () =>
    pdf
      .font(font)
      .fontSize(size)
      .fillColor(color)
      .text(words, pt(xMm), pt(yMm), {
        width: pt(widthMm),
        align,
      });
  pdf.addStructure(pdf.struct('P', {}, draw));
}

function drawLabel(pdf: Pdf, { xMm, yMm, code, kindText, caption, codeText }: PlacedLabel): void {
  const modules = codeModules(code);
  const places = codePlaces(modules.size);
  pdf.markContent('Artifact', { type: 'Layout' });
  // Cutting lines.
  pdf
    .rect(pt(xMm), pt(yMm), pt(LABEL_MM.width), pt(LABEL_MM.height))
    .lineWidth(0.4)
    .dash(2, { space: 2 })
    .stroke(LINE)
    .undash();
  for (const place of places) drawCode(pdf, modules, xMm + place.xMm, yMm + place.yMm);
  pdf.endMarkedContent();
  const between = places[0]!.xMm + places[0]!.sideMm + QUIET_MODULES * MODULE_MM;
  const widthMm = LABEL_MM.width - 2 * between;
  const lines: [string, number, 'regular' | 'semibold', number][] = [
    [kindText, 12, 'semibold', 5],
    [caption, 8, 'semibold', 11],
    [codeText.slice(0, 5), 11, 'regular', 17],
    [codeText.slice(6), 11, 'regular', 21.5],
  ];
  for (const [words, size, font, downMm] of lines)
    if (words !== '')
      text(pdf, words, { xMm: xMm + between, yMm: yMm + downMm, widthMm }, size, font, INK, 'center');
}

/** Adjacent dark modules are drawn as one bar, so that no gap is visible between them. */
function drawCode(pdf: Pdf, { size, isDark }: CodeModules, xMm: number, yMm: number): void {
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++) {
      if (!isDark(x, y) || isDark(x - 1, y)) continue;
      let run = 1;
      while (isDark(x + run, y)) run += 1;
      pdf.rect(pt(xMm + x * MODULE_MM), pt(yMm + y * MODULE_MM), pt(run * MODULE_MM), pt(MODULE_MM));
    }
  pdf.fill('#000000');
}
