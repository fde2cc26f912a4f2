/** The settings and the baby of a recorder's next feed. */
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
 * Asks again for the settings of the next feed. If they cannot be read now: for the same baby the last known ones are used, for another baby the
 * "slower" and "enough" cues are off.
 */
export function guideAnew(recorder: Recorder): void {
  if (!recorder.feed) recorder.guided = askGuide(recorder);
}

const SAY_CUES_OFF: readonly NoticeKind[] = ['cues-off', 'not-screened', 'cues-next-feed'];

/**
 * The baby of the open feed was named or its record changed: cues that this baby must not have are turned off at once. Nothing is turned on, and the pace stays.
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

/** Identifies the baby that the answers mean, by record or as typed in. */
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

/** Where several babies have records, the baby must be chosen again for each feed, so that feeds of two babies are not mixed up. */
export function forgetWhose(recorder: Recorder): void {
  if (!recorder.guided.severalBabies) return;
  const setup: FeedSetup = {
    ...recorder.setup,
    ...{ babyId: null, babyName: null, babyBirthDate: null, bottleName: null },
    ...(recorder.setup.study && { study: null, participant: null }),
  };
  recorder.setup = setup;
  // Read the setup when the write is done: answers given meanwhile must not be overwritten by older ones.
  writeOrQueue(recorder.pending, () => recorder.options.storage.writeSetup(recorder.setup));
}
