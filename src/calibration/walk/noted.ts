/** What a calibration file notes beside what is measured by it; a file from elsewhere may lack it, or have it otherwise. */
import type { Calibration } from '../../sensing/index.ts';

const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);

/** Day, ISO 8601. */
export const nextCheckDueOf = ({ nextCheckDue }: Calibration): string | null => text(nextCheckDue);
export const madeWithOf = ({ madeWith }: Calibration): string | null => text(madeWith);
export const bottleNameOf = ({ bottle }: Pick<Calibration, 'bottle'>): string | null => text(bottle.name);
/** Where the inside of the bottle is known from. */
export const profileFromOf = ({ bottle }: Calibration): string | null => text(bottle.profileFrom);

/** The inner cup alone; null where it is not known. */
export function cupOf({ cup }: Calibration): { massGrams: number; centreZMm: number } | null {
  if (typeof cup !== 'object' || cup === null || !('massGrams' in cup) || !('centreZMm' in cup)) return null;
  const { massGrams, centreZMm } = cup;
  return typeof massGrams === 'number' && typeof centreZMm === 'number' ? { massGrams, centreZMm } : null;
}
