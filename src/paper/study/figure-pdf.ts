/** One drawing as a PDF of its own size, as vector graphics, with a description for screen readers. */
import PDFDocument from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import { graphFontFiles } from '../../review/graph/render.ts';
import { forPaper } from '../for-paper.ts';
import { wholePdf } from '../whole-pdf.ts';

/** Fixed, so that the same drawing gives the same bytes. */
const MADE_AT = new Date(0);

/** @param svg a drawing of ours @param language of its words, BCP 47 @returns the bytes of the PDF */
export function figurePdf(
  svg: string,
  { title, alt, language }: { title: string; alt: string; language: string },
): Promise<Buffer> {
  const [regular, semibold] = graphFontFiles();
  const [width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg)!.slice(1).map(Number) as [number, number];
  const pdf = new PDFDocument({
    size: [width, height],
    margin: 0,
    font: regular,
    tagged: true,
    lang: language,
    displayTitle: true,
    pdfVersion: '1.7',
    info: { Title: title, CreationDate: MADE_AT, ModDate: MADE_AT },
  });
  pdf.registerFont('regular', regular).registerFont('semibold', semibold);
  const done = wholePdf(pdf);
  const root = pdf.struct('Document');
  pdf.addStructure(root);
  root.add(
    pdf.struct('Figure', { alt }, () =>
      svgToPdf(pdf, forPaper(svg), 0, 0, {
        width,
        height,
        assumePt: true,
        fontCallback: (_family, isBold) => (isBold ? 'semibold' : 'regular'),
      }),
    ),
  );
  root.end();
  pdf.end();
  return done;
}
