/** What the page tells of a study: quality and what is set aside, the allocation without giving it away, curves of coded arms. */
import { describe, expect, it } from 'vitest';
import { closeStudy } from '../../src/app/study/blinding.ts';
import { studyService } from '../../src/app/study/page/study-service.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { readTurning } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, START_MS, studyHere } from '../support/study.ts';

const PROGRAM = { programSha256: 'abc', softwareVersion: '2.0.0' };
const ARMS = [
  { code: 'zeta', cues: 'on' },
  { code: 'omega', cues: 'logged' },
];

describe('a study on the page', () => {
  it('is listed, and says what is still to do', () => {
    const { study, studies } = studyHere({}, 20);
    study.enroll('F07', 'all');
    const service = studyService(studies);
    expect(service.studies().studies).toEqual([
      { code: 'pace-1', title: 'Cues shown or withheld', participants: 1, sessions: 0, isClosed: false },
    ]);
    expect(service.study('pace-1')).toMatchObject({
      computedBy: null,
      hasCurves: false,
      list: [],
      withholds: true,
    });
    expect(() => service.study('other')).toThrow(/no study other/);
    expect(() => service.study('../data')).toThrow(/no study/);
    expect(studyService(studies.within('none')).studies()).toEqual({ studies: [], setAside: [] });
  });

  it('tells each session’s quality, or why it is set aside', async () => {
    const { study, studies, store } = studyHere({}, 60);
    recordFeed(store, { id: 'two', ...readTurning(), startMs: START_MS });
    study.enroll('F07', 'all');
    study.enroll('F08', 'all');
    study.bind('one', 'F07');
    study.bind('two', 'F08');
    study.bind('gone', 'F08');
    await recomputeStudy(study, store, ALONE, PROGRAM);
    study.bind('later', 'F07');
    const { list, computedBy } = studyService(studies).study('pace-1');
    expect(computedBy).toEqual({ run: '001', softwareVersion: '2.0.0' });
    const { refined } = store.get('one')!;
    const inMouth = refined!.atSec.filter((_, i) => refined!.teatInMouth[i]);
    expect(list[0]).toMatchObject({ session: 'F07-001', setAside: null });
    expect(list[0]!.lengthMin).toBeCloseTo((inMouth.at(-1)! - refined!.suckAtSec[0]!) / 60, 2);
    expect(list[0]!.goodPercent).toBeGreaterThanOrEqual(0);
    expect(list[0]!.goodPercent).toBeLessThanOrEqual(100);
    // The curve's last point may lie up to ten seconds before the end.
    expect(list[0]!.intakeMl).toBeLessThanOrEqual(refined!.totals.intakeMl + 0.01);
    expect(list[0]!.intakeMl).toBeGreaterThan(0.5 * refined!.totals.intakeMl);
    expect(list.slice(2)).toMatchObject([
      { session: 'F08-002', setAside: 'feed-missing', lengthMin: null, goodPercent: null },
      { session: 'F07-002', setAside: null, lengthMin: null },
    ]);
    study.withdraw('F07');
    expect(studyService(studies).study('pace-1')).toMatchObject({ participants: 1, sessions: 2 });
  });

  it('gives no arm away before it is closed, not even by counting', async () => {
    const { study, studies, store } = studyHere(
      { arms: ARMS, allocation: { blockSizes: [2, 4], strata: ['a', 'b'] } },
      30,
    );
    for (const code of ['F01', 'F02', 'F03']) study.enroll(code, 'a');
    study.enroll('F04', 'b');
    study.bind('one', 'F01');
    await recomputeStudy(study, store, ALONE, PROGRAM);
    const service = studyService(studies);
    const open = service.study('pace-1');
    const drawn = await service.curves('pace-1', { widthPx: 720, language: 'en' });
    expect(JSON.stringify(open) + drawn).not.toMatch(/zeta|omega/);
    expect(drawn).toMatch(/Arm coded-[12]/);
    expect(open.isBlinded).toBe(true);
    expect(open.furthestApart).toBe(2);
    expect(open.balance).toEqual([
      { stratum: 'a', enrolled: 3, arms: null },
      { stratum: 'b', enrolled: 1, arms: null },
    ]);
    closeStudy(study);
    const closed = service.study('pace-1');
    expect(closed.list[0]!.arm).toBe(study.sessions()[0]!.arm);
    expect(closed.balance[0]!.arms!.reduce((sum, { count }) => sum + count, 0)).toBe(3);
    expect(await service.curves('pace-1', { widthPx: 720, language: 'en' })).toContain(
      `Arm ${study.sessions()[0]!.arm}`,
    );
  });
});
