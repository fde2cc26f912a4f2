/** The family's time zone: chosen once, kept in the store's settings; until then the machine's, and a machine that was left on UTC asks. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { dayOf } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import { DATABASE_FILE } from '../../store/data-folder.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { openStore } from '../../store/open-store.ts';
import type { Surroundings } from '../packing/plan-for.ts';

export interface FamilyZone {
  /** IANA name. */
  zone: string;
  isChosen: boolean;
  /** Nobody chose, and the machine knows none. */
  asks: boolean;
}

/** What a machine says that nobody ever told where it stands (IANA, `etcetera` and `backward`). */
const NOWHERE = /^(Etc\/)?(UTC|UCT|GMT|GMT[+-]?0|Greenwich|Universal|Zulu)$/;

type ZoneKeeper = Pick<FeedJournal, 'readZone' | 'writeZone'>;

export const machineZone = (): string => zoneOf(Intl.DateTimeFormat().resolvedOptions().timeZone);

/** An empty or unknown TZ leaves the system without a zone that it could name; then days are those of UTC. */
export function zoneOf(named: string | undefined): string {
  try {
    return new Intl.DateTimeFormat('en-US', { timeZone: named || 'UTC' }).resolvedOptions().timeZone || 'UTC';
  } catch {
    return 'UTC';
  }
}

/** @param machine what the machine's clock stands on */
export function familyZone(store: Pick<ZoneKeeper, 'readZone'>, machine: string = machineZone()): FamilyZone {
  const chosen = store.readZone();
  return {
    zone: chosen ?? machine,
    isChosen: chosen !== null,
    asks: chosen === null && NOWHERE.test(machine),
  };
}

/** @throws FieldError when there is no such zone; the one before stays */
export function chooseZone(store: ZoneKeeper, zone: unknown): FamilyZone {
  const named = typeof zone === 'string' ? zone.trim() : '';
  try {
    if (named === '') throw new PlainError('zone-unknown', 'No time zone was named.', 'Choose one.');
    dayOf(0, named);
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    throw new FieldError('zone-unknown', 'zone', error.message, error.remedy);
  }
  store.writeZone(named);
  return familyZone(store);
}

/** Stores of simulated and of practice feeds inside the family's. */
const INSIDE = ['simulated', 'practice', join('simulated', 'practice')];

/** Simulated and practice feeds go by the family's zone, unless another was chosen for them. @param folder  the family's own */
export function tellZoneInside(folder: string, zone: string): void {
  for (const inside of INSIDE)
    inStore(join(folder, inside), (store) => {
      if (store.readZone() === null) store.writeZone(zone);
    });
}

/** The same for a store inside that began later. @param outer  the family's own folder */
export function takeZoneOf(outer: string, store: ZoneKeeper): void {
  if (store.readZone() !== null) return;
  inStore(outer, (family) => {
    const zone = family.readZone();
    if (zone !== null) store.writeZone(zone);
  });
}

function inStore(folder: string, act: (store: ZoneKeeper) => void): void {
  if (!fs.existsSync(join(folder, DATABASE_FILE))) return;
  try {
    const store = openStore(folder);
    try {
      act(store);
    } finally {
      store.close();
    }
  } catch (error) {
    // Damaged or of a newer version: whoever opens it for itself is told; the zone there is asked for again.
    if (!(error instanceof PlainError)) throw error;
  }
}

/** The machine's clock, and the family's zone as it is set at each look. */
export const familySurroundings = (store: Pick<ZoneKeeper, 'readZone'>): Surroundings => ({
  nowMs: Date.now,
  get zone() {
    return familyZone(store).zone;
  },
});
