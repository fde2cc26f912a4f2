/** The day sheet as PDF: one sheet to write on. */

import { HUE, INK, LINE, MARGIN, openPen, type Pen, SOFT } from '../pen.ts';
import { COLUMN_SHARES, type DaySheet } from './day-sheet.ts';

const HEAD_HEIGHT = 38;
/** Largest height of all rows together. */
const ROWS_HEIGHT = 400;
const ROW_HEIGHT = 46;

/** @returns the bytes of the document. @throws PlainError when the font lacks a letter */
export async function daySheetPdf(sheet: DaySheet): Promise<Buffer> {
  const pen = openPen(`${sheet.title}: ${sheet.baby}`, sheet.language, [sheet.baby, ...sheet.rows.flat()]);
  const { pdf, write, shape } = pen;
  const width = pdf.page.width - 2 * MARGIN;
  let y = heading(pen, sheet, width);
  table(pen, sheet, y, width);
  y += HEAD_HEIGHT + sheet.rows.length * rowHeightOf(sheet) + 8;
  for (const note of sheet.notes) y = write(note, { x: MARGIN, y, width }, { size: 12 }) + 2;
  const boxTop = y + 6;
  const signX = MARGIN + width * 0.45;
  const signY = pdf.page.height - MARGIN - 20;
  shape((paper) => {
    paper
      .roundedRect(MARGIN, boxTop, width, signY - 42 - boxTop, 6)
      .lineWidth(0.8)
      .stroke(LINE);
    paper
      .moveTo(signX, signY)
      .lineTo(MARGIN + width, signY)
      .lineWidth(1.2)
      .stroke(INK);
  });
  const label = { size: 12, color: SOFT };
  write(sheet.remarks, { x: MARGIN + 8, y: boxTop + 4, width: width - 16 }, label);
  write(sheet.signature, { x: signX, y: signY + 2, width: width * 0.55 }, label);
  return pen.finish();
}

const rowHeightOf = ({ rows }: DaySheet): number => Math.min(ROW_HEIGHT, ROWS_HEIGHT / rows.length);

/** @returns y below it */
function heading({ write, shape }: Pen, sheet: DaySheet, width: number): number {
  const title = { x: MARGIN, y: MARGIN - 10, width: width * 0.55 };
  const below = write(sheet.title, title, { size: 28, font: 'semibold' }, 'H1');
  const aside = { x: MARGIN + width * 0.58, width: width * 0.42 };
  const dateY = write(sheet.baby, { ...aside, y: MARGIN - 8 }, { size: 15, font: 'semibold' });
  const end = write(`${sheet.dayLabel} ${sheet.day}`, { ...aside, y: dateY }, { size: 15 });
  if (sheet.day === '')
    shape((paper) => {
      paper
        .moveTo(aside.x + 52, end - 3)
        .lineTo(MARGIN + width, end - 3)
        .lineWidth(0.8)
        .stroke(INK);
    });
  const y = Math.max(below, end) + 4;
  shape((paper) => {
    paper
      .moveTo(MARGIN, y)
      .lineTo(MARGIN + width, y)
      .lineWidth(2.4)
      .stroke(HUE);
  });
  return y + 4;
}

function table({ pdf, shape }: Pen, sheet: DaySheet, top: number, width: number): void {
  const rowHeight = rowHeightOf(sheet);
  const structure = pdf.struct('Table');
  pdf.addStructure(structure);
  const row = (cells: readonly string[], y: number, height: number, tag: 'TH' | 'TD'): void => {
    const line = pdf.struct('TR');
    structure.add(line);
    let x = MARGIN;
    cells.forEach((cell, i) => {
      const cellWidth = COLUMN_SHARES[i]! * width;
      const left = x;
      line.add(
        pdf.struct(tag, {}, () => {
          pdf
            .font(tag === 'TH' ? 'semibold' : 'regular')
            .fontSize(tag === 'TH' ? 11.5 : 12)
            .fillColor(INK)
            // An amount may break between its two units, but not within one.
            .text(cell.replaceAll(/ (?=fl oz|oz|mL)|(?<=fl) (?=oz)/g, '\u00a0'), left + 4, y + 3, {
              width: cellWidth - 5,
              ...(tag === 'TD' && { height: height - 4, ellipsis: true }),
            });
        }),
      );
      x += cellWidth;
    });
    line.end();
  };
  row(sheet.columns, top, HEAD_HEIGHT, 'TH');
  const first = top + HEAD_HEIGHT;
  sheet.rows.forEach((cells, i) => {
    row(cells, first + i * rowHeight, rowHeight, 'TD');
  });
  structure.end();
  const end = first + sheet.rows.length * rowHeight;
  shape((paper) => {
    paper.lineWidth(0.8);
    for (let i = 0; i <= sheet.rows.length; i++)
      paper
        .moveTo(MARGIN, first + i * rowHeight)
        .lineTo(MARGIN + width, first + i * rowHeight)
        .stroke(LINE);
    let x = MARGIN;
    for (const share of [0, ...COLUMN_SHARES]) {
      x += share * width;
      paper.moveTo(x, first).lineTo(x, end).stroke(LINE);
    }
  });
}
