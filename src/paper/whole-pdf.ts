/** Collects a PDF document into one buffer. */

/** Call it before drawing; resolves after `pdf.end()`. */
export function wholePdf(pdf: PDFKit.PDFDocument): Promise<Buffer> {
  const parts: Buffer[] = [];
  return new Promise((resolve, reject) => {
    pdf.on('data', (part: Buffer) => parts.push(part));
    pdf.on('end', () => resolve(Buffer.concat(parts)));
    pdf.on('error', reject);
  });
}
