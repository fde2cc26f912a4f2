/** What a session's next feed runs with, and whose it is. */
import { PlainError } from '../../base/errors.ts';
import { turnOffCues } from '../engine.ts';
import type { NoticeKind } from '../live/live-view.ts';
import type { FeedSetup } from '../record/feed.ts';
import { keepForSure } from '../record/keeping.ts';
import { CAUTIOUS, type Guided } from './guided.ts';
import { noteOf } from './noted.ts';
import type { Session } from './session.ts';

export const UNGUIDED: Guided = { ran: null, notices: [], severalBabies: false };

/**
 * Asks anew what the next feed runs with. Where that cannot be told now, what was known of this baby stands; of another, the cues that a baby may not be
 * meant to have are off.
 */
export function guideAnew(session: Session): void {
  if (!session.feed) session.guided = askGuide(session);
}

const SAY_CUES_OFF: readonly NoticeKind[] = ['cues-off', 'not-screened', 'cues-next-feed'];

/**
 * Somebody has said whose the open feed is, or something else about that baby: what it is not to have ends at once; nothing is turned on, and the pace stays.
 */
export function holdBackNow(session: Session): void {
  const { feed } = session;
  if (!feed) return;
  const { ran, notices, severalBabies } = askGuide(session);
  const off = feed.engine.pacing.guidance.cuesOff;
  const cues = ran?.guidance.cuesOff.filter((kind) => !off.includes(kind)) ?? [];
  if (cues.length > 0) {
    noteOf(feed, { kind: 'cues-off', atSec: turnOffCues(feed.engine, cues), cues });
  }
  const isSaid = notices.some((kind) => SAY_CUES_OFF.includes(kind));
  const wasSaid = session.guided.notices.some((kind) => SAY_CUES_OFF.includes(kind));
  session.guided = {
    ran: session.guided.ran,
    notices: wasSaid && !isSaid ? ['cues-next-feed', ...notices] : notices,
    severalBabies,
  };
}

/** Whom the answers mean, kept or typed in. */
const whomOf = ({ babyId, babyName, babyBirthDate }: FeedSetup): string =>
  JSON.stringify([babyId ?? null, babyName, babyBirthDate]);

function askGuide(session: Session): Guided {
  const whom = whomOf(session.setup);
  try {
    const guided = session.options.guide?.(session.setup) ?? UNGUIDED;
    session.guidedWhom = whom;
    session.guideTrouble = null;
    return guided;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    session.guideTrouble = error;
    return session.guidedWhom === whom ? session.guided : CAUTIOUS;
  }
}

/** Two babies' milk is never mixed up: with more than one baby, the next feed is nobody's until somebody says whose it is. */
export function forgetWhose(session: Session): void {
  if (!session.guided.severalBabies) return;
  const setup: FeedSetup = {
    ...session.setup,
    ...{ babyId: null, babyName: null, babyBirthDate: null, bottleName: null },
    ...(session.setup.study && { study: null, participant: null }),
  };
  session.setup = setup;
  // Whatever is said meanwhile goes before what waits.
  keepForSure(session.keeping, () => session.options.keeper.writeSetup(session.setup));
}
