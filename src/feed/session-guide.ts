/** What a session's next feed runs with, and whose it is. */
import { PlainError } from '../errors.ts';
import { CAUTIOUS, type Guided } from './guided.ts';
import { keepForSure } from './keeping.ts';
import type { Session } from './session.ts';

export const UNGUIDED: Guided = { ran: null, notices: [], severalBabies: false };

/**
 * Asks anew what the next feed runs with. Where that cannot be told now, what was known of this baby stands; of another, the cues that a baby may not be
 * meant to have are off.
 */
export function guideAnew(session: Session): void {
  if (session.feed) return;
  const babyId = session.setup.babyId ?? null;
  try {
    session.guided = session.options.guide?.(session.setup) ?? UNGUIDED;
    session.guidedBabyId = babyId;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    session.keeping.notice ??= error.text;
    if (session.guidedBabyId !== babyId) session.guided = CAUTIOUS;
  }
}

/** Two babies' milk is never mixed up: with more than one baby, the next feed is nobody's until somebody says whose it is. */
export function forgetWhose(session: Session): void {
  if (!session.guided.severalBabies) return;
  const setup = { ...session.setup, babyId: null, babyName: null, babyBirthDate: null, bottleName: null };
  session.setup = setup;
  keepForSure(session.keeping, () => session.options.keeper.writeSetup(setup));
}
