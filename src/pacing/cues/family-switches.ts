/** Where the switches of a family start from. */
import { SWITCHES, type Switch } from './cues.ts';

/** What a family's switches start from. */

export const FAMILY_SWITCHES: Readonly<Record<Switch, boolean>> = switchesBy(({ startsOn }) => startsOn);

export function switchesBy<T>(of: (one: { startsOn: boolean }) => T): Record<Switch, T> {
  return Object.fromEntries(Object.entries(SWITCHES).map(([name, one]) => [name, of(one)])) as Record<
    Switch,
    T
  >;
}
