/**
 * Labels for child, bottle and sleeve, many on a sheet. Pure: positions in mm.
 *
 * Each label carries its code twice, at its two ends, and in letters between them. Level H of ISO/IEC 18004 corrects about 30 % of a code's own blocks
 * (from memory), but a stain as large as a fifth of the label covers more than that of one code; wherever it is, it never reaches both, which
 * are 26 mm apart. On a round bottle the two face two sides. Modules of 0.75 mm are twice the minimum of hand scanners of the trade
 * (0.25 to 0.4 mm; common practice, no source), so that print may swell and fade.
 */

import { encode } from 'uqr';
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { codeForPeople } from '../../ward/labels/code.ts';
import { LABEL_KINDS } from '../../ward/labels/label.ts';
import { LABEL_WORDS } from './label-words.ts';

export const PAPERS = {
  letter: { widthMm: 215.9, heightMm: 279.4 },
  a4: { widthMm: 210, heightMm: 297 },
} as const;
export type PaperName = keyof typeof PAPERS;

export const LABEL_MM = { width: 64, height: 28 } as const;
export const MODULE_MM = 0.75;
/** Quiet zone around a code, modules (ISO/IEC 18004 asks for 4; from memory). */
export const QUIET_MODULES = 4;
/** Level of error correction: the highest there is. Ten letters fit in the smallest code at it, 21 by 21. */
export const LEVEL = 'H';
const COLUMNS = 3;

const labelSheetSchema = z.strictObject({
  language: z.enum(['en', 'es']),
  paper: z.enum(['letter', 'a4']),
  labels: z
    .array(
      z.strictObject({
        code: z.string().regex(/^[0-9A-Z]{10}$/),
        kind: z.enum(LABEL_KINDS),
        /** Beside the code, for people: a cot, a sleeve's number; a name only if it was asked for. */
        caption: z.string().trim().max(14),
      }),
    )
    .min(1)
    .max(240),
});
export type LabelSheetInput = z.input<typeof labelSheetSchema>;

export interface PlacedLabel {
  page: number;
  xMm: number;
  yMm: number;
  code: string;
  kindText: string;
  caption: string;
  codeText: string;
}

export interface LabelSheet {
  language: 'en' | 'es';
  title: string;
  paper: PaperName;
  pages: number;
  labels: PlacedLabel[];
  /** At the foot of each sheet: what to print on. */
  note: string;
}

/** @throws PlainError labels-invalid */
export function labelSheet(data: unknown): LabelSheet {
  const parsed = labelSheetSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new PlainError(
      'labels-invalid',
      `The sheet of labels, ${issue!.path.join('.') || 'the whole'}: ${issue!.message}.`,
      'Correct it and try again; nothing was written.',
    );
  }
  const { language, paper, labels } = parsed.data;
  const words = LABEL_WORDS[language];
  const { widthMm, heightMm } = PAPERS[paper];
  const rows = Math.floor((heightMm - 2 * LEAST_MARGIN_MM - NOTE_MM) / LABEL_MM.height);
  const leftMm = (widthMm - COLUMNS * LABEL_MM.width) / 2;
  const onPage = COLUMNS * rows;
  return {
    language,
    title: words.title,
    paper,
    pages: Math.ceil(labels.length / onPage),
    labels: labels.map(({ code, kind, caption }, i) => ({
      page: Math.floor(i / onPage),
      xMm: leftMm + (i % COLUMNS) * LABEL_MM.width,
      yMm: LEAST_MARGIN_MM + Math.floor((i % onPage) / COLUMNS) * LABEL_MM.height,
      code,
      kindText: words.kinds[kind],
      caption,
      codeText: codeForPeople(code),
    })),
    note: words.note,
  };
}

/** Margin that printers cannot print on. */
const LEAST_MARGIN_MM = 8;
const NOTE_MM = 16;

export interface CodeModules {
  /** Modules along a side, without the quiet zone. */
  size: number;
  isDark: (x: number, y: number) => boolean;
}

/** The code as modules, at the level above. */
export function codeModules(code: string): CodeModules {
  const { data, size } = encode(code, { border: 0, ecc: LEVEL });
  return { size, isDark: (x, y) => data[y]?.[x] ?? false };
}

/** Where the two codes of a label lie, mm from the label's corner; the quiet zone is inside the label. */
export function codePlaces(size: number): { xMm: number; yMm: number; sideMm: number }[] {
  const sideMm = size * MODULE_MM;
  const yMm = (LABEL_MM.height - sideMm) / 2;
  const quietMm = QUIET_MODULES * MODULE_MM;
  return [
    { xMm: quietMm, yMm, sideMm },
    { xMm: LABEL_MM.width - quietMm - sideMm, yMm, sideMm },
  ];
}
