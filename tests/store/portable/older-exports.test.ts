/** Exports of older versions open and mean the same. The fixture is from the version that stored reasons as English sentences. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { Baby } from '../../../src/feed/record/baby.ts';
import type { KeptCue } from '../../../src/pacing/cues/cue.ts';
import { SWITCHES, type Switch } from '../../../src/pacing/cues/cues.ts';
import { FAMILY_SWITCHES } from '../../../src/pacing/cues/family-switches.ts';
import type { Reason } from '../../../src/pacing/cues/reason.ts';
import { becauseText } from '../../../src/pacing/cues/words-because.ts';
import { BARE_GUIDANCE, FAMILY_GUIDANCE } from '../../../src/pacing/guidance.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { exportTo } from '../../../src/store/portable/export.ts';
import { importInto } from '../../../src/store/portable/import.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 0, 10, 12);
const linesOf = (name: string) =>
  fs
    .readFileSync(fileURLToPath(new URL(`../../fixtures/exports/${name}.jsonl`, import.meta.url)), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Record<string, never>);
const LINES = linesOf('before-reasons-were-data');

function imported(records: object[]) {
  const folder = temporaryFolder();
  const file = join(temporaryFolder(), 'ebbline.jsonl');
  fs.writeFileSync(file, records.map((record) => `${JSON.stringify(record)}\n`).join(''));
  importInto(folder, file, NOW_MS);
  const store = openStore(folder, { nowMs: () => NOW_MS });
  onTestFinished(() => store.close());
  return store;
}

/** Removes a switch, as if the export was made before it existed. */
const without = (missing: Switch): object[] =>
  LINES.map((record) => {
    const copy = structuredClone(record) as {
      baby?: { choices: Record<string, unknown> };
      ran?: { guidance: Record<string, unknown> };
    };
    delete copy.baby?.choices[missing];
    delete copy.ran?.guidance[missing];
    return copy;
  });

describe('an export from before there was a switch', () => {
  test.each(Object.keys(SWITCHES) as Switch[])(
    'without %s is taken: the baby has what a family starts from',
    (missing) => {
      const store = imported(without(missing));
      const [baby] = store.listBabies();
      const [kept] = LINES.flatMap((record) => ('baby' in record ? [record.baby as Baby] : []));
      expect(baby!.choices).toEqual({
        ...FAMILY_SWITCHES,
        ...kept!.choices,
        [missing]: FAMILY_GUIDANCE[missing],
      });
      // The feed ran before this rule existed.
      expect(store.get('a')!.ran!.guidance[missing] ?? false).toBe(BARE_GUIDANCE[missing]);
    },
  );
});

describe('an export from before reasons were data', () => {
  test('keeps its English sentences, in tables and records, and they are told in Spanish as before', () => {
    const store = imported(LINES);
    const sentences = LINES.flatMap((record) => ('cues' in record ? (record.cues as KeptCue[]) : []));
    const { cues } = store.get('a')!;
    expect(cues).toEqual(sentences);
    // One cue for each of that version's sentences.
    expect(cues).toHaveLength(17);
    for (const { because } of cues) {
      expect(becauseText(because, 'en')).toBe(because);
      expect(becauseText(because, 'es')).not.toBe(because);
    }
    const out = join(temporaryFolder(), 'out');
    exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: false });
    const again = fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8').trim().split('\n');
    expect(again.map((line) => JSON.parse(line)).find(({ id }) => id === 'a').cues).toEqual(sentences);
  });
});

test('a reason that is data goes through store, export and import as data, and into the table as a sentence', () => {
  const because: Reason = { rule: 'burp', numbers: { sinceMl: 15.2, pauseSec: null } };
  const [head, , feed] = LINES as object[];
  const store = imported([
    head!,
    { ...feed, cues: [{ atSec: 1, kind: 'burp', because }] },
    { record: 'end', records: 1 },
  ]);
  expect(store.get('a')!.cues).toEqual([{ atSec: 1, kind: 'burp', because }]);
  const out = join(temporaryFolder(), 'out');
  exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: false });
  expect(fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8')).toContain(JSON.stringify(because));
  expect(fs.readFileSync(join(out, 'cues.csv'), 'utf8')).toContain(becauseText(because, 'en'));
});

test('what a feed started from goes through store, export and import; an impossible one is set aside', () => {
  const earlierSucks = { levelGrams: 0.31, sdGrams: 0.17, knownShare: 0.66 };
  const [head, , feed] = LINES as [object, object, { ran: object }];
  const ranFrom = (start: object) => [
    head,
    { ...feed, ran: { ...feed.ran, earlierSucks: start } },
    { record: 'end', records: 1 },
  ];
  const store = imported(ranFrom(earlierSucks));
  expect(store.get('a')!.ran!.earlierSucks).toEqual(earlierSucks);
  const out = join(temporaryFolder(), 'out');
  exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: false });
  expect(fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8')).toContain(JSON.stringify(earlierSucks));
  const refusals = [{ levelGrams: 0 }, { sdGrams: '1' }, { knownShare: 2 }].map((wrong) => {
    const file = join(temporaryFolder(), 'ebbline.jsonl');
    const lines = ranFrom({ ...earlierSucks, ...wrong });
    fs.writeFileSync(file, lines.map((line) => `${JSON.stringify(line)}\n`).join(''));
    const { feeds, setAside } = importInto(temporaryFolder(), file, NOW_MS);
    expect(feeds).toBe(0);
    return JSON.stringify(setAside);
  });
  expect(refusals[0]).toMatch(/levelGrams: must be above 0/);
  expect(refusals[1]).toMatch(/sdGrams: must be a number/);
  expect(refusals[2]).toMatch(/knownShare: must be 0 to 1/);
});

test('an export from before the steps after a feed, and before the flow of a nipple, opens and goes on', () => {
  const lines = linesOf('before-steps-after-a-feed');
  expect(lines[0]).toMatchObject({ version: 2 });
  const store = imported(lines);
  const feed = store.get('a')!;
  expect(feed.setup).not.toHaveProperty('teatFlow');
  expect(feed.corrected).toMatchObject({ reading: { offeredMl: 90, leftMl: 12.5 }, note: 'Sleepy.' });
  expect(feed.corrected).not.toHaveProperty('after');
  expect(feed.ran!.guidance.otherSideByWeight ?? false).toBe(false);
  store.correct('a', { kind: 'after', step: 'burp', done: true });
  store.correct('a', { kind: 'setup', setup: { teatFlow: 'slow' } });
  const out = join(temporaryFolder(), 'out');
  exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: false });
  const again = fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8').trim().split('\n');
  const back = imported(again.map((line) => JSON.parse(line) as object));
  expect(back.get('a')!.corrected).toMatchObject({
    after: { burp: expect.any(Number) },
    setup: { teatFlow: 'slow' },
  });
  expect(fs.readFileSync(join(out, 'feeds.csv'), 'utf8')).toMatch(/,Wide,slow,expressed,/);
});

test('an export from before it was written down what was shown: it is not known, and stays so', () => {
  const store = imported(LINES);
  const feeds = store.list();
  expect(feeds.length).toBeGreaterThan(0);
  for (const { id, toldCount } of feeds) {
    expect(toldCount).toBeNull();
    expect(store.get(id)).not.toHaveProperty('told');
  }
  const out = join(temporaryFolder(), 'out');
  exportTo(store, out, { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: false });
  const lines = fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8').trim().split('\n');
  expect(lines.some((line) => line.includes('"told"'))).toBe(false);
});
