/** A feed being entered by hand: values as typed, and the request made of them. Pure. */
import type { DayAnswer } from '../../app/review/review-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { VolumeUnit } from '../../base/units.ts';
import { mlOf } from './amount-field.tsx';
import { clockNow } from './days.ts';

export const FEED_KINDS = ['breast', 'bottle', 'refused'] as const;
export const SIDES = ['left', 'right', 'both'] as const;

export interface WrittenFeed {
  /** Key of the baby. */
  whose: string;
  kind: (typeof FEED_KINDS)[number];
  day: string;
  clock: string;
  /** True: in the second of two equal hours when clocks are set back. */
  again: boolean;
  minutes: string;
  offered: string;
  left: string;
  side: (typeof SIDES)[number] | null;
  caregiver: string;
  note: string;
}

/** Nothing typed yet: the present time, on the day shown. */
export const writtenFeed = ({ baby, told, zone }: DayAnswer, nowMs: number): WrittenFeed => ({
  whose: keyOf(baby),
  kind: 'breast',
  day: told.day,
  clock: clockNow(zone, nowMs),
  again: false,
  minutes: '',
  offered: '',
  left: '',
  side: null,
  caregiver: '',
  note: '',
});

/** The request; NaN where the typed text is not a number. */
export function writtenEntry(feed: WrittenFeed, answer: DayAnswer, unit: VolumeUnit) {
  const { kind, day, clock, again, minutes, side } = feed;
  const baby = answer.babies.find((one) => keyOf(one) === feed.whose) ?? answer.baby;
  const isBottle = kind !== 'breast';
  return {
    kind,
    day,
    clock,
    again,
    durationSec: minutes.trim() === '' ? null : Number(minutes.replace(',', '.')) * 60,
    offeredMl: isBottle ? mlOf(feed.offered, unit) : null,
    leftMl: isBottle ? mlOf(feed.left, unit) : null,
    side: isBottle ? null : side,
    caregiver: feed.caregiver.trim() || null,
    note: feed.note.trim() || null,
    babyId: baby.id,
    babyName: baby.name,
  };
}

/** @returns the first field that is not a number; null if all are */
export const wrongIn = (entry: ReturnType<typeof writtenEntry>): string | null =>
  (['offeredMl', 'leftMl', 'durationSec'] as const).find((field) => Number.isNaN(entry[field])) ?? null;
