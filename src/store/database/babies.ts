/** Babies' records: who they are, the answers about them, the family's choices. Feeds name them by id. */
import { z } from 'zod';
import { sameName } from '../../base/babies.ts';
import { FieldError } from '../../base/errors.ts';
import { plainIssue } from '../../base/plain-issue.ts';
import { ownJson } from '../../base/typed.ts';
import type { Baby, BabyEntry } from '../../feed/record/baby.ts';
import { FAMILY_SWITCHES, switchesBy } from '../../pacing/cues/family-switches.ts';
import { birthDate, label, type Oldest } from '../checks.ts';
import type { FeedDatabase } from './feed-database.ts';
import { isSafeFeedId, newFeedId } from './feed-id.ts';
import { replacingSql } from './replacing.ts';

const answer = z.boolean('must be answered with yes or no');
const choice = z.boolean('must be on or off');
const figure = z.number('must be a number').positive('must be more than 0');

/** The figures must also be within the pace profile's ranges; that is checked where the plan is used. */
const planSchema = z.strictObject({
  from: label,
  lasting: z.strictObject({ rateMlPerMin: figure, depthMl: figure }),
  pouring: z.strictObject({ rateMlPerMin: figure, depthMl: figure }),
  rhythm: z
    .strictObject({ sucks: figure.int('must be a whole number of sucks'), pauseSec: figure })
    .nullable(),
  enough: choice,
});

/** Values outside of these are typing errors; the same limits as for scaling a pace (src/pacing/profile/scaled-profile.ts). */
const USUAL_FEED_ML = { min: 20, max: 300 };
const BREAST_MINUTES = { min: 3, max: 60 };

/** From the lightest newborn to the heaviest one-year-old, with margin; other values are typing errors. */
const BABY_GRAMS = { min: 1000, max: 20_000 };
/** Far more than a baby takes or loses in a feed. */
const MOST_CHANGE_GRAMS = { loss: 50, gain: 400 };
const MOST_WEIGHED = 40;

const sides = z.union([z.literal(1), z.literal(2)], 'must be 1 or 2');
const grams = z
  .number('must be a number of grams')
  .min(BABY_GRAMS.min, `must be at least ${BABY_GRAMS.min} g`)
  .max(BABY_GRAMS.max, `must be at most ${BABY_GRAMS.max} g`);
const minutesAtBreast = z
  .number('must be a number of minutes')
  .min(BREAST_MINUTES.min, `must be at least ${BREAST_MINUTES.min} minutes`)
  .max(BREAST_MINUTES.max, `must be at most ${BREAST_MINUTES.max} minutes`);

const weighedFeed = (nowMs: number) =>
  z
    .strictObject({
      atMs: z.number('must be an instant').max(nowMs + 60_000, 'lies in the future'),
      minutes: minutesAtBreast,
      sides,
      beforeGrams: grams,
      afterGrams: grams,
    })
    .refine(
      ({ beforeGrams, afterGrams }) =>
        afterGrams - beforeGrams <= MOST_CHANGE_GRAMS.gain &&
        beforeGrams - afterGrams <= MOST_CHANGE_GRAMS.loss,
      'changes by more than a feed can',
    );

const entryFields = (nowMs: number, oldest: Oldest) => ({
  name: label,
  birthDate: birthDate(nowMs, oldest).nullable(),
  answers: z.strictObject({
    'born-early': answer,
    'newborn-or-slow-gain': answer,
    jaundice: answer,
    'tongue-tie': answer,
    cleft: answer,
    'heart-or-lung': answer,
    thickened: answer,
  }),
  plan: planSchema.nullable(),
  choices: z.strictObject({
    burp: z.enum(['half-ounce', 'ounce', 'two-ounces', 'half-way-and-end'], 'must be one of the four'),
    // A missing switch, as in an old file, has its default.
    ...switchesBy(({ startsOn }) => choice.default(startsOn)),
  }),
  pace: z.enum(['gentle', 'usual', 'strict'], 'must be gentle, usual or strict'),
  usualFeedMl: z
    .number('must be a number of mL')
    .min(USUAL_FEED_ML.min, `must be at least ${USUAL_FEED_ML.min} mL`)
    .max(USUAL_FEED_ML.max, `must be at most ${USUAL_FEED_ML.max} mL`)
    .nullable(),
  breastfed: choice,
  breast: z
    .strictObject({
      minutes: minutesAtBreast,
      sides,
    })
    .nullable(),
  weighed: z.array(weighedFeed(nowMs)).max(MOST_WEIGHED, `must be at most ${MOST_WEIGHED} feeds`).optional(),
});

const instant = z.number('must be an instant');

/** Schema of a stored baby, for imports. */
export const babySchema = (nowMs: number, oldest: Oldest = 'any') =>
  z.strictObject({
    ...entryFields(nowMs, oldest),
    id: label.refine(isSafeFeedId, 'is no id of a baby'),
    createdAtMs: instant,
    answeredAtMs: instant,
    quietSinceMs: instant.nullable(),
  });

/** @throws FieldError baby-invalid at the first field that is wrong, `plan.lasting.rateMlPerMin` */
export function checkBabyEntry(data: unknown, nowMs: number): BabyEntry {
  const parsed = z.strictObject(entryFields(nowMs, 'from-now')).safeParse(data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const field = issue!.path.join('.');
  throw new FieldError(
    'baby-invalid',
    field,
    `${field || 'This'} ${plainIssue(issue!)}.`,
    'Correct it and try again; nothing was changed.',
  );
}

/** Statements about babies. Errors of statements are SQLite's own. */
export class Babies {
  readonly #all;
  readonly #write;

  constructor(database: FeedDatabase) {
    this.#all = database.prepare<{ json: string }>(
      'SELECT baby_json AS json FROM baby ORDER BY created_at_ms, id',
    );
    this.#write = database.prepare(replacingSql('baby', ['id'], ['created_at_ms', 'baby_json']));
  }

  /** In the order of entering. */
  list(): Baby[] {
    return this.#all.all().map(({ json }) => {
      const baby = ownJson<Baby>(json);
      return { ...baby, choices: { ...FAMILY_SWITCHES, ...baby.choices } };
    });
  }

  get(id: string): Baby | null {
    return this.list().find((baby) => baby.id === id) ?? null;
  }

  /** Stores it unchanged, as new or replacing the one with its id. */
  write(baby: Baby): void {
    this.#write.run(baby.id, baby.createdAtMs, JSON.stringify(baby));
  }

  /** @throws FieldError baby-invalid, baby-name-taken: two babies must not have the same name */
  add(data: unknown, nowMs: number, random: () => number = Math.random): Baby {
    const entry = checkBabyEntry(data, nowMs);
    this.#refuseTaken(entry.name, null);
    const id = newFeedId(nowMs, random);
    const baby: Baby = { ...entry, id, createdAtMs: nowMs, answeredAtMs: nowMs, quietSinceMs: null };
    this.write(baby);
    return baby;
  }

  /** @throws FieldError as `add` */
  change(before: Baby, data: unknown, nowMs: number): Baby {
    const entry = checkBabyEntry(data, nowMs);
    this.#refuseTaken(entry.name, before.id);
    const baby: Baby = { ...before, ...entry, answeredAtMs: nowMs };
    this.write(baby);
    return baby;
  }

  #refuseTaken(name: string, ownId: string | null): void {
    const taken = this.list().some((one) => one.id !== ownId && sameName(one.name, name));
    if (!taken) return;
    throw new FieldError(
      'baby-name-taken',
      'name',
      `A baby called ${name} is kept already.`,
      'Choose that baby, or add something that tells the two apart.',
    );
  }
}
