/** Types of the milk ledger: entries as written, and the resulting state. */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { type Container, MILK_KINDS, MOST_ML } from './milk.ts';
import type { Offered } from './milk-times.ts';
import { PLACES } from './places.ts';

const label = z.string().trim().min(1).max(80);
const instant = z.number().int().nonnegative();
const amount = z.number().positive().max(MOST_ML);
const chance = z.number().min(0).max(1);

export const entrySchema = z.discriminatedUnion('what', [
  /** Milk was expressed, or formula made. */
  z.strictObject({
    what: z.literal('got'),
    atMs: instant,
    id: label,
    kind: z.enum(MILK_KINDS),
    ml: amount,
    place: z.enum(PLACES),
  }),
  z.strictObject({ what: z.literal('stored'), atMs: instant, id: label, place: z.enum(PLACES) }),
  /** Fully thawed; it stays in the fridge unless stored elsewhere. */
  z.strictObject({ what: z.literal('thawed'), atMs: instant, id: label }),
  z.strictObject({ what: z.literal('warmed'), atMs: instant, id: label }),
  z.strictObject({
    what: z.literal('poured'),
    atMs: instant,
    into: label,
    from: z.array(z.strictObject({ id: label, ml: amount })).min(1),
  }),
  /** Offered at a feed; the first bottle starts the feed, a top-up belongs to the same feed. */
  z.strictObject({ what: z.literal('offered'), atMs: instant, id: label, feed: label }),
  /** The feed is over; what left each bottle. */
  z.strictObject({
    what: z.literal('fed'),
    atMs: instant,
    feed: label,
    taken: z.array(z.strictObject({ id: label, ml: z.number().nonnegative().max(MOST_ML) })).min(1),
  }),
  z.strictObject({ what: z.literal('discarded'), atMs: instant, id: label }),
  z.strictObject({ what: z.literal('held-back'), atMs: instant, id: label, on: z.boolean() }),
  /** A plan was taken: these containers are reserved for it until it is over. Taken again, the plan replaces its list of containers. */
  z.strictObject({
    what: z.literal('promised'),
    atMs: instant,
    plan: label,
    fromMs: instant,
    untilMs: instant,
    /** Number of feeds that it was planned for; absent in plans of older versions. */
    feeds: z.int().positive().max(16).optional(),
    ids: z.array(label).max(100),
    claimed: z.strictObject({
      /** The chance as shown, and by the model before the correction from earlier plans. */
      shortChance: chance,
      modelChance: chance,
      thrownMl: z.number().nonnegative(),
      bottles: z.int().nonnegative(),
    }),
  }),
  /** How a planned day went. */
  z.strictObject({ what: z.literal('went'), atMs: instant, plan: label, short: z.boolean() }),
  /** A bottle of a plan came back in the evening. */
  z.strictObject({
    what: z.literal('came-back'),
    atMs: instant,
    id: label,
    how: z.enum(['emptied', 'left', 'unopened']),
    /** Milk left in it, which is thrown away; only with `left`. */
    leftMl: z.number().nonnegative().max(MOST_ML).optional(),
  }),
]);

export type LedgerEntry = z.infer<typeof entrySchema>;

export interface LedgerContainer {
  /** `volumeMl` is what is in it now. */
  container: Container;
  /** The first feed it was offered at; a later feed or a top-up does not restart a clock. */
  offered: (Offered & { feed: string }) | null;
  gone: 'poured' | 'fed' | 'discarded' | null;
  /** Instant of its latest entry: no earlier entry is accepted. */
  latestAtMs: number;
}

/** A plan that was taken. */
export interface PromisedMilk {
  atMs: number;
  fromMs: number;
  untilMs: number;
  feeds: number | null;
  /** Containers reserved for it until `untilMs`. */
  ids: readonly string[];
  claimed: { shortChance: number; modelChance: number; thrownMl: number; bottles: number };
  /** Null: not entered. */
  short: boolean | null;
  /** Milk of its containers that came back and was thrown away, mL. */
  thrownMl: number;
  /** Its bottles that came back opened: the amount taken from each, mL. */
  cameBack: readonly { takenMl: number; emptied: boolean }[];
}

export interface Ledger {
  containers: Readonly<Record<string, LedgerContainer>>;
  feeds: Readonly<Record<string, Offered>>;
  promises: Readonly<Record<string, PromisedMilk>>;
  /** mL since the beginning. Got = on hand + fed + discarded. */
  totals: Readonly<{ gotMl: number; fedMl: number; discardedMl: number }>;
}

export const EMPTY_LEDGER: Ledger = {
  containers: {},
  feeds: {},
  promises: {},
  totals: { gotMl: 0, fedMl: 0, discardedMl: 0 },
};

/** @returns the value of a label. Labels are typed by people, so inherited properties such as "constructor" must not be found. */
export const own = <T>(record: Readonly<Record<string, T>>, id: string): T | undefined =>
  Object.hasOwn(record, id) ? record[id] : undefined;

/** The container, if it is still in use at that instant. @throws PlainError when it is not */
export function present(ledger: Ledger, id: string, atMs: number): LedgerContainer {
  const found = own(ledger.containers, id);
  if (!found)
    throw refuse('container-unknown', `There is no container ${id}`, 'Enter it first, or check the label.');
  if (found.gone)
    throw refuse(
      'container-gone',
      `Container ${id} is used up (${found.gone})`,
      'A container is used once. Check the label.',
    );
  if (atMs < found.latestAtMs)
    throw refuse('date-order', `Container ${id} has a later entry already`, 'Correct one of the times.');
  return found;
}

export const change = (
  ledger: Ledger,
  { id, atMs }: { id: string; atMs: number },
  state: LedgerContainer,
): Ledger => ({
  ...ledger,
  containers: { ...ledger.containers, [id]: { ...state, latestAtMs: atMs } },
});

export const tidy = (ml: number): number => Math.round(ml * 10) / 10;
export const refuse = (
  code: string,
  what: string,
  remedy = 'Correct it and try again; nothing was changed.',
): PlainError => new PlainError(code, `${what}.`, remedy);
