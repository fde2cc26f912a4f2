/** What a researcher of a house is told of studies: coded, of those who take part, while they do. */
import { describe, expect, it } from 'vitest';
import { StudyFolder, studiesAmong } from '../../src/app/study/study-folder.ts';
import { wardStudies } from '../../src/app/ward/ward-studies.ts';
import { EMPTY_SETUP } from '../../src/store/database/settings.ts';
import { babyEntry } from '../support/babies.ts';
import { begunFeed } from '../support/store-samples.ts';
import { PROTOCOL, START_MS, studyHere } from '../support/study.ts';

const THEO = { person: 'p-theo', role: 'researcher' } as const;
const DAY_MS = 24 * 3600_000;

function house() {
  const here = studyHere({}, 10);
  const { store, clock } = here;
  const study = StudyFolder.begin(studiesAmong(store.files), PROTOCOL, clock);
  const babyId = store.addBaby({ ...babyEntry(), name: 'Ilo' }).id;
  store.begin(begunFeed('two', { setup: { ...EMPTY_SETUP, babyId, babyName: 'Ilo' } }), {});
  study.enroll('F01', 'all');
  // The feed "one" has no child.
  study.bind('one', 'F01');
  study.bind('two', 'F01');
  let nowMs = START_MS + DAY_MS;
  const consent = (untilMs: number | null) =>
    store.ward(({ records }) =>
      records.addConsent({
        ...{ babyId, what: 'research', person: null, fromMs: nowMs, untilMs, givenTo: 'p-lead' },
      }),
    );
  return {
    ...here,
    babyId,
    consent,
    told: () => wardStudies(store, () => nowMs)(THEO).study('pace-1'),
    service: () => wardStudies(store, () => nowMs)(THEO),
    later: (ms: number) => {
      nowMs += ms;
    },
  };
}

describe('studies of a house', () => {
  it('tell of no session whose child is nobody’s, or whose family did not say yes', () => {
    const { told, consent } = house();
    expect(told()).toMatchObject({ sessions: 2, notShared: 2, list: [] });
    consent(null);
    expect(told()).toMatchObject({ sessions: 2, notShared: 1, list: [{ participant: 'F01' }] });
  });

  it('tell of a session from a consent up to its end, to the millisecond, with codes and no name', () => {
    const { told, consent, later, service } = house();
    consent(START_MS + 2 * DAY_MS);
    expect(told().list).toHaveLength(1);
    expect(JSON.stringify([told(), service().studies()])).not.toMatch(/Ilo|"two"|2026-|\b17\d{11}\b/);
    later(DAY_MS - 1);
    expect(told().list).toHaveLength(1);
    later(1);
    expect(told()).toMatchObject({ notShared: 2, list: [], hasCurves: false });
  });

  it('write each look into the trail, by its code', () => {
    const { told, service, store } = house();
    service().studies();
    told();
    expect(() => service().study('none')).toThrow();
    const lines = store.ward(({ trail }) => trail.latest({ limit: 9 })).reverse();
    expect(lines.map(({ person, role, act, babyId, more }) => [person, role, act, babyId, more])).toEqual([
      ['p-theo', 'researcher', 'looked-at-study', null, null],
      ['p-theo', 'researcher', 'looked-at-study', null, 'pace-1'],
    ]);
  });
});
