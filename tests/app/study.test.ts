/** A study from its protocol to its export, with a feed of the fixtures. */
import { createHash } from 'node:crypto';
import { appendFileSync, existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { closeStudy } from '../../src/app/study/blinding.ts';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { HANDED_OUT } from '../../src/app/study/handed-out.ts';
import { addLine } from '../../src/app/study/log-file.ts';
import { StudyFolder } from '../../src/app/study/study-folder.ts';
import { replay } from '../../src/feed/replay.ts';
import { isSideFile } from '../../src/store/portable/backup-files.ts';
import { ALONE, PROTOCOL, START_MS, studyHere } from '../support/study.ts';

const tableOf = (folder: string, name: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, `${name}.csv`), 'utf8'), { columns: true });

describe('a study', () => {
  it('exports every number with its unit, what made it, and nobody’s name', async () => {
    const { folder, store, study, bytes, calibration } = studyHere();
    const { arm } = study.enroll('F07', 'all');
    study.bind('one', 'F07');
    study.bind('gone', 'F07');
    closeStudy(study);
    const out = join(folder, 'export');
    const result = await exportStudy(study, store, ALONE, {
      out,
      raw: true,
      figures: false,
      softwareVersion: '9.9.9',
    });
    expect(result).toMatchObject({ sessions: 1, setAside: [{ session: 'F07-002', why: 'feed-missing' }] });

    const [first, second] = tableOf(out, 'sessions');
    expect(first).toMatchObject({
      session: 'F07-001',
      arm,
      recorded_by: '1.2.3',
      computed_by: '9.9.9',
      set_aside: '',
    });
    expect(second).toMatchObject({ session: 'F07-002', set_aside: 'feed-missing' });
    // Dates are moved by whole weeks: another day, the same day of the week.
    const day = Date.parse(first!.day!);
    expect(day).toBeLessThan(START_MS - 86_400_000);
    expect(new Date(day).getUTCDay()).toBe(new Date(START_MS).getUTCDay());

    const { refined } = store.get('one')!;
    const rows = tableOf(out, 'rows');
    expect(rows.length).toBe(refined!.atSec.length);
    // The store rounds its columns; the export is computed from the capture, unrounded.
    const again = replay([bytes], { calibration, portionMl: null }).refined;
    expect(rows.map((row) => Number(row.intake_ml))).toEqual(again.intakeMl);
    rows.forEach((row, i) => {
      expect(Number(row.intake_ml)).toBeCloseTo(refined!.intakeMl[i]!, 2);
    });
    expect(tableOf(out, 'indices').find(({ index }) => index === 'intakeMl')).toMatchObject({ unit: 'mL' });
    const kept = store.get('one')!;
    expect(first!.told_known).toBe(String(kept.told !== undefined));
    expect(tableOf(out, 'told').map(({ shown, output }) => ({ shown, output }))).toEqual(
      (kept.told ?? []).map(({ shown, output }) => ({ shown, output })),
    );
    expect(tableOf(out, 'cues').map(({ kind }) => kind)).toEqual(kept.cues.map(({ kind }) => kind));

    // The package names each file with the hash of its bytes, and each column with its type.
    const { resources } = JSON.parse(readFileSync(join(out, 'datapackage.json'), 'utf8'));
    for (const { path, hash, bytes, schema, format } of resources) {
      if (format !== 'csv') continue;
      const data = readFileSync(join(out, path));
      expect([path, `sha256:${createHash('sha256').update(data).digest('hex')}`, data.length]).toEqual([
        path,
        hash,
        bytes,
      ]);
      const [heads] = parse(data.toString(), { to: 1 }) as string[][];
      expect(heads).toEqual(schema.fields.map(({ name }: { name: string }) => name));
    }
    expect(readFileSync(join(out, 'methods.md'), 'utf8')).toMatch(
      /Ebbline 9\.9\.9[\s\S]*recorded by 1\.2\.3[\s\S]*not a medical device/,
    );
  });

  it('gives the same bytes for the same input', async () => {
    const { folder, store, study } = studyHere();
    study.enroll('F07', 'all');
    study.bind('one', 'F07');
    const texts: string[] = [];
    for (const name of ['a', 'b']) {
      await exportStudy(study, store, ALONE, {
        out: join(folder, name),
        raw: true,
        figures: false,
        softwareVersion: '1',
      });
      texts.push(readFileSync(join(folder, name, 'datapackage.json'), 'utf8'));
    }
    // The package holds the hash of every file.
    expect(texts[0]).toBe(texts[1]);
  });

  it('has no file that a backup would leave out', () => {
    const { study, studies } = studyHere();
    study.enroll('F01', 'all');
    study.bind('one', 'F01');
    addLine(study.files, HANDED_OUT, {});
    const files = readdirSync(studies.where('pace-1'));
    expect(files.length).toBeGreaterThanOrEqual(6);
    expect(files.filter((name) => !isSideFile(`studies/pace-1/${name}`))).toEqual([]);
  });

  it('forgets whoever withdraws, and moves nobody else to another arm', async () => {
    const { study, studies, store, folder } = studyHere();
    const arms = ['F01', 'F02', 'F03'].map((code) => study.enroll(code, 'all').arm);
    study.bind('one', 'F02');
    expect(study.withdraw('F02')).toBe(1);
    for (const file of ['allocations.jsonl', 'sessions.jsonl', 'audit.jsonl'])
      expect(readFileSync(studies.where(`pace-1/${file}`), 'utf8')).not.toContain('F02');
    expect(study.allocations().map(({ arm }) => arm)).toEqual(arms);
    const out = join(folder, 'after');
    await exportStudy(study, store, ALONE, { out, raw: false, figures: false, softwareVersion: '1' });
    expect(tableOf(out, 'sessions')).toEqual([]);
  });

  it('leaves nothing behind when it is refused', async () => {
    const { study, studies, store, folder, clock } = studyHere();
    expect(() => StudyFolder.begin(studies, PROTOCOL, clock)).toThrow(/already/);
    expect(() =>
      StudyFolder.begin(studies, { ...PROTOCOL, code: 'other', withholding: null }, clock),
    ).toThrow(/withholding is missing/);
    expect(existsSync(studies.where('other'))).toBe(false);
    expect(() => study.enroll('Wren Example', 'all')).toThrow(/no code of a participant/);
    expect(() => study.bind('one', 'F09')).toThrow(/not in the study/);
    await expect(
      exportStudy(study, store, ALONE, { out: folder, raw: false, figures: false, softwareVersion: '1' }),
    ).rejects.toThrow(/already/);
    expect(() => StudyFolder.open(studies, '../data', clock)).toThrow(/no study/);
  });

  it('reads on after a line that was cut', () => {
    const { study, studies } = studyHere();
    study.enroll('F01', 'all');
    const path = studies.where('pace-1/allocations.jsonl');
    appendFileSync(path, '{"participant":"F0');
    expect(study.allocations().map(({ participant }) => participant)).toEqual(['F01']);
    study.enroll('F02', 'all');
    expect(study.allocations().map(({ participant }) => participant)).toEqual(['F01', 'F02']);
  });
});
