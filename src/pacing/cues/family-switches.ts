/** Defaults of the family's switches. */
import { SWITCHES, type Switch } from './cues.ts';

/** Defaults of the family's switches. */

export const FAMILY_SWITCHES: Readonly<Record<Switch, boolean>> = switchesBy(({ startsOn }) => startsOn);

export function switchesBy<T>(of: (one: { startsOn: boolean }) => T): Record<Switch, T> {
  return Object.fromEntries(Object.entries(SWITCHES).map(([name, one]) => [name, of(one)])) as Record<
    Switch,
    T
  >;
}
