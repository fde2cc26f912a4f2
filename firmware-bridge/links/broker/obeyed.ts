/** Which guide a relay obeys, as another guide learns it from the relay's frames. Pure. */
import type { Mark } from './frames.ts';

export interface Obeyed {
  /** The latest message that the relay had of it; null: nobody is obeyed. */
  guide: Mark | null;
  /** This guide was obeyed: what comes begins where it wants it. */
  isHeard: boolean;
  /** Another one is obeyed and goes on speaking, although this one has spoken for long enough. */
  isRefused: boolean;
}

export const NOBODY: Obeyed = { guide: null, isHeard: false, isRefused: false };

/** A relay hears a guide's first message within this time, or is too far away to be guided. Own choice: two heartbeats. */
const HEARD_AFTER_MS = 1000;

/**
 * @param guide  as the frame names it
 * @param own  id of this guide
 * @param spokenForMs  since its first message
 */
export function seeObeyed(before: Obeyed, guide: Mark | null, own: string, spokenForMs: number): Obeyed {
  const isOfOther = isOther(guide, own);
  // A guide that has died is still named, but its mark stays.
  const isAlive = isOfOther && before.guide?.id === guide?.id && before.guide?.ms !== guide?.ms;
  return {
    guide,
    isHeard: before.isHeard || guide?.id === own,
    isRefused: isOfOther && (before.isRefused || (isAlive && spokenForMs >= HEARD_AFTER_MS)),
  };
}

export const isOther = (guide: Mark | null, own: string): boolean => guide !== null && guide.id !== own;

/** @returns whether another guide has the sleeve, so that this one waits in vain */
export const isElsewhere = ({ guide, isHeard, isRefused }: Obeyed, own: string): boolean =>
  isOther(guide, own) && (isHeard || isRefused);
