/** Sentences that say why no new bytes come from a sleeve behind a relay. Pure. */
import { PlainError } from '../../../src/base/errors.ts';
import type { LinkState } from '../link.ts';
import type { RelayWord } from './claim.ts';
import type { Place } from './topics.ts';

export interface KnownOfSleeve {
  sleeveNumber: number;
  place: Place;
  /** For people. */
  broker: string;
  /** The latest message of each relay of the room, by sleeve number. */
  relays: ReadonlyMap<number, RelayWord>;
  /** The sleeve is connected to its relay. */
  isThere: boolean;
  /** The relay obeys another program. */
  otherGuides: boolean;
}

/** @returns one sentence */
export function whyNotNew({ sleeveNumber, relays, isThere, otherGuides }: KnownOfSleeve): string {
  const word = relays.get(sleeveNumber);
  if (word?.says === 'gone')
    return `The relay of sleeve ${sleeveNumber} is switched off or has lost its network.`;
  if (word?.trouble) return word.trouble;
  if (!isThere) return `The sleeve ${sleeveNumber} is unplugged from its relay or switched off.`;
  if (otherGuides) return `Another program guides sleeve ${sleeveNumber}.`;
  return `What comes from sleeve ${sleeveNumber} is not new; it is being caught up with.`;
}

/** @returns the error of a link that could not be opened although the broker was reached */
export function nothingNew(known: KnownOfSleeve): PlainError {
  const { sleeveNumber, place, broker, relays } = known;
  const there = [...relays].filter(([, { says }]) => says === 'here').map(([number]) => number);
  if (there.includes(sleeveNumber))
    return new PlainError(
      'relay-silent',
      `The relay of sleeve ${sleeveNumber} sends nothing new. ${whyNotNew(known)}`,
      'Look at the relay and the sleeve by the cot. A worker tries again by itself; "ebbline start" has to be started again.',
    );
  return new PlainError(
    'relay-none',
    `No relay passes on a sleeve of the number ${sleeveNumber} in room "${place.room}" of site "${place.site}" (${broker}).`,
    there.length > 0
      ? `Sleeves there: ${there.sort((one, two) => one - two).join(', ')}.`
      : 'Start "ebbline relay" on the computer by the cots, and check the names of site and room.',
  );
}

/** @param label  of the link @returns the error of a link that was closed before it was open */
export const closedEarly = (label: string): PlainError =>
  new PlainError(
    'link-closed',
    `The connection to ${label} was closed before anything came.`,
    'It is made anew when the sleeve is wanted again.',
  );

export const isSameState = (one: LinkState, other: LinkState): boolean =>
  one.kind === other.kind && (one.kind !== 'lost' || other.kind !== 'lost' || one.reason === other.reason);
