/**
 * Feeds that are sessions of a study: chosen before the feed, bound to the participant as it begins, and run with the cues of its arm.
 */
import type { Subscription } from 'rxjs';
import { messageOf, PlainError } from '../../base/errors.ts';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { LiveView, NoticeKind } from '../../feed/live/live-view.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Guided } from '../../feed/recording/guided.ts';
import type { SideFiles } from '../../store/side-files.ts';
import { isClosed } from './blinding.ts';
import { WITHDRAWN } from './export/privacy.ts';
import { type StudyClock, StudyFolder } from './study-folder.ts';
import { foundBefore } from './what-is-learned.ts';

export interface StudyChoice {
  study: string;
  title: string;
  participants: string[];
}

/** @returns open studies with their participants, for the form before a feed; unreadable studies are left out */
export const studyChoices = (studies: SideFiles, clock: StudyClock): StudyChoice[] =>
  StudyFolder.all(studies, clock)
    .open.filter((study) => !isClosed(study))
    .map((study) => ({
      study: study.protocol.code,
      title: study.protocol.title,
      participants: study
        .allocations()
        .map(({ participant }) => participant)
        .filter((participant) => participant !== WITHDRAWN)
        .sort(),
    }));

/** With these notices screening holds cues back; then a study must not withhold more, and most cues are off anyway. */
const HELD_BACK: readonly NoticeKind[] = ['cues-off', 'not-screened', 'with-plan', 'whose-feed'];

/** The settings by `guide`, plus whether the arm shows cues. */
export const guideInStudy =
  (guide: (setup: FeedSetup) => Guided, studies: SideFiles, clock: StudyClock) =>
  (setup: FeedSetup): Guided => {
    const asked = guide(setup);
    const { study, participant } = setup;
    if (!study || !participant || asked.notices.some((kind) => HELD_BACK.includes(kind))) return asked;
    try {
      const folder = StudyFolder.open(studies, study, clock);
      const isWithheld =
        folder.protocol.withholding !== null && folder.nextArm(participant).cues === 'logged';
      const paces = foundBefore(folder, participant)?.length.isLearned ?? false;
      const guided: Guided = paces ? { ...asked, notices: [...asked.notices, 'paces-alone'] } : asked;
      return isWithheld ? { ...guided, withholds: true } : guided;
    } catch (error) {
      // A study that cannot be read withholds nothing; the error is reported when the feed begins.
      if (error instanceof PlainError) return asked;
      throw error;
    }
  };

const TRY_AGAIN_MS = 5000;

/**
 * Binds each feed, as it begins, to the participant chosen before it; tries again while that fails.
 * @param say  called once a feed with the reason if it is not bound yet
 */
export function bindSessions(
  live: Pick<LiveFeed, 'view$'>,
  { studies, clock, say }: { studies: SideFiles; clock: StudyClock; say: (text: string) => void },
): Subscription {
  let done: string | null = null;
  let said: string | null = null;
  let notBeforeMs = 0;
  /** The answers at the start of the feed; later changes do not count. */
  let begun: { feed: string; setup: FeedSetup } | null = null;
  return live.view$.subscribe(({ feedId, feedState, setup }: LiveView) => {
    if (feedId === null || feedId === done) return;
    if (feedState === 'open' && begun?.feed !== feedId) begun = { feed: feedId, setup };
    if (begun?.feed !== feedId) return;
    const { study, participant } = begun.setup;
    if (!study || !participant || clock.nowMs() < notBeforeMs) return;
    try {
      StudyFolder.open(studies, study, clock).bind(feedId, participant);
      done = feedId;
    } catch (error) {
      if (error instanceof PlainError && error.code === 'session-twice') done = feedId;
      else {
        notBeforeMs = clock.nowMs() + TRY_AGAIN_MS;
        if (said !== feedId) say(`The feed is not bound to study ${study} yet: ${textOf(error)}`);
        said = feedId;
      }
    }
  });
}

const textOf = (error: unknown): string => (error instanceof PlainError ? error.text : messageOf(error));
