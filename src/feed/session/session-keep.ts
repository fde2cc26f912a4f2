/** Hands what was heard of a feed to its keeper. */
import { type HeldFeed, handOver, holdBytes, MOST_HELD_BYTES } from '../record/held.ts';
import { keepForSure, tryToKeep } from '../record/keeping.ts';
import type { Session } from './session.ts';

/** Hands what has come since the last call to the keeper, once a second. A full disk is said and tried again. */
export function keepPart(session: Session): void {
  const { feed, keeping } = session;
  if (feed || keeping.waiting.length > 0) tryToKeep(keeping, () => feed && handPart(session, feed.held));
}

/** @throws what the keeper throws; then all of it is still held */
export const handPart = ({ options }: Session, held: HeldFeed): void => handOver(held, options.keeper);

export function hold({ options, unkept }: Session, held: HeldFeed, bytes: Uint8Array): void {
  const heldBytes = unkept.reduce((sum, other) => sum + other.heldBytes, held.heldBytes);
  holdBytes(held, bytes, (options.mostHeldBytes ?? MOST_HELD_BYTES) - heldBytes);
}

export function keepToTheEnd(session: Session, held: HeldFeed, end: () => void): void {
  session.unkept.push(held);
  keepForSure(session.keeping, () => {
    handPart(session, held);
    end();
    held.over = true;
    session.unkept = session.unkept.filter((other) => other !== held);
  });
}
