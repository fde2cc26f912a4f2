/** Feeds as sessions of a study: named before the feed, bound as it begins, with the cues of their arm. */
import { BehaviorSubject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { closeStudy } from '../../src/app/study/blinding.ts';
import { bindSessions, guideInStudy, studyChoices } from '../../src/app/study/study-feeds.ts';
import type { LiveView, NoticeKind } from '../../src/feed/live/live-view.ts';
import type { Guided } from '../../src/feed/recording/guided.ts';
import { EMPTY_SETUP, viewOf } from '../support/fake-live.ts';
import { studyHere } from '../support/study.ts';

const EACH_FEED = { allocation: { blockSizes: [2], strata: ['all'], unit: 'feed' } };
const setupOf = (participant: string, study = 'pace-1') => ({ ...EMPTY_SETUP, study, participant });
const guideWith =
  (notices: NoticeKind[] = []) =>
  (): Guided => ({ ran: null, notices, severalBabies: false });

describe('a feed before which a participant was named', () => {
  it('has cues withheld where the arm says so, and only there', () => {
    const { study, studies, clock } = studyHere(EACH_FEED);
    study.enroll('F07', 'all');
    const guide = guideInStudy(guideWith(), studies, clock);
    const seen = Array.from({ length: 8 }, (_, i) => {
      const withheld = guide(setupOf('F07')).withholds ?? false;
      const { arm } = study.bind(`feed-${i}`, 'F07');
      return [withheld, arm];
    });
    expect(seen.filter(([withheld, arm]) => withheld !== (arm === 'withheld'))).toEqual([]);
    // Blocks of two: in each pair of feeds one of each.
    for (let i = 0; i < 8; i += 2) expect(new Set(seen.slice(i, i + 2).map(([, arm]) => arm)).size).toBe(2);
  });

  it('has them shown without a study, for a participant who is not in it, and where screening holds cues back', () => {
    const { study, studies, clock } = studyHere({
      arms: [{ code: 'withheld', cues: 'logged' }],
      allocation: null,
    });
    study.enroll('F07', 'all');
    const of = (setup: object, notices: NoticeKind[] = []) =>
      guideInStudy(guideWith(notices), studies, clock)({ ...EMPTY_SETUP, ...setup }).withholds ?? false;
    expect(of(setupOf('F07'))).toBe(true);
    expect(of({})).toBe(false);
    expect(of(setupOf('F08'))).toBe(false);
    expect(of(setupOf('F07', 'none'))).toBe(false);
    for (const notice of ['cues-off', 'not-screened', 'with-plan', 'whose-feed'] as const)
      expect([notice, of(setupOf('F07'), [notice])]).toEqual([notice, false]);
  });

  it('is bound once, as it begins, by what was said before it; a study that is gone is said once', () => {
    const { study, studies, clock } = studyHere();
    study.enroll('F07', 'all');
    study.enroll('F08', 'all');
    const view$ = new BehaviorSubject<LiveView>(
      viewOf({ feedId: null, feedState: 'none', setup: setupOf('F07') }),
    );
    const said: string[] = [];
    const bound = bindSessions({ view$ }, { studies, clock, say: (text) => said.push(text) });
    view$.next(viewOf({ feedId: 'a', feedState: 'open', setup: setupOf('F07') }));
    view$.next(viewOf({ feedId: 'a', feedState: 'open', setup: setupOf('F08') }));
    view$.next(viewOf({ feedId: 'a', feedState: 'ended', setup: setupOf('F08') }));
    view$.next(viewOf({ feedId: 'b', feedState: 'open', setup: EMPTY_SETUP }));
    for (let i = 0; i < 3; i++)
      view$.next(viewOf({ feedId: 'c', feedState: 'open', setup: setupOf('F07', 'gone') }));
    bound.unsubscribe();
    expect(study.sessions().map(({ feed, participant }) => [feed, participant])).toEqual([['a', 'F07']]);
    expect(said).toEqual([expect.stringContaining('There is no study gone')]);
  });

  it('is chosen from codes alone, without whoever withdrew', () => {
    const { study, studies, clock } = studyHere();
    for (const participant of ['F08', 'F07', 'F09']) study.enroll(participant, 'all');
    study.withdraw('F09');
    expect(studyChoices(studies, clock)).toEqual([
      { study: 'pace-1', title: 'Cues shown or withheld', participants: ['F07', 'F08'] },
    ]);
    closeStudy(study);
    expect(studyChoices(studies, clock)).toEqual([]);
  });
});
