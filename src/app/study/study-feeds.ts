/**
 * Feeds that are sessions of a study: said before the feed, bound to the participant as it begins, and with the cues that its arm has.
 */
import type { Subscription } from 'rxjs';
import { PlainError } from '../../base/errors.ts';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { LiveView, NoticeKind } from '../../feed/live/live-view.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { Guided } from '../../feed/session/guided.ts';
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

/** @returns studies that are not closed with their participants, for the form before a feed; without those that cannot be read */
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

/** Screening holds cues back: this baby is not one whose cues a study may withhold, and most are off anyway. */
const HELD_BACK: readonly NoticeKind[] = ['cues-off', 'not-screened', 'with-plan', 'whose-feed'];

/** What a feed runs with, as `guide` has it, and whether its arm has cues shown. */
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
      // A study that cannot be read withholds nothing; that its feed cannot be bound is said as it begins.
      if (error instanceof PlainError) return asked;
      throw error;
    }
  };

const TRY_AGAIN_MS = 5000;

/**
 * Binds each feed, as it begins, to the participant who was named before it; tries again while that fails.
 * @param say  told once a feed why it is not bound yet
 */
export function bindSessions(
  live: Pick<LiveFeed, 'view$'>,
  { studies, clock, say }: { studies: SideFiles; clock: StudyClock; say: (text: string) => void },
): Subscription {
  let done: string | null = null;
  let said: string | null = null;
  let notBeforeMs = 0;
  /** The answers may change within the feed; those it began with count. */
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

const textOf = (error: unknown): string =>
  error instanceof PlainError ? error.text : error instanceof Error ? error.message : String(error);
