/** What a recorder's next feed runs with, and whose it is. */
import { PlainError } from '../../base/errors.ts';
import { turnOffCues } from '../engine.ts';
import type { NoticeKind } from '../live/live-view.ts';
import type { FeedSetup } from '../record/feed.ts';
import { writeOrQueue } from '../record/pending-writes.ts';
import { CAUTIOUS, type Guided } from './guided.ts';
import { addEvent } from './host-events.ts';
import type { Recorder } from './recorder.ts';

export const UNGUIDED: Guided = { ran: null, notices: [], severalBabies: false };

/**
 * Asks anew what the next feed runs with. Where that cannot be told now, what was known of this baby stands; of another, the cues that a baby may not be
 * meant to have are off.
 */
export function guideAnew(recorder: Recorder): void {
  if (!recorder.feed) recorder.guided = askGuide(recorder);
}

const SAY_CUES_OFF: readonly NoticeKind[] = ['cues-off', 'not-screened', 'cues-next-feed'];

/**
 * Somebody has said whose the open feed is, or something else about that baby: what it is not to have ends at once; nothing is turned on, and the pace stays.
 */
export function holdBackNow(recorder: Recorder): void {
  const { feed } = recorder;
  if (!feed) return;
  const { ran, notices, severalBabies } = askGuide(recorder);
  const off = feed.engine.pacing.guidance.cuesOff;
  const cues = ran?.guidance.cuesOff.filter((kind) => !off.includes(kind)) ?? [];
  if (cues.length > 0) {
    addEvent(feed, { kind: 'cues-off', atSec: turnOffCues(feed.engine, cues), cues });
  }
  const isSaid = notices.some((kind) => SAY_CUES_OFF.includes(kind));
  const wasSaid = recorder.guided.notices.some((kind) => SAY_CUES_OFF.includes(kind));
  recorder.guided = {
    ran: recorder.guided.ran,
    notices: wasSaid && !isSaid ? ['cues-next-feed', ...notices] : notices,
    severalBabies,
  };
}

/** Whom the answers mean, kept or typed in. */
const whomOf = ({ babyId, babyName, babyBirthDate }: FeedSetup): string =>
  JSON.stringify([babyId ?? null, babyName, babyBirthDate]);

function askGuide(recorder: Recorder): Guided {
  const whom = whomOf(recorder.setup);
  try {
    const guided = recorder.options.guide?.(recorder.setup) ?? UNGUIDED;
    recorder.guidedWhom = whom;
    recorder.guideTrouble = null;
    return guided;
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    recorder.guideTrouble = error;
    return recorder.guidedWhom === whom ? recorder.guided : CAUTIOUS;
  }
}

/** Two babies' milk is never mixed up: with more than one baby, the next feed is nobody's until somebody says whose it is. */
export function forgetWhose(recorder: Recorder): void {
  if (!recorder.guided.severalBabies) return;
  const setup: FeedSetup = {
    ...recorder.setup,
    ...{ babyId: null, babyName: null, babyBirthDate: null, bottleName: null },
    ...(recorder.setup.study && { study: null, participant: null }),
  };
  recorder.setup = setup;
  // Whatever is said meanwhile goes before what waits.
  writeOrQueue(recorder.pending, () => recorder.options.storage.writeSetup(recorder.setup));
}
