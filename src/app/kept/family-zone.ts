/** The family's time zone: chosen once and stored in the settings; until then the machine's zone is used, and if that is UTC the page asks. */
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
  /** True if no zone was chosen and the machine has none. */
  asks: boolean;
}

/** Zones of a machine whose location was never set (IANA, `etcetera` and `backward`). */
const NOWHERE = /^(Etc\/)?(UTC|UCT|GMT|GMT[+-]?0|Greenwich|Universal|Zulu)$/;

type ZoneStore = Pick<FeedJournal, 'readZone' | 'writeZone'>;

export const machineZone = (): string => zoneOf(Intl.DateTimeFormat().resolvedOptions().timeZone);

/** With an empty or unknown TZ the system has no named zone; then UTC is used. */
function zoneOf(named: string | undefined): string {
  try {
    return new Intl.DateTimeFormat('en-US', { timeZone: named || 'UTC' }).resolvedOptions().timeZone || 'UTC';
  } catch {
    return 'UTC';
  }
}

/** @param machine the machine's zone */
export function familyZone(store: Pick<ZoneStore, 'readZone'>, machine: string = machineZone()): FamilyZone {
  const chosen = store.readZone();
  return {
    zone: chosen ?? machine,
    isChosen: chosen !== null,
    asks: chosen === null && NOWHERE.test(machine),
  };
}

/** @throws FieldError when there is no such zone; the old one stays */
export function chooseZone(store: ZoneStore, zone: unknown): FamilyZone {
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

/** Simulated and practice feeds use the family's zone, unless another was chosen for them. @param folder  the family's own */
function tellZoneInside(folder: string, zone: string): void {
  for (const inside of INSIDE)
    inStore(join(folder, inside), (store) => {
      if (store.readZone() === null) store.writeZone(zone);
    });
}

/** The same for an inner store created later. @param outer  the family's own folder */
export function takeZoneOf(outer: string, store: ZoneStore): void {
  if (store.readZone() !== null) return;
  inStore(outer, (family) => {
    const zone = family.readZone();
    if (zone !== null) store.writeZone(zone);
  });
}

function inStore(folder: string, act: (store: ZoneStore) => void): void {
  if (!fs.existsSync(join(folder, DATABASE_FILE))) return;
  try {
    const store = openStore(folder);
    try {
      act(store);
    } finally {
      store.close();
    }
  } catch (error) {
    // Damaged or of a newer version: opening that store itself reports it; its zone is then asked for again.
    if (!(error instanceof PlainError)) throw error;
  }
}

/** Chooses a zone if one is given. @param folder  where the store is; null: it has no stores inside @returns which zone holds, in words */
export function zoneAsAsked(store: ZoneStore, folder: string | null, asked: string | undefined) {
  const now = asked === undefined ? familyZone(store) : chooseZone(store, asked);
  if (asked !== undefined && folder !== null) tellZoneInside(folder, now.zone);
  const whence = now.isChosen ? 'as chosen' : 'as this computer’s clock is set; nobody chose one';
  return [
    `Days and times are those of ${now.zone}, ${whence}.`,
    now.asks && 'Choose yours: ebbline data time-zone America/Chicago',
  ];
}

/** The machine's clock, and the family's zone, read at each use. */
export const familySurroundings = (store: Pick<ZoneStore, 'readZone'>): Surroundings => ({
  nowMs: Date.now,
  get zone() {
    return familyZone(store).zone;
  },
});
