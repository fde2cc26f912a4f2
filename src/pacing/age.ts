/** A baby's age from its birth date. Pure. */

const DAY_MS = 24 * 3600_000;
/** Under six weeks: the screening's own words. */
const NEWBORN_DAYS = 42;

/** @param birthDate  YYYY-MM-DD @returns whole days since birth; null when the birth date is not known */
export const ageDaysAt = (birthDate: string | null, atMs: number): number | null =>
  birthDate === null ? null : Math.max(0, Math.floor((atMs - Date.parse(`${birthDate}T00:00:00Z`)) / DAY_MS));

/** @returns true for a date that cannot be read, too: in doubt the baby is young */
export function isUnderSixWeeks(birthDate: string | null, atMs: number): boolean {
  const ageDays = ageDaysAt(birthDate, atMs);
  return ageDays !== null && !(ageDays >= NEWBORN_DAYS);
}
