/** A study computed anew: the same bytes for the same input, on after a cut, what moved, and what is set aside. */
import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { Crew } from '../../src/app/study/crew/crew.ts';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { movedText } from '../../src/app/study/recompute/moved-text.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { packedResult, resultIn } from '../../src/app/study/sessions/result-file.ts';
import { isSetAside, type SessionResult, sessionInput } from '../../src/app/study/sessions/session-result.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { readFixture, readTurning } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, SECOND_BYTES, START_MS, studyHere } from '../support/study.ts';

const PROGRAM = { programSha256: 'abc', softwareVersion: '2.0.0' };
function three() {
  const here = studyHere({}, 30);
  const { store, study } = here;
  const poured = readFixture('poured');
  recordFeed(store, {
    ...poured,
    id: 'two',
    bytes: poured.bytes.subarray(0, 30 * SECOND_BYTES),
    startMs: START_MS,
  });
  recordFeed(store, { id: 'three', ...readTurning(), startMs: START_MS });
  study.enroll('F07', 'all');
  study.enroll('F08', 'all');
  study.bind('one', 'F07');
  study.bind('two', 'F08');
  study.bind('three', 'F07');
  return here;
}

const tableOf = (folder: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, 'differences.csv'), 'utf8'), { columns: true });
const bytesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(folder, name)).isFile())
      .map((name) => [name, readFileSync(join(folder, name)).toString('base64')]),
  );

