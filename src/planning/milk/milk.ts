/** Milk on hand, container by container, and the order in which to use it. */
import { z } from 'zod';
import { DAY_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { type Strand, strandsOfListed } from './milk-stays.ts';
import { isFrozen, PLACES } from './places.ts';

export const MILK_KINDS = ['expressed', 'formula', 'mixed'] as const;
/** Largest volume of a container, mL. */
export const MOST_ML = 1000;
const instant = z.number().int().nonnegative();

/** A container as a list or a form describes it: its present place. */
const containerNowSchema = z.strictObject({
  /** Its label. */
  id: z.string().trim().min(1).max(80),
  kind: z.enum(MILK_KINDS),
  volumeMl: z.number().positive().max(MOST_ML),
  /** When expressed, or made; of pooled milk the oldest. Milliseconds since 1970 UTC, as all instants. */
  expressedAtMs: instant,
  place: z.enum(PLACES),
  /** When fully thawed; null for milk that is frozen, or never was. */
  thawedAtMs: instant.nullable(),
  warmedAtMs: instant.nullable(),
  /** Marked as not to be used without asking. */
  heldBack: z.boolean(),
});

export type ContainerNow = z.infer<typeof containerNowSchema>;
/** A container with the history of the milk in it, which decides its times; the present place is not enough. */
export type Container = ContainerNow & { strands: readonly Strand[] };
export type MilkKind = Container['kind'];

export const fromList = (listed: ContainerNow): Container => ({
  ...listed,
  strands: strandsOfListed(listed),
});

/**
 * Containers out of a file or a form.
 * @param atMs instant of reading; no date may be later
 * @throws PlainError that names the container and the field; nothing is taken in part
 */
export function readContainers(data: unknown, atMs: number): Container[] {
  const parsed = z.array(containerNowSchema).safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const [row, ...field] = issue!.path;
    const where = row === undefined ? 'The list of containers' : `Container ${Number(row) + 1}`;
    throw new PlainError(
      'container-invalid',
      `${where}${field.length > 0 ? `, ${field.join('.')}` : ''}: ${issue!.message}.`,
      'Correct it and try again; nothing was changed.',
    );
  }
  const seen = new Set<string>();
  for (const container of parsed.data) {
    if (seen.has(container.id)) {
      throw new PlainError(
        'container-twice',
        `Container ${container.id} is listed twice.`,
        'Give each container a label of its own.',
      );
    }
    seen.add(container.id);
    checkDates(container, atMs);
  }
  return parsed.data.map(fromList);
}

/** @throws PlainError when a date lies in the future, or before the milk existed */
export function checkDates(
  { id, expressedAtMs, thawedAtMs, warmedAtMs, place }: ContainerNow,
  atMs: number,
): void {
  const fail = (code: string, what: string, remedy: string): never => {
    throw new PlainError(code, `Container ${id}: ${what}`, remedy);
  };
  for (const [name, dateMs] of [
    ['expressed', expressedAtMs],
    ['thawed', thawedAtMs],
    ['warmed', warmedAtMs],
  ] as const) {
    if (dateMs === null) continue;
    if (dateMs > atMs)
      fail('date-in-future', `the date it was ${name} lies in the future.`, 'Correct the date.');
    if (dateMs < expressedAtMs)
      fail('date-order', `it was ${name} before it was expressed.`, 'Correct one of the dates.');
  }
  if (atMs - expressedAtMs > 3 * 365 * DAY_MS)
    fail('date-too-old', 'it was expressed more than three years ago.', 'Check the year.');
  if (isFrozen({ place }) && (thawedAtMs !== null || warmedAtMs !== null))
    fail(
      'refrozen',
      'it was thawed or warmed and is in the freezer.',
      'Published guidance: never refreeze. Correct the place, or take it off the list.',
    );
}

/** Thawed or warmed milk has the shortest time left, then the fridge, then the oldest frozen: "fridge first, then oldest frozen". */
function rankOf({ place, thawedAtMs, warmedAtMs }: Container): number {
  if (isFrozen({ place })) return 2;
  const isCold = place === 'fridge' || place === 'cooler';
  return isCold && warmedAtMs === null && thawedAtMs === null ? 1 : 0;
}

/** @returns the containers in the order to use them, oldest first within a place; a new list. */
export const inOrderOfUse = (containers: readonly Container[]): Container[] =>
  [...containers].sort(
    (a, b) =>
      rankOf(a) - rankOf(b) ||
      (a.thawedAtMs ?? a.expressedAtMs) - (b.thawedAtMs ?? b.expressedAtMs) ||
      a.id.localeCompare(b.id, 'en'),
  );
