/** Query strings of the addresses that the pages of feeds request. */

import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';

/** The part of an address after "?": language, unit, and other parameters; undefined ones are left out. */
export function queryOf(
  language: Language,
  unit: VolumeUnit,
  more: Record<string, string | number | undefined> = {},
): string {
  const query = new URLSearchParams({ language, unit });
  for (const [name, value] of Object.entries(more)) if (value !== undefined) query.set(name, String(value));
  return query.toString();
}
