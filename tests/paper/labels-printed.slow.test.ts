/** The PDF itself, drawn by another program (pdftoppm of Poppler) at what a plain laser prints, read by another (jsqr). */
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { LABEL_MM, labelSheet } from '../../src/paper/labels/label-sheet.ts';
import { labelSheetPdf } from '../../src/paper/labels/label-sheet-pdf.ts';
import { newCode } from '../../src/ward/labels/code.ts';
import { half, readQr } from '../support/label-picture.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const hasPoppler = spawnSync('pdftoppm', ['-v']).error === undefined;
const DPI = 300;

describe.skipIf(!hasPoppler)(
  `labels as printed${hasPoppler ? '' : ' (skipped: there is no pdftoppm)'}`,
  () => {
    it('are read at both ends, each in its place', async () => {
      const random = new Random(1, 'printed');
      const labels = Array.from({ length: 24 }, (_, i) => ({
        code: newCode((below) => random.integer([0, below - 1])),
        kind: (['child', 'bottle', 'sleeve'] as const)[i % 3]!,
        caption: i % 2 ? `Cot ${i}` : '',
      }));
      const sheet = labelSheet({ language: 'en', paper: 'letter', labels });
      const folder = temporaryFolder();
      writeFileSync(join(folder, 'labels.pdf'), await labelSheetPdf(sheet));
      execFileSync('pdftoppm', [
        '-gray',
        '-r',
        String(DPI),
        join(folder, 'labels.pdf'),
        join(folder, 'page'),
      ]);
      const page = grayPage(readFileSync(join(folder, 'page-1.pgm')));
      const px = (mm: number): number => Math.round((mm / 25.4) * DPI);
      for (const { xMm, yMm, code } of sheet.labels) {
        const label = cut(page, px(xMm), px(yMm), px(LABEL_MM.width), px(LABEL_MM.height));
        expect([readQr(half(label, 'left')), readQr(half(label, 'right'))]).toEqual([code, code]);
      }
    });
  },
);

/** Portable graymap, binary (netpbm's pgm). */
function grayPage(bytes: Buffer): { width: number; gray: Buffer } {
  const [, width] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))!;
  const head = /^P5\s+\d+\s+\d+\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))![0].length;
  return { width: Number(width), gray: bytes.subarray(head) };
}

function cut(page: { width: number; gray: Buffer }, x: number, y: number, width: number, height: number) {
  const rgba = new Uint8ClampedArray(width * height * 4);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const gray = page.gray[(y + row) * page.width + x + column]!;
      rgba.set([gray, gray, gray, 255], (row * width + column) * 4);
    }
  return { width, height, rgba };
}
