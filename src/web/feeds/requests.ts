/** What the pages of feeds ask of the server. */

import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { type Refused, refusedBy, UNREACHED } from '../parts/ask.ts';

export type Posted<T> = { answer: T } | { error: Refused };

/** Sends JSON and reads JSON; never throws. */
export async function postJson<T>(address: string, body: unknown = {}): Promise<Posted<T>> {
  try {
    const response = await fetch(address, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    return response.ok ? { answer: (await response.json()) as T } : { error: await refusedBy(response) };
  } catch {
    return { error: UNREACHED };
  }
}

/** The part of an address after "?": language, unit, and whatever else is given; nothing for undefined. */
export function queryOf(
  language: Language,
  unit: VolumeUnit,
  more: Record<string, string | number | undefined> = {},
): string {
  const query = new URLSearchParams({ language, unit });
  for (const [name, value] of Object.entries(more)) if (value !== undefined) query.set(name, String(value));
  return query.toString();
}
