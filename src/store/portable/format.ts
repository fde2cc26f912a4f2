/** The records of an export, one JSON object a line; FORMAT.md beside this file says what each field means. */
import { z } from 'zod';
import { OLDEST_YEARS } from '../../base/setup-checks.ts';
import {
  correctionSchema,
  handFeedCorrectionSchema,
  handFeedSchema,
  LATEST_MS,
  label,
  milkEventSchema,
  nullableName,
  recordedInstant,
  setupSchema,
} from '../checks.ts';
import { babySchema } from '../database/babies.ts';
import { isSafeFeedId } from '../database/feed-id.ts';

export const EXPORT_FORMAT = 'ebbline-export';
/** 3: steps after a feed are included. 2: a feed without a baby's id has no owner until a person decides; in version 1 the name alone decided. */
export const EXPORT_VERSION = 3;
/** The file of records inside the folder of an export. */
export const RECORDS_FILE = 'ebbline.jsonl';

/** Measured volumes may be slightly negative; below this it is not an error of weighing. */
const LEAST_MEASURED_ML = -20;
const MOST_MEASURED_ML = 5000;

const id = z.string('must be text').refine(isSafeFeedId, 'must be small letters, digits and hyphens');
const number = z.number('must be a number');
const measuredMl = number
  .min(LEAST_MEASURED_ML, 'is negative milk')
  .max(MOST_MEASURED_ML, `must be at most ${MOST_MEASURED_ML} mL`);
const seconds = number.nonnegative('must not be less than 0').max(7 * 24 * 3600, 'must be at most a week');
const numbers = z.array(number);
const numbersOrNull = z.array(number.nullable());
const booleans = z.array(z.boolean('must be true or false'));

const columns = <S extends z.ZodRawShape>(shape: S) =>
  z
    .strictObject(shape)
    .refine(
      (table) => new Set(Object.values(table).map((column) => (column as unknown[]).length)).size === 1,
      'columns are not of equal length',
    );

const rowsSchema = columns({
  atSec: numbers,
  milkMl: numbersOrNull,
  flowMlPerMin: numbersOrNull,
  intakeMl: numbers,
  teatInMouth: booleans,
  tiltDeg: numbers,
});

/** Data, or in old feeds an English sentence. */
const reasonSchema = z.union([
  z.string(),
  z.strictObject({ rule: label, numbers: z.record(label, number.nullable()) }),
]);

const eventsSchema = z.array(z.looseObject({ kind: label, atSec: number }));

/** Columns added in later versions are passed through. */
const refinedSchema = z.looseObject({
  atSec: numbers,
  milkMl: numbersOrNull,
  flowMlPerMin: numbersOrNull,
  flowSdMlPerMin: numbersOrNull.optional(),
  intakeMl: numbers,
  milkSdMl: numbersOrNull,
  quality: z.array(z.enum(['good', 'degraded', 'invalid'])).optional(),
  teatInMouth: booleans,
  totals: z.strictObject({ intakeMl: measuredMl, spiltMl: measuredMl, addedMl: measuredMl }),
  suckAtSec: numbers,
  events: eventsSchema,
});

const signed = <S extends z.ZodType>(correction: S) =>
  z.array(z.strictObject({ madeAtMs: recordedInstant, by: nullableName, correction }));

/**
 * Whether the birth date is possible for the feed: not after it, and not more years before it than may be entered. If not, a digit is wrong, or the
 * clock that labelled the feed; the feed is valid all the same.
 */
export function isPossibleAge({ startedAtMs, setup }: Pick<FeedExport, 'startedAtMs' | 'setup'>): boolean {
  if (!setup.babyBirthDate) return true;
  const ageDays = (startedAtMs - Date.parse(`${setup.babyBirthDate}T00:00:00Z`)) / (24 * 3600_000);
  return ageDays >= -1 && ageDays < (OLDEST_YEARS + 1) * 366;
}

const grams = z.number('must be a number').positive('must be above 0').max(10, 'must be 10 at most');
const earlierSucksSchema = z.strictObject({
  levelGrams: grams,
  sdGrams: grams,
  knownShare: z.number('must be a number').min(0, 'must be 0 to 1').max(1, 'must be 0 to 1'),
});

const feedSchema = z
  .strictObject({
    record: z.literal('feed'),
    id,
    state: z.enum(['ended', 'discarded'], 'must be ended or discarded'),
    endReason: z
      .enum(['button', 'page', 'teat-away', 'link-ended'], 'must be button, page, teat-away or link-ended')
      .nullable(),
    simulated: z.boolean('must be true or false'),
    startedAtMs: recordedInstant,
    sampleZeroAtMs: recordedInstant,
    endedAtMs: recordedInstant.nullable(),
    sleeveId: label,
    softwareVersion: label,
    setup: setupSchema(LATEST_MS, 'any'),
    calibration: z.json(),
    /** Profile and guidance that it ran with; absent: the shipped profile alone. */
    ran: z
      .looseObject({
        profile: z.looseObject({}),
        guidance: z.looseObject({}),
        earlierSucks: earlierSucksSchema.optional(),
      })
      .optional(),
    intakeMl: measuredMl,
    spiltMl: measuredMl,
    addedMl: measuredMl,
    durationSec: seconds,
    rows: rowsSchema,
    cues: z.array(z.strictObject({ atSec: number, kind: label, because: reasonSchema })),
    /** Absent: not known which cues were shown. */
    told: z
      .array(
        z.strictObject({
          sinceSec: number,
          atSec: number,
          shown: label,
          output: z.enum(['page', 'light', 'sound'], 'must be page, light or sound'),
        }),
      )
      .optional(),
    events: eventsSchema,
    refined: refinedSchema.nullable(),
    corrections: signed(correctionSchema(LATEST_MS, 'any')),
  })
  // Older versions stored some feeds with an end before their start.
  .transform((feed) => ({
    ...feed,
    endedAtMs: feed.endedAtMs === null ? null : Math.max(feed.startedAtMs, feed.endedAtMs),
  }));

/** All times are taken as they are and are not compared with the present time. */
export const recordSchema = z.discriminatedUnion(
  'record',
  [
    feedSchema,
    z.strictObject({
      record: z.literal('hand-feed'),
      id,
      writtenAtMs: recordedInstant,
      entry: handFeedSchema(LATEST_MS),
      corrections: signed(handFeedCorrectionSchema(LATEST_MS)),
    }),
    z.strictObject({
      record: z.literal('milk'),
      no: z.int('must be a whole number').positive('must be above zero'),
      event: milkEventSchema(LATEST_MS),
    }),
    z.strictObject({ record: z.literal('baby'), baby: babySchema(LATEST_MS) }),
    z.strictObject({ record: z.literal('calibration'), sleeveId: label, calibration: z.json() }),
    z.strictObject({ record: z.literal('setting'), name: label, setting: z.json() }),
    z.strictObject({ record: z.literal('end'), records: z.int().nonnegative() }),
  ],
  { error: 'is of a kind that is not known' },
);

export type ExportRecord = z.infer<typeof recordSchema>;
export type FeedExport = Extract<ExportRecord, { record: 'feed' }>;
export type HandFeedExport = Extract<ExportRecord, { record: 'hand-feed' }>;

export const headSchema = z.looseObject({
  format: z.literal(EXPORT_FORMAT),
  version: z.int().positive(),
});
