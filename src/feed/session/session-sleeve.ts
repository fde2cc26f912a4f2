/** Another sleeve on the same link. */
import { createPreRoll } from '../../../firmware-bridge/links/pre-roll.ts';
import { PRE_ROLL_SEC, type Session, type SessionOptions } from './session.ts';
import { endFeed, watchingEngine } from './session-end.ts';

/** What is to be known of a sleeve. */
export type SleeveThere = Pick<SessionOptions, 'calibration' | 'sleeveId'>;

/**
 * The open feed was the sleeve's before and is over; the next is weighed by this one's calibration.
 * @param sleeve  null: one that nothing is known of, and that gives no bytes
 */
export function changeSleeve(session: Session, sleeve: SleeveThere | null, nowMs: number): void {
  endFeed(session, 'link-ended', nowMs);
  if (sleeve === null) return;
  session.options = { ...session.options, ...sleeve };
  session.watcher = watchingEngine(session.options);
  session.preRoll = createPreRoll(PRE_ROLL_SEC);
  session.lastTick = null;
}
