/** A PDF document as it comes out of the pen, in one piece. */

/** To be called before anything is drawn; resolves after `pdf.end()`. */
export function wholePdf(pdf: PDFKit.PDFDocument): Promise<Buffer> {
  const parts: Buffer[] = [];
  return new Promise((resolve, reject) => {
    pdf.on('data', (part: Buffer) => parts.push(part));
    pdf.on('end', () => resolve(Buffer.concat(parts)));
    pdf.on('error', reject);
  });
}
