/** Cells that a spreadsheet would run (OWASP, "CSV Injection"), and their way back. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openStore } from '../../../src/store/open-store.ts';
import { exportTo } from '../../../src/store/portable/export.ts';
import { LIKE_FORMULA } from '../../../src/store/portable/formula.ts';
import { importInto } from '../../../src/store/portable/import.ts';
import { NOW_MS } from '../../support/full-store.ts';
import { codeOf } from '../../support/refusals.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const WILD = [
  '=1+1',
  '+1',
  '-1',
  '@SUM(1)',
  '＝1+1',
  '＋1',
  '－1',
  '＠x',
  '"=1+1',
  " '=1",
  "'=said",
  "'plain",
  'plain',
  'a=b',
];

test.each(WILD)('%j is exported so that no spreadsheet runs it, and imported unchanged', (note) => {
  const [source, target, out] = ['a', 'b', 'c'].map((name) => join(temporaryFolder(), name)) as [
    string,
    string,
    string,
  ];
  const store = openStore(source, { nowMs: () => NOW_MS });
  const entry = {
    kind: 'bottle',
    atMs: NOW_MS - 1000,
    durationSec: null,
    offeredMl: 60,
    leftMl: 5,
    milkKind: null,
    side: null,
    caregiver: null,
    note,
    babyId: null,
    babyName: null,
  } as const;
  store.addHandFeed(entry);
  exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS });
  store.close();
  const line = fs.readFileSync(join(out, 'hand-feeds.csv'), 'utf8').split('\r\n')[1]!;
  expect(line).not.toMatch(/,"?"?"?\s*[=+@＝＋－＠]/);
  importInto(target, join(out, 'hand-feeds.csv'), NOW_MS);
  const back = openStore(target);
  expect(back.listHandFeeds()[0]!.note).toBe(note.trim());
  back.close();
});

test('knows the full-width signs, and signs behind quotes', () => {
  expect(WILD.filter((text) => !LIKE_FORMULA.test(text))).toEqual(["'plain", 'plain', 'a=b']);
});

test.runIf(process.platform === 'linux')(
  'a folder that makes no folders is refused, not tried for ever',
  () => {
    const store = openStore(join(temporaryFolder(), 'data'));
    const code = codeOf(() => exportTo(store, '/proc/x/y', { softwareVersion: '0.1.0', nowMs: NOW_MS }));
    store.close();
    expect(code).toMatch(/^store-/);
  },
);