describe('a recomputation', () => {
  it('agrees with what the store keeps to its rounding, and gives the same bytes each time', async () => {
    const { study, store } = three();
    const first = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(first).toMatchObject({
      sessions: 3,
      comparedWith: null,
      compared: 3,
      added: 0,
      isResumed: false,
      setAside: [],
      moved: [],
    });
    expect(movedText(first)).toEqual(['3 compared with what the feeds keep, 0 new:', '  nothing moved']);
    expect(first.lengthSec).toBeGreaterThan(70);
    const flow = tableOf(first.folder).filter(({ what }) => what === 'flow, rms');
    expect(flow.length).toBe(3);
    // The store keeps flow to a thousandth, so the recomputed flow differs by rounding only, and that difference is shown.
    for (const { change } of flow) {
      expect(Number(change)).toBeGreaterThan(0);
      expect(Number(change)).toBeLessThan(0.0005);
    }
    const second = await recomputeStudy(study, store, ALONE, PROGRAM);
    const third = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(third.comparedWith).toBe('002');
    expect(bytesIn(third.folder)).toEqual(bytesIn(second.folder));
    expect(bytesIn(join(third.folder, 'sessions'))).toEqual(bytesIn(join(first.folder, 'sessions')));
    expect(new Set(tableOf(third.folder).map(({ change }) => change))).toEqual(new Set(['0', '']));
  });

  it('goes on where it was cut, without doing twice what was done', async () => {
    const { study, store } = three();
    const uncut = await recomputeStudy(study, store, ALONE, PROGRAM);
    let runs = 0;
    const cutAfterOne: Crew = {
      ...ALONE,
      run: (job, arg) => (++runs > 1 ? Promise.reject(new Error('cut')) : ALONE.run(job, arg)),
    };
    await expect(recomputeStudy(study, store, cutAfterOne, PROGRAM)).rejects.toThrow('cut');
    const cutFolder = study.recomputed.where('002');
    const done = readdirSync(join(cutFolder, 'sessions'));
    expect(done).toEqual(['F07-001.json.gz']);
    const written = statSync(join(cutFolder, 'sessions', done[0]!)).ino;
    // A half-written file, as after a power cut, does not count as a result.
    writeFileCut(
      join(cutFolder, 'sessions', 'F07-002.json.gz'),
      join(uncut.folder, 'sessions', 'F07-002.json.gz'),
    );
    const went = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(went).toMatchObject({ folder: cutFolder, isResumed: true, sessions: 3 });
    expect(statSync(join(cutFolder, 'sessions', done[0]!)).ino).toBe(written);
    expect(bytesIn(join(cutFolder, 'sessions'))).toEqual(bytesIn(join(uncut.folder, 'sessions')));
  });

  it('begins anew with another program, and says what moved and by how much', async () => {
    const { study, store } = three();
    const first = await recomputeStudy(study, store, ALONE, PROGRAM);
    // As if an older estimator had found 2 mL more in one feed and could not read another.
    const path = join(first.folder, 'sessions', 'F07-001.json.gz');
    const before = resultIn(readFileSync(path), null)!;
    if (isSetAside(before)) throw new Error(before);
    const found = sessionInput(store, 'one', study.protocol);
    if (typeof found === 'string') throw new Error(found);
    const more = {
      ...before.refined,
      totals: { ...before.refined.totals, intakeMl: before.refined.totals.intakeMl + 2 },
    };
    writeFileSync(path, packedResult(found.input, { ...before, refined: more }));
    const other = join(first.folder, 'sessions', 'F08-001.json.gz');
    writeFileSync(other, packedResult(found.input, 'unreadable'));
    const now = await recomputeStudy(study, store, ALONE, { ...PROGRAM, programSha256: 'def' });
    expect(now).toMatchObject({ isResumed: false, comparedWith: '001' });
    const taken = tableOf(now.folder).find(
      ({ session, what }) => session === 'F07-001' && what === 'milk taken',
    )!;
    expect(Number(taken.change)).toBeCloseTo(-2, 9);
    expect(Number(taken.before)).toBe(more.totals.intakeMl);
    expect(tableOf(now.folder).filter(({ session }) => session === 'F08-001')).toEqual([
      { session: 'F08-001', what: 'set aside', unit: '', before: 'unreadable', now: 'computed', change: '' },
    ]);
    expect(now.moved).toEqual([
      { what: 'milk taken', unit: 'mL', sessions: 1, most: expect.closeTo(2, 9) },
      { what: 'set aside', unit: '', sessions: 1, most: 0 },
    ]);
    expect(movedText(now)).toEqual([
      '3 compared with run 001, 0 new:',
      '  milk taken: moved in 1, by at most 2.00 mL',
      '  set aside: moved in 1',
    ]);
  });

  it('takes results of an older program, which had fewer indices, and none of a shape that it does not know', async () => {
    const { study, store } = three();
    const first = await recomputeStudy(study, store, ALONE, PROGRAM);
    const found = sessionInput(store, 'one', study.protocol);
    if (typeof found === 'string') throw new Error(found);
    const put = (session: string, change: (before: object) => object): void => {
      const path = join(first.folder, 'sessions', `${session}.json.gz`);
      const before = resultIn(readFileSync(path), null) as object;
      writeFileSync(path, packedResult(found.input, change(before) as SessionResult));
    };
    put('F07-001', (before) => ({ ...before, indices: {} }));
    put('F07-002', () => ({ anotherShape: true }));
    const now = await recomputeStudy(study, store, ALONE, { ...PROGRAM, programSha256: 'def' });
    expect(movedText(now)[0]).toBe('2 compared with run 001, 1 new:');
    const changes = tableOf(now.folder).filter(({ session }) => session === 'F07-001');
    expect(changes.find(({ what }) => what === 'suckCount')).toMatchObject({ before: '', change: '' });
    expect(changes.find(({ what }) => what === 'sucks')).toMatchObject({ change: '0' });
  });

  it('tells sessions that were bound since apart: of them nothing can have stayed', async () => {
    const { study, store, bytes, calibration } = three();
    await recomputeStudy(study, store, ALONE, PROGRAM);
    const cut = bytes.subarray(0, 20 * SECOND_BYTES);
    recordFeed(store, { id: 'four', bytes: cut, calibration, startMs: START_MS });
    study.bind('four', 'F08');
    study.bind('gone', 'F08');
    const second = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(second).toMatchObject({ sessions: 4, compared: 3, added: 1, moved: [] });
    expect(movedText(second)).toEqual(['3 compared with run 001, 1 new:', '  nothing moved']);
    expect(tableOf(second.folder).filter(({ session }) => session === 'F08-002')).toEqual([]);
    // A run without sessions is not compared with the next one.
    const { study: later, store: its } = studyHere({}, 20);
    await recomputeStudy(later, its, ALONE, PROGRAM);
    later.enroll('F01', 'all');
    later.bind('one', 'F01');
    const first = await recomputeStudy(later, its, ALONE, PROGRAM);
    expect(movedText(first)).toEqual(['Nothing to compare with in run 001: 1 new']);
  });

  it('sets aside what cannot be used, says why, and goes on with the rest', async () => {
    const here = studyHere({ calibrationMostDays: 30 }, 60);
    const { study, store, calibration } = here;
    const turning = readTurning();
    const kept = (id: string, change: object, more: object = {}) =>
      recordFeed(store, {
        id,
        bytes: turning.bytes,
        calibration: { ...turning.calibration, ...change } as Calibration,
        startMs: START_MS,
        ...more,
      });
    kept('old', { calibratedAt: '2025-11-01T09:00:00Z' });
    kept('undated', { calibratedAt: 'some day' });
    kept('other', { sleeveNumber: 77 });
    kept('without', {});
    kept('again', {});
    kept('lost', {});
    // Every third second of the capture is missing.
    const gaps = Buffer.concat(
      Array.from({ length: 60 }, (_, i) =>
        here.bytes.subarray(i * SECOND_BYTES, (i + 1) * SECOND_BYTES),
      ).filter((_, i) => i % 3 !== 2),
    );
    recordFeed(store, { id: 'gaps', bytes: gaps, calibration, startMs: START_MS });
    rmSync(store.capturePath('lost')!);
    study.enroll('F07', 'all');
    const feeds = ['one', 'old', 'undated', 'other', 'without', 'again', 'lost', 'gaps', 'gone'];
    for (const feed of feeds) study.bind(feed, 'F07');
    const noCalibration = {
      get: (id: string) => (id === 'old' ? { ...store.get(id)!, calibration: null } : store.get(id)),
      capturePath: (id: string) => store.capturePath(id),
    };
    const wanted = [
      { session: 'F07-002', why: 'calibration-too-old' },
      { session: 'F07-003', why: 'calibration-undated' },
      { session: 'F07-004', why: 'calibration-of-another-sleeve' },
      { session: 'F07-006', why: 'duplicate' },
      { session: 'F07-007', why: 'no-capture' },
      { session: 'F07-008', why: 'gaps' },
      { session: 'F07-009', why: 'feed-missing' },
    ];
    const done = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(done.setAside).toEqual(wanted);
    expect(done.sessions).toBe(2);
    const again = await recomputeStudy(study, noCalibration, ALONE, PROGRAM);
    expect(again.setAside[0]).toEqual({ session: 'F07-002', why: 'no-calibration' });
    const out = join(here.folder, 'export');
    const exported = await exportStudy(study, store, ALONE, {
      out,
      raw: true,
      figures: false,
      softwareVersion: '1',
    });
    expect(exported.setAside).toEqual(wanted);
    expect(readdirSync(join(out, 'raw'))).toEqual(['F07-001.parquet', 'F07-005.parquet']);
  });

  it('is what an export by the same program takes, and by another does not', async () => {
    const { study, store, folder } = three();
    await recomputeStudy(study, store, ALONE, PROGRAM);
    const path = study.recomputed.where('001/sessions/F07-001.json.gz');
    const found = sessionInput(store, 'one', study.protocol);
    const before = resultIn(readFileSync(path), null)!;
    if (typeof found === 'string' || isSetAside(before)) throw new Error('no result');
    const marked = {
      ...before,
      refined: { ...before.refined, totals: { ...before.refined.totals, intakeMl: 77 } },
    };
    writeFileSync(path, packedResult(found.input, marked));
    const taken = async (name: string, programSha256: string) => {
      const out = join(folder, name);
      await exportStudy(study, store, ALONE, {
        out,
        raw: false,
        figures: false,
        softwareVersion: '1',
        programSha256,
      });
      const rows: Record<string, string>[] = parse(readFileSync(join(out, 'sessions.csv'), 'utf8'), {
        columns: true,
      });
      return Number(rows[0]!.intake_ml);
    };
    expect(await taken('a', 'abc')).toBe(77);
    expect(await taken('b', 'def')).toBe(before.refined.totals.intakeMl);
    // A result of another protocol or another setup of the feed is not used either.
    const other = { ...found.input, protocol: { ...study.protocol, plannedPortionMl: 55 } };
    writeFileSync(path, packedResult(other, marked));
    expect(await taken('c', 'abc')).toBe(before.refined.totals.intakeMl);
  });

  it('keeps nothing of whoever withdrew', async () => {
    const { study, store } = three();
    const first = await recomputeStudy(study, store, ALONE, PROGRAM);
    store.discard('two');
    const second = await recomputeStudy(study, store, ALONE, PROGRAM);
    expect(second.setAside).toEqual([{ session: 'F08-001', why: 'not-ended' }]);
    const of = (folder: string) =>
      JSON.stringify([
        Object.keys(bytesIn(folder)),
        tableOf(folder),
        readFileSync(join(folder, 'done.json'), 'utf8'),
      ]);
    expect(of(first.folder) + of(second.folder)).toContain('F08');
    study.withdraw('F08');
    for (const { folder } of [first, second]) {
      expect(of(folder)).not.toContain('F08');
      expect(tableOf(folder).filter(({ session }) => session === 'F07-002').length).toBeGreaterThan(0);
    }
  });
});

function writeFileCut(path: string, from: string): void {
  const whole = readFileSync(from);
  writeFileSync(path, whole.subarray(0, whole.length / 2));
}
