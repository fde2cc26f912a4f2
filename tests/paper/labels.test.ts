/** Printed labels, read back by a QR reader that is not ours (jsqr), whole and stained. */
import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { Random } from '../../src/base/random.ts';
import {
  codeModules,
  codePlaces,
  LABEL_MM,
  labelSheet,
  MODULE_MM,
  PAPERS,
  QUIET_MODULES,
} from '../../src/paper/labels/label-sheet.ts';
import { labelSheetPdf } from '../../src/paper/labels/label-sheet-pdf.ts';
import { newCode } from '../../src/ward/labels/code.ts';
import { half, labelPicture, readEither, readQr } from '../support/label-picture.ts';

const codeOf = (seed: number): string => {
  const random = new Random(seed, 'labels');
  return newCode((below) => random.integer([0, below - 1]));
};
const round = (xMm: number, yMm: number, radiusMm: number, gray: number) => (x: number, y: number) =>
  Math.hypot(x - xMm, y - yMm) < radiusMm ? gray : null;

describe('the code on a label', () => {
  it('is the smallest QR code there is: ten letters at the highest level of error correction', () => {
    // ISO/IEC 18004, table of capacities: version 1-H holds 10 alphanumeric characters; a version 1 is 21 by 21 (from memory).
    expect(codeModules(codeOf(1)).size).toBe(21);
  });

  it('has its light around it inside the label, at both ends', () => {
    for (const { xMm, yMm, sideMm } of codePlaces(21)) {
      const quietMm = QUIET_MODULES * MODULE_MM;
      expect(xMm - quietMm).toBeGreaterThanOrEqual(0);
      expect(xMm + sideMm + quietMm).toBeLessThanOrEqual(LABEL_MM.width);
      expect(yMm - quietMm).toBeGreaterThanOrEqual(0);
      expect(yMm + sideMm + quietMm).toBeLessThanOrEqual(LABEL_MM.height);
    }
  });

  it.each([1, 2, 3, 4, 5, 6])('is read at both ends (%i)', (seed) => {
    const picture = labelPicture(codeOf(seed));
    expect([readQr(half(picture, 'left')), readQr(half(picture, 'right'))]).toEqual([
      codeOf(seed),
      codeOf(seed),
    ]);
  });

  it('is read with a fifth of the label blotted, wherever the blot lies, dark or white', () => {
    const radiusMm = Math.sqrt((0.2 * LABEL_MM.width * LABEL_MM.height) / Math.PI);
    const unread: string[] = [];
    for (const gray of [30, 255])
      for (let xMm = 0; xMm <= LABEL_MM.width; xMm += 16)
        for (let yMm = 0; yMm <= LABEL_MM.height; yMm += 14)
          if (readEither(labelPicture(codeOf(7), round(xMm, yMm, radiusMm, gray))) !== codeOf(7))
            unread.push(`${xMm}, ${yMm}, ${gray}`);
    expect(unread).toEqual([]);
  });

  it('one of the two alone is read with a spot of 5 mm on its data, which it mends', () => {
    const [left] = codePlaces(21);
    const at = [left!.xMm + 0.72 * left!.sideMm, left!.yMm + 0.6 * left!.sideMm] as const;
    const picture = labelPicture(codeOf(8), round(at[0], at[1], 2.5, 255));
    expect(readQr(half(picture, 'left'))).toBe(codeOf(8));
    expect(readQr(half(labelPicture(codeOf(8), round(at[0], at[1], 9, 255)), 'left'))).toBeNull();
  });

  it('is read with a scratch of half a millimeter across both codes', () => {
    const scratch = (xMm: number, yMm: number) => (Math.abs(yMm - 12 - xMm / 12) < 0.25 ? 255 : null);
    expect(readEither(labelPicture(codeOf(9), scratch))).toBe(codeOf(9));
  });
});

describe('a sheet of labels', () => {
  const labels = (count: number) =>
    Array.from({ length: count }, (_, i) => ({ code: codeOf(i), kind: 'bottle' as const, caption: '' }));

  it.each(['letter', 'a4'] as const)(
    'keeps all labels on %s and apart, over as many pages as are needed',
    (paper) => {
      const sheet = labelSheet({ language: 'en', paper, labels: labels(50) });
      expect(sheet.pages).toBe(Math.ceil(50 / (3 * (paper === 'a4' ? 9 : 8))));
      const seen = new Set<string>();
      for (const { page, xMm, yMm } of sheet.labels) {
        expect(xMm).toBeGreaterThanOrEqual(5);
        expect(xMm + LABEL_MM.width).toBeLessThanOrEqual(PAPERS[paper].widthMm - 5);
        expect(yMm + LABEL_MM.height).toBeLessThanOrEqual(PAPERS[paper].heightMm - 22);
        seen.add(`${page} ${xMm} ${yMm}`);
      }
      expect(seen.size).toBe(50);
    },
  );

  it('says the kind in the reader’s language, and the code in two parts to type', () => {
    const [label] = labelSheet({ language: 'es', paper: 'a4', labels: labels(1) }).labels;
    expect(label).toMatchObject({ kindText: 'Biberón', codeText: expect.stringMatching(/^\w{5}-\w{5}$/) });
  });

  it.each([
    ['no labels', { language: 'en', paper: 'a4', labels: [] }],
    ['a paper that there is none of', { language: 'en', paper: 'a9', labels: labels(1) }],
    [
      'a caption too long to stand between the codes',
      { language: 'en', paper: 'a4', labels: [{ ...labels(1)[0]!, caption: 'x'.repeat(15) }] },
    ],
  ])('is refused with %s', (_what, data) => {
    expect(() => labelSheet(data)).toThrow(PlainError);
  });

  it('is a PDF', async () => {
    const pdf = await labelSheetPdf(labelSheet({ language: 'en', paper: 'letter', labels: labels(30) }));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pdf.toString('latin1').match(/\/Type \/Page\b/g)).toHaveLength(2);
  });
});
