/** The day sheet that comes back: every offer with time, milk, how much, initials; with or without a sleeve. Empty lines to write on. */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { MILK_KINDS } from '../../planning/milk/milk.ts';
import { dateText, rangeText } from './texts.ts';
import { PRINTED_LANGUAGES, PRINTED_WORDS, type PrintedLanguage, type PrintedWords } from './words.ts';

const ml = z.number().nonnegative().max(1000);

export const daySheetSchema = z.strictObject({
  language: z.enum(PRINTED_LANGUAGES),
  babyName: z.string().trim().min(1).max(40),
  day: z.iso.date().nullable().default(null),
  /** Lines to write on, those that are filled in among them. */
  lines: z.number().int().min(4).max(12).default(8),
  /** Feeds that are known already. */
  feeds: z
    .array(
      z.strictObject({
        /** "14:05", where the baby is. */
        time: z.string().max(8),
        milkKind: z.enum(MILK_KINDS).nullable(),
        offeredMl: ml.nullable(),
        leftBottleMl: ml,
        minutes: z.number().nonnegative().max(600),
        initials: z.string().trim().max(20).default(''),
      }),
    )
    .max(12)
    .default([]),
});

export type DaySheetInput = z.input<typeof daySheetSchema>;
export type FilledFeed = z.input<typeof daySheetSchema>['feeds'] extends (infer T)[] | undefined ? T : never;

export interface DaySheet {
  language: PrintedLanguage;
  title: string;
  baby: string;
  /** The date's label, and the date; empty where it is written in by hand. */
  dayLabel: string;
  day: string;
  columns: readonly string[];
  /** One row for each line, as many cells as columns; empty cells are written on. */
  rows: string[][];
  notes: string[];
  remarks: string;
  signature: string;
}

/** Widths of the columns, shares of the page. */
export const COLUMN_SHARES = [0.09, 0.1, 0.17, 0.17, 0.1, 0.26, 0.11] as const;

/** @throws PlainError that names the field */
export function daySheet(data: unknown): DaySheet {
  const parsed = daySheetSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw new PlainError(
      'day-sheet-invalid',
      `The day sheet, ${issue!.path.join('.') || 'the whole'}: ${issue!.message}.`,
      'Correct it and try again; nothing was written.',
    );
  }
  const { language, babyName, day, lines, feeds } = parsed.data;
  const words = PRINTED_WORDS[language];
  const { sheet } = words;
  const filled = feeds.map((feed) => cellsOf(feed, words));
  const empty = sheet.columns.map(() => '');
  return {
    language,
    title: sheet.title,
    baby: `${sheet.baby}: ${babyName}`,
    dayLabel: `${sheet.day}:`,
    day: day === null ? '' : dateText(day, language),
    columns: sheet.columns,
    rows: Array.from({ length: Math.max(lines, filled.length) }, (_, i) => filled[i] ?? [...empty]),
    notes: sheet.notes,
    remarks: sheet.remarks,
    signature: sheet.signature,
  };
}

function cellsOf(
  feed: z.output<typeof daySheetSchema>['feeds'][number],
  { sheet, flOz }: PrintedWords,
): string[] {
  const size = (amountMl: number): string => rangeText(amountMl, amountMl, flOz);
  return [
    feed.time,
    feed.milkKind === null ? '' : sheet.milk[feed.milkKind],
    feed.offeredMl === null ? '' : size(feed.offeredMl),
    size(feed.leftBottleMl),
    String(Math.round(feed.minutes)),
    sheet.withSleeve,
    feed.initials,
  ];
}
