/** The certificate as a PDF: the same rows as the page, set on letter paper. */
import PDFDocument from 'pdfkit';
import type { Certificate, CertificateTable } from '../../calibration/walk/certificate.ts';
import { graphFontFiles } from '../../review/graph/render.ts';
import { wholePdf } from '../whole-pdf.ts';

const MARGIN = 54;
const INK = '#1d2a2f';
const MUTED = '#4a5a60';
const LINE = '#d5dde0';
const AMBER = '#b45309';
const BODY = 9.5;

type Pdf = PDFKit.PDFDocument;

/** @returns the bytes of the document */
export function certificatePdf(certificate: Certificate): Promise<Buffer> {
  const [regular, semibold] = graphFontFiles();
  const pdf = new PDFDocument({
    size: 'LETTER',
    margin: MARGIN,
    font: regular,
    bufferPages: true,
    lang: 'en-US',
    displayTitle: true,
    info: { Title: `${certificate.title}: ${certificate.subtitle}` },
  });
  pdf.registerFont('regular', regular).registerFont('semibold', semibold);
  const done = wholePdf(pdf);
  pdf.font('semibold').fontSize(20).fillColor(INK).text(certificate.title);
  pdf.font('regular').fontSize(11).fillColor(MUTED).text(certificate.subtitle).moveDown(0.6);
  drawCaution(pdf, certificate.caution);
  drawFacts(pdf, certificate.facts);
  for (const table of certificate.tables) drawTable(pdf, table);
  roomFor(pdf, 80);
  pdf.moveDown(0.8).font('semibold').fontSize(11).fillColor(INK).text('About these figures', MARGIN);
  for (const text of certificate.closing) {
    roomFor(pdf, 30);
    pdf
      .font('regular')
      .fontSize(BODY)
      .fillColor(INK)
      .text(text, MARGIN, pdf.y, { width: widthOf(pdf) })
      .moveDown(0.3);
  }
  footPages(pdf, certificate.foot);
  pdf.end();
  return done;
}

const widthOf = (pdf: Pdf): number => pdf.page.width - 2 * MARGIN;

function roomFor(pdf: Pdf, height: number): void {
  if (pdf.y + height > pdf.page.height - MARGIN - 14) pdf.addPage();
}

function drawCaution(pdf: Pdf, text: string): void {
  const top = pdf.y;
  pdf
    .font('regular')
    .fontSize(10)
    .fillColor(INK)
    .text(text, MARGIN + 10, top, { width: widthOf(pdf) - 10 });
  pdf.rect(MARGIN, top, 3, pdf.y - top).fill(AMBER);
  pdf.moveDown(0.8);
}

function drawFacts(pdf: Pdf, facts: Certificate['facts']): void {
  for (const [name, text] of facts) {
    const top = pdf.y;
    pdf.font('regular').fontSize(BODY).fillColor(MUTED).text(name, MARGIN, top, { width: 110 });
    pdf.fillColor(INK).text(text, MARGIN + 115, top, { width: widthOf(pdf) - 115 });
    pdf.y += 2;
  }
}

/** The first column gets the remaining width. */
function columnsOf(pdf: Pdf, { heads, rows }: CertificateTable): number[] {
  pdf.font('semibold').fontSize(BODY);
  const wanted = heads.map((head, i) =>
    Math.max(pdf.widthOfString(head), ...rows.map((row) => pdf.widthOfString(row[i] ?? ''))),
  );
  const others = wanted.slice(1).map((width) => Math.min(width + 12, 130));
  return [widthOf(pdf) - others.reduce((sum, width) => sum + width, 0), ...others];
}

function drawTable(pdf: Pdf, table: CertificateTable): void {
  const columns = columnsOf(pdf, table);
  const heights = table.rows.map((row) => rowHeight(pdf, row, columns, 'regular') + 4);
  // A short table is not split between pages.
  const whole = 60 + heights.reduce((sum, height) => sum + height, 0);
  roomFor(pdf, table.rows.length <= 8 ? whole : 70);
  pdf.y += 10;
  pdf
    .font('semibold')
    .fontSize(11)
    .fillColor(INK)
    .text(table.title, MARGIN, pdf.y, { width: widthOf(pdf) });
  pdf.y += 2;
  drawRow(pdf, table, table.heads, columns, 'semibold');
  for (const row of table.rows) drawRow(pdf, table, row, columns, 'regular');
  if (!table.note) return;
  pdf.y += 3;
  pdf
    .font('regular')
    .fontSize(8.5)
    .fillColor(MUTED)
    .text(table.note, MARGIN, pdf.y, { width: widthOf(pdf) });
}

function rowHeight(pdf: Pdf, row: string[], columns: number[], font: string): number {
  pdf.font(font).fontSize(BODY);
  return Math.max(...row.map((text, i) => pdf.heightOfString(text, { width: columns[i]! - 8 })));
}

function drawRow(pdf: Pdf, table: CertificateTable, row: string[], columns: number[], font: string): void {
  const height = rowHeight(pdf, row, columns, font);
  pdf.fillColor(INK);
  roomFor(pdf, height + 4);
  const top = pdf.y + 2;
  let left = MARGIN;
  row.forEach((text, i) => {
    const right = i >= table.rightFrom;
    const options = { width: columns[i]! - 8, align: right ? 'right' : 'left' } as const;
    pdf.text(text, left + (right ? 8 : 0), top, options);
    left += columns[i]!;
  });
  pdf.y = top + height + 2;
  pdf
    .moveTo(MARGIN, pdf.y)
    .lineTo(MARGIN + widthOf(pdf), pdf.y)
    .lineWidth(0.5)
    .strokeColor(LINE)
    .stroke();
}

function footPages(pdf: Pdf, foot: string): void {
  const { count } = pdf.bufferedPageRange();
  for (let page = 0; page < count; page++) {
    pdf.switchToPage(page);
    // Below the margin pdfkit would start a new page.
    pdf.page.margins.bottom = 0;
    pdf.font('regular').fontSize(8).fillColor(MUTED);
    pdf.text(foot, MARGIN, pdf.page.height - MARGIN + 12, { width: widthOf(pdf) - 80, lineBreak: false });
    pdf.text(`Page ${page + 1} of ${count}`, MARGIN, pdf.page.height - MARGIN + 12, {
      width: widthOf(pdf),
      align: 'right',
    });
  }
}
