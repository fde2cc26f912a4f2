/** `ebbline feeds add`: enters a feed that no sleeve measured. */
import { askedBaby } from '../../app/babies/known-babies.ts';
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { writtenEntry } from '../../app/review/hand-entry.ts';
import { clockOf, dayOf } from '../../base/calendar.ts';
import { mlFromFlOz } from '../../base/units.ts';
import type { HandFeedKind } from '../../feed/record/written-by-hand.ts';
import { say } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface AddOptions {
  day?: string;
  at: string;
  again?: boolean;
  minutes?: number;
  offeredMl?: number;
  leftMl?: number;
  /** The same in US fl oz; never both. */
  offeredFlOz?: number;
  leftFlOz?: number;
  side?: 'left' | 'right' | 'both';
  baby?: string;
  by?: string;
  note?: string;
  simulated?: boolean;
}

const inMl = (flOz: number | undefined): number | undefined =>
  flOz === undefined ? undefined : mlFromFlOz(flOz);

/** @throws FieldError if it is not valid; then nothing is stored */
export async function addCommand(kind: HandFeedKind, options: AddOptions): Promise<void> {
  await withStore(options, (store) => {
    const { nowMs, zone } = familySurroundings(store);
    const baby = askedBaby(store, options.baby, nowMs());
    const entry = writtenEntry(
      {
        kind,
        day: options.day ?? dayOf(nowMs(), zone),
        clock: options.at,
        again: options.again ?? false,
        durationSec: options.minutes === undefined ? null : options.minutes * 60,
        offeredMl: options.offeredMl ?? inMl(options.offeredFlOz),
        leftMl: options.leftMl ?? inMl(options.leftFlOz),
        side: options.side,
        caregiver: options.by,
        note: options.note,
        babyId: baby.id,
        babyName: baby.name,
      },
      zone,
    );
    const { atMs, babyName } = store.addHandFeed(entry);
    const of = babyName === null ? '' : ` of ${babyName}`;
    return say(`Kept: the feed${of} on ${dayOf(atMs, zone)} at ${clockOf(atMs, zone)}.`);
  });
}
