/** A feed written in by hand, as a form or a command gives it: a day and a clock on the family's wall in place of an instant. */
import { clockOf, dayOf, HOUR_MS, instantAt } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import { mlFromFlOz } from '../../base/units.ts';
import type { HandFeedEntry, HandFeedKind } from '../../feed/record/written-by-hand.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { askedBaby } from '../babies/known-babies.ts';
import { familySurroundings } from '../kept/family-zone.ts';

/** As a command is given it. Amounts in mL or in US fl oz, never both. */
export interface HandFeedAsked {
  day?: string;
  at: string;
  again?: boolean;
  minutes?: number;
  offeredMl?: number;
  leftMl?: number;
  offeredFlOz?: number;
  leftFlOz?: number;
  side?: 'left' | 'right' | 'both';
  baby?: string;
  by?: string;
  note?: string;
}

const inMl = (ml: number | undefined, flOz: number | undefined): number | undefined =>
  ml ?? (flOz === undefined ? undefined : mlFromFlOz(flOz));

/** @returns what was kept, in words @throws FieldError when it cannot be; nothing is kept then */
export function addedByHand(store: FeedJournal, kind: HandFeedKind, asked: HandFeedAsked): string {
  const { nowMs, zone } = familySurroundings(store);
  const baby = askedBaby(store, asked.baby, nowMs());
  const { day = dayOf(nowMs(), zone), at: clock, again, minutes, side, by: caregiver, note } = asked;
  const written = {
    ...{ kind, day, clock, again, side, caregiver, note, babyId: baby.id, babyName: baby.name },
    durationSec: minutes === undefined ? null : minutes * 60,
    offeredMl: inMl(asked.offeredMl, asked.offeredFlOz),
    leftMl: inMl(asked.leftMl, asked.leftFlOz),
  };
  const { atMs, babyName } = store.addHandFeed(writtenEntry(written, zone));
  const of = babyName === null ? '' : ` of ${babyName}`;
  return `Kept: the feed${of} on ${dayOf(atMs, zone)} at ${clockOf(atMs, zone)}.`;
}

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
function instantOn(day: string, clock: string, again: boolean, zone: string): number {
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
