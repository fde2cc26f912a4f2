/** The day sheet that comes back: every offer with time, milk, how much, initials; with or without a sleeve. Empty lines to write on. */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { MILK_KINDS } from '../../planning/milk/milk.ts';
import { dateText, rangeText, restText } from './texts.ts';
import { PRINTED_LANGUAGES, PRINTED_WORDS, type PrintedLanguage, type PrintedWords } from './words.ts';

const ml = z.number().nonnegative().max(1000);

const daySheetSchema = z.strictObject({
  language: z.enum(PRINTED_LANGUAGES),
  babyName: z.string().trim().min(1).max(40),
  day: z.iso.date().nullable().default(null),
  /** Number of lines, filled ones included. */
  lines: z.number().int().min(4).max(12).default(8),
  /** Feeds already known. */
  feeds: z
    .array(
      z.strictObject({
        /** "14:05", local time of the baby. */
        time: z.string().max(8),
        kind: z.enum(['bottle', 'breast', 'refused']).default('bottle'),
        isByHand: z.boolean().default(false),
        milkKind: z.enum(MILK_KINDS).nullable(),
        /** Null: not known; the cell is left empty. */
        offeredMl: ml.nullable(),
        leftOverMl: ml.nullable(),
        takenMl: ml.nullable(),
        minutes: z.number().nonnegative().max(600).nullable(),
        note: z.string().trim().max(2000).default(''),
        initials: z.string().trim().max(20).default(''),
      }),
    )
    .max(200)
    .default([]),
});

export type DaySheetInput = z.input<typeof daySheetSchema>;

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
export const COLUMN_SHARES = [0.1, 0.08, 0.14, 0.14, 0.14, 0.09, 0.21, 0.1] as const;

/** Most rows that fit on a sheet. */
const MOST_ROWS = 14;
/** If more than this was taken beyond the offered amount, the offered amount is wrong, mL. Own choice, no source. */
const OFFERED_WRONG_ML = 10;

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
  // The latest feeds of a long day; the number of earlier ones is printed.
  const filled = feeds.slice(-MOST_ROWS).map((feed) => cellsOf(feed, words));
  const more = feeds.length - filled.length;
  const empty = sheet.columns.map(() => '');
  return {
    language,
    title: sheet.title,
    baby: `${sheet.baby}: ${babyName}`,
    dayLabel: `${sheet.day}:`,
    day: day === null ? '' : dateText(day, language),
    columns: sheet.columns,
    rows: Array.from({ length: Math.max(lines, filled.length) }, (_, i) => filled[i] ?? [...empty]),
    notes: more > 0 ? [sheet.earlier(more), ...sheet.notes] : sheet.notes,
    remarks: sheet.remarks,
    signature: sheet.signature,
  };
}

function cellsOf(feed: Filled, { sheet, flOz }: PrintedWords): string[] {
  const size = (amountMl: number | null): string =>
    amountMl === null ? '' : rangeText(amountMl, amountMl, flOz);
  const { offeredMl, leftOverMl, takenMl } = withinOffered(feed);
  const remarks = [
    feed.kind === 'bottle' ? '' : sheet.kinds[feed.kind],
    feed.isByHand ? '' : sheet.withSleeve,
    feed.note,
  ];
  return [
    feed.time,
    feed.milkKind === null ? '' : sheet.milk[feed.milkKind],
    size(offeredMl),
    isRest(feed) ? restText(offeredMl!, takenMl!, flOz) : size(leftOverMl),
    size(takenMl),
    feed.minutes === null ? '' : String(Math.round(feed.minutes)),
    remarks.filter((part) => part !== '').join(' · '),
    feed.initials,
  ];
}

type Filled = z.output<typeof daySheetSchema>['feeds'][number];

/** True if offered, taken and left-over milk add up: nothing was spilt, and the bottle's marks were not read. */
function isRest(feed: Filled): boolean {
  const { offeredMl, leftOverMl, takenMl } = withinOffered(feed);
  return (
    offeredMl !== null &&
    leftOverMl !== null &&
    takenMl !== null &&
    Math.abs(offeredMl - takenMl - leftOverMl) < 1
  );
}

/** Limits taken and left-over milk to the offered amount, since rounding and weighing have small errors. */
function withinOffered({ offeredMl, leftOverMl, takenMl }: Filled) {
  if (offeredMl === null) return { offeredMl, leftOverMl, takenMl };
  if ((takenMl ?? 0) > offeredMl + OFFERED_WRONG_ML) return { offeredMl: null, leftOverMl: null, takenMl };
  const atMost = (amountMl: number | null) => (amountMl === null ? null : Math.min(amountMl, offeredMl));
  return { offeredMl, leftOverMl: atMost(leftOverMl), takenMl: atMost(takenMl) };
}
