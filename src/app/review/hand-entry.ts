/** A feed written in by hand, as a form or a command gives it: with day and clock time in the family's zone instead of an instant. */

import { clockOf, dayOf, HOUR_MS, instantAt } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import type { HandFeedEntry } from '../../feed/record/written-by-hand.ts';

/** @returns the entry; the store checks its fields. @throws FieldError at the day or the time */
export function writtenEntry(body: unknown, zone: string): HandFeedEntry {
  const {
    day,
    clock,
    again = false,
    ...rest
  } = (body ?? {}) as Partial<HandFeedEntry> & {
    day?: unknown;
    clock?: unknown;
    again?: unknown;
  };
  return {
    kind: rest.kind as HandFeedEntry['kind'],
    atMs: instantOn(String(day ?? ''), String(clock ?? ''), again === true, zone),
    durationSec: rest.durationSec ?? null,
    offeredMl: rest.offeredMl ?? null,
    leftMl: rest.leftMl ?? null,
    milkKind: rest.milkKind ?? null,
    side: rest.side ?? null,
    caregiver: rest.caregiver ?? null,
    note: rest.note ?? null,
    babyId: rest.babyId ?? null,
    babyName: rest.babyName ?? null,
  };
}

/** @param again the second time that the clock showed it, in the night when clocks go back */
export function instantOn(day: string, clock: string, again: boolean, zone: string): number {
  let first: number;
  try {
    first = instantAt(day, clock, zone);
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    const field = error.code === 'time-impossible' ? 'clock' : 'day';
    throw new FieldError('entry-invalid', field, error.message, error.remedy);
  }
  if (!again) return first;
  // Clocks go back by an hour; in one zone by half an hour.
  const second = [HOUR_MS / 2, HOUR_MS].map((laterMs) => first + laterMs);
  const found = second.find((atMs) => dayOf(atMs, zone) === day && clockOf(atMs, zone) === clock);
  if (found !== undefined) return found;
  throw new FieldError(
    'entry-invalid',
    'clock',
    `${clock} came only once on ${day}.`,
    'Leave out that it was the second time.',
  );
}
