/**
 * Studies for researchers of a house: coded as the pages at home are, and only of feeds of children whose families let a study take part of them, while they
 * do. Each look stands in the trail.
 */
import type { FeedStore } from '../../store/feed-store.ts';
import { inResearch } from '../../ward/people/roles.ts';
import type { StudyService } from '../study/page/study-answers.ts';
import { studyService } from '../study/page/study-service.ts';
import { studiesAmong } from '../study/study-folder.ts';
import type { Who } from './ward-answers.ts';

export function wardStudies(store: FeedStore, nowMs: () => number): (who: Who) => StudyService {
  return (who) => {
    const look = (code: string | null): void =>
      store.ward(({ trail }) =>
        trail.add({ atMs: nowMs(), ...who, act: 'looked-at-study', babyId: null, more: code }),
      );
    const service = (): StudyService => studyService(studiesAmong(store.files), sharedFeeds(store, nowMs()));
    return {
      studies() {
        look(null);
        return service().studies();
      },
      study(code) {
        const answer = service().study(code);
        look(code);
        return answer;
      },
      curves: (code, asked) => service().curves(code, asked),
    };
  };
}

/** @returns whether a feed is of a child whose family takes part now */
function sharedFeeds(store: FeedStore, nowMs: number): (feedId: string) => boolean {
  const babies = new Set(
    inResearch(
      store.ward(({ records }) => records.consents()),
      nowMs,
    ),
  );
  const feeds = new Set([...babies].flatMap((babyId) => store.list({ babyId }).map(({ id }) => id)));
  return (feedId) => feeds.has(feedId);
}
