/** What is wrong in a study is reported and set aside; the rest goes on. (Sessions: study-recompute.slow.test.ts.) */
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { oneByOne } from '../../src/app/study/one-by-one.ts';
import { studyService } from '../../src/app/study/page/study-service.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { studyChoices } from '../../src/app/study/study-feeds.ts';
import { StudyFolder } from '../../src/app/study/study-folder.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { readTurning } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { refusalOf } from '../support/refusals.ts';
import { ALONE, PROTOCOL, START_MS, studyHere } from '../support/study.ts';

describe('studies that this version cannot read', () => {
  function four() {
    const here = studyHere({}, 10);
    const { studies, clock } = here;
    for (const code of ['newer', 'torn', 'log']) StudyFolder.begin(studies, { ...PROTOCOL, code }, clock);
    const protocol = studies.where('newer/protocol.json');
    const parsed = JSON.parse(readFileSync(protocol, 'utf8'));
    writeFileSync(protocol, JSON.stringify({ ...parsed, somethingNew: 1 }));
    writeFileSync(studies.where('torn/protocol.json'), '{"version":1,"co');
    appendFileSync(studies.where('log/audit.jsonl'), '{"atMs":\n');
    return here;
  }

  it('are named with what to do, and opened as nothing', () => {
    const { studies, clock } = four();
    const open = (code: string) => refusalOf(() => StudyFolder.open(studies, code, clock).auditLines());
    expect(open('newer')).toMatchObject({ code: 'study-newer' });
    expect(open('torn')).toMatchObject({ code: 'study-damaged' });
    expect(open('log')).toMatchObject({ code: 'study-log-damaged' });
    expect(open('log').message).toMatch(/^Line 2 of .*audit\.jsonl is damaged/);
  });

  it('keep no other from the list, the page and the form before a feed', () => {
    const { studies, clock } = four();
    const { open, setAside } = StudyFolder.all(studies, clock);
    expect(open.map(({ protocol }) => protocol.code)).toEqual(['pace-1']);
    expect(setAside.map(({ code }) => code).sort()).toEqual(['log', 'newer', 'torn']);
    const told = studyService(studies).studies();
    expect(told.studies.map(({ code }) => code)).toEqual(['pace-1']);
    expect([...told.setAside].sort((a, b) => (a.code < b.code ? -1 : 1))).toEqual([
      { code: 'log', why: 'damaged' },
      { code: 'newer', why: 'newer' },
      { code: 'torn', why: 'damaged' },
    ]);
    expect(studyChoices(studies, clock).map(({ study }) => study)).toEqual(['pace-1']);
  });
});

it('a study of an older version goes on, with today’s usual answers for what it did not ask', () => {
  const { study, studies, clock } = studyHere({}, 10);
  const path = studies.where('pace-1/protocol.json');
  const { language, missingSamplesMost, ...older } = JSON.parse(readFileSync(path, 'utf8'));
  expect([language, missingSamplesMost]).toEqual(['en', 0.05]);
  delete older.allocation.placesPerStratum;
  writeFileSync(path, JSON.stringify(older));
  expect(StudyFolder.open(studies, 'pace-1', clock).protocol).toEqual(study.protocol);
});

describe('several at once', () => {
  it('a code twice and one too many are set aside, the others enrolled, and both listed at the end', () => {
    const { study } = studyHere(
      { allocation: { blockSizes: [2], strata: ['all'], placesPerStratum: 3 } },
      10,
    );
    const lines: string[] = [];
    const enroll = (one: string) => {
      study.enroll(one, 'all');
      return `enrolled ${one}`;
    };
    const refused = refusalOf(() =>
      oneByOne(['F01', 'F02', 'F01', 'F03', 'F04'], enroll, (line) => lines.push(line)),
    );
    expect(lines).toEqual(['enrolled F01', 'enrolled F02', 'enrolled F03']);
    expect(refused.code).toBe('some-set-aside');
    expect(refused.message).toBe(
      [
        '2 of 5 set aside:',
        '  F01: Participant F01 is already in the study. Choose a code that is not in use, or go on with the one that is.',
        '  F04: Stratum all is full: all 3 places of the protocol are allocated. Participant F04 was not enrolled. More participants need a study of their own.',
        '',
      ].join('\n'),
    );
    expect(refused.text.split('\n').at(-1)).toBe('The others are done.');
    expect(study.allocations().map(({ participant }) => participant)).toEqual(['F01', 'F02', 'F03']);
    // Whoever withdraws leaves no place free: it would tell the arm of the next.
    study.withdraw('F02');
    expect(refusalOf(() => study.enroll('F05', 'all')).code).toBe('allocation-used-up');
  });

  it('a feed that has a session is set aside, and one alone is refused as it is', () => {
    const { study } = studyHere({}, 10);
    study.enroll('F01', 'all');
    const lines: string[] = [];
    const session = (feed: string) => study.bind(feed, 'F01').session;
    const bind = (feeds: string[]) => () => oneByOne(feeds, session, (line) => lines.push(line));
    expect(refusalOf(bind(['one', 'one', 'two'])).message).toContain('1 of 3 set aside');
    expect(lines).toEqual(['F01-001', 'F01-002']);
    expect(refusalOf(bind(['two'])).code).toBe('session-twice');
    expect(refusalOf(bind(['one', 'two'])).remedy).toBe('Nothing was changed.');
  });
});

it('an export of nothing says so, and claims no measured zeros', async () => {
  const { study, store, folder } = studyHere({}, 10);
  const out = join(folder, 'empty');
  await exportStudy(study, store, ALONE, { out, raw: true, figures: false, softwareVersion: '1' });
  const methods = readFileSync(join(out, 'methods.md'), 'utf8');
  expect(methods).toContain('No session meets the protocol yet (0 set aside)');
  expect(methods).not.toMatch(/samples a second|mL/);
});

it('a calibration or counts that nobody can read cost their own session alone', async () => {
  const { study, store, folder } = studyHere({}, 30);
  const turning = readTurning();
  const record = (id: string, bytes: Uint8Array, change: object = {}) =>
    recordFeed(store, {
      id,
      bytes,
      calibration: { ...turning.calibration, ...change } as Calibration,
      startMs: START_MS,
    });
  record('fine', turning.bytes);
  record('damaged', turning.bytes.subarray(0, -4000));
  const noise = join(folder, 'noise.cap');
  writeFileSync(noise, Buffer.alloc(50_000, 0x5a));
  study.enroll('F07', 'all');
  for (const feed of ['one', 'damaged', 'fine']) study.bind(feed, 'F07');
  const damaged = {
    get: (id: string) =>
      id === 'damaged'
        ? { ...store.get(id)!, calibration: { calibratedAt: '2026-01-04T09:00:00Z' } }
        : store.get(id),
    capturePath: (id: string) => (id === 'one' ? noise : store.capturePath(id)),
  };
  const { sessions, setAside } = await recomputeStudy(study, damaged, ALONE, {
    programSha256: 'abc',
    softwareVersion: '1',
  });
  expect(sessions).toBe(1);
  expect(setAside).toEqual([
    { session: 'F07-001', why: 'unreadable' },
    { session: 'F07-002', why: 'unreadable' },
  ]);
});
