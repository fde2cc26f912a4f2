/** Everything out and in again is the same; what is broken, foreign, impossible or double changes nothing. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { parse } from 'csv-parse/sync';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openStore } from '../../../src/store/open-store.ts';
import { type ExportOptions, exportTo } from '../../../src/store/portable/export.ts';
import { importInto } from '../../../src/store/portable/import.ts';
import { babyEntry } from '../../support/babies.ts';
import { readFixture } from '../../support/captures.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { recordFeed } from '../../support/recorded-feed.ts';
import { refusalOf } from '../../support/refusals.ts';
import { seenIn } from '../../support/seen-store.ts';
import { begunFeed, partOfSecond } from '../../support/store-samples.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { streamOf } from '../../support/wire.ts';

const OPTIONS: ExportOptions = { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: true };

const NOTHING = {
  feeds: 0,
  handFeeds: 0,
  milkEvents: 0,
  captures: 0,
  doubles: 0,
  setAside: [],
  oddities: [],
  setAsideFile: null,
};

function exported(folder: string, options: Partial<ExportOptions> = {}): string {
  const out = join(temporaryFolder(), 'out');
  const store = openStore(folder);
  try {
    exportTo(store, out, { ...OPTIONS, ...options });
  } finally {
    store.close();
  }
  return out;
}

/** All files of a folder, by name, as text; the captures unpacked. */
function contentOf(folder: string): Record<string, string> {
  const names = fs.readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
  return Object.fromEntries(
    names
      .filter((name) => fs.statSync(join(folder, name)).isFile())
      .map((name) => [
        name,
        name.endsWith('.gz')
          ? gunzipSync(fs.readFileSync(join(folder, name))).toString('hex')
          : fs.readFileSync(join(folder, name), 'utf8'),
      ]),
  );
}

describe('export and import', () => {
  test('gives the same store, and the same export, to the last byte', () => {
    const source = fullFolder(temporaryFolder());
    const first = exported(source);
    const target = join(temporaryFolder(), 'new');
    const result = importInto(target, first, NOW_MS);
    expect(result).toEqual({ ...NOTHING, feeds: 4, handFeeds: 2, milkEvents: 4, captures: 4 });
    expect(seenIn(target)).toEqual(seenIn(source));
    expect(contentOf(exported(target))).toEqual(contentOf(first));
    // The import packs the captures, as is done after a feed.
    expect(fs.readdirSync(join(target, 'captures')).sort()).toEqual(
      ['a', 'b', 'c', 'd'].flatMap((id) => [`${id}.cap.cols`, `${id}.json`]),
    );
  });

  test('without captures the feeds come all the same', () => {
    const out = exported(fullFolder(temporaryFolder()), { captures: false });
    expect(fs.existsSync(join(out, 'captures'))).toBe(false);
    const target = join(temporaryFolder(), 'new');
    expect(importInto(target, join(out, 'ebbline.jsonl'), NOW_MS)).toMatchObject({ feeds: 4, captures: 0 });
    const store = openStore(target);
    onTestFinished(() => store.close());
    expect(store.get('a')!.captureFile).toBeNull();
    expect(store.capturePath('a')).toBeNull();
  });

  test('a second time nothing is doubled, and what was changed meanwhile stays', () => {
    const folder = fullFolder(temporaryFolder());
    const out = exported(folder);
    const store = openStore(folder, { nowMs: () => NOW_MS });
    store.correct('a', { kind: 'note', text: 'later' });
    store.writeSetup(begunFeed('x', {}).setup);
    store.close();
    const before = seenIn(folder);
    expect(importInto(folder, out, NOW_MS)).toEqual({ ...NOTHING, doubles: 11 });
    expect(seenIn(folder)).toEqual(before);
  });

  test('where the sleeve is calibrated already its calibration stays the one in use', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const target = temporaryFolder();
    const store = openStore(target, { nowMs: () => NOW_MS });
    store.keepCalibration('bench-1', { version: 1, calibratedAt: 'here' });
    store.close();
    importInto(target, out, NOW_MS);
    expect(seenIn(target).calibrations).toEqual([
      { sleeveId: 'bench-1', calibration: { version: 1, calibratedAt: 'here' } },
    ]);
  });

  test('an import twenty years after the export takes every feed', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const later = NOW_MS + 20 * 365 * 24 * 3600_000;
    expect(importInto(join(temporaryFolder(), 'new'), out, later)).toMatchObject({ feeds: 4, doubles: 0 });
  });

  test('where a baby of that name is kept already: its feeds come under the number it has there', () => {
    const source = fullFolder(temporaryFolder());
    const out = exported(source);
    const target = temporaryFolder();
    const store = openStore(target, { nowMs: () => NOW_MS });
    const { id } = store.addBaby(babyEntry({ name: 'wren', birthDate: null, pace: 'gentle' }));
    store.close();
    importInto(target, out, NOW_MS);
    const { babies, feeds } = seenIn(target);
    expect(babies).toMatchObject([{ id, name: 'wren', pace: 'gentle' }]);
    expect(feeds.find((feed) => feed!.id === 'd')!.setup.babyId).toBe(id);
    expect(seenIn(source).babies[0]!.id).not.toBe(id);
  });

  test('a namesake that was born on another day is another baby', () => {
    const target = temporaryFolder();
    const store = openStore(target, { nowMs: () => NOW_MS });
    const { id } = store.addBaby(babyEntry({ birthDate: '2024-02-03' }));
    store.close();
    importInto(target, exported(fullFolder(temporaryFolder())), NOW_MS);
    const { babies, feeds } = seenIn(target);
    expect(babies).toHaveLength(2);
    expect(feeds.filter((feed) => feed!.setup.babyId === id)).toEqual([]);
  });

  test('into a ledger that has entries: a taken-back one is still the right one', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const target = temporaryFolder();
    const store = openStore(target, { nowMs: () => NOW_MS });
    const entry = { what: 'got', id: 'own' };
    store.appendMilkEvents([{ atMs: NOW_MS, babyId: null, container: 'own', kind: 'got', entry }]);
    store.close();
    importInto(target, out, NOW_MS);
    const { milk } = seenIn(target);
    expect(milk.map(({ no, container }) => [no, container])).toEqual([
      [1, 'own'],
      [2, 'bag 1'],
      [3, 'bag 1b'],
      [4, null],
      [5, 'bag 1'],
    ]);
    expect(milk[3]!.entry).toMatchObject({ what: 'taken-back', no: 3 });
  });
});

describe('the choice', () => {
  const idsIn = (out: string) =>
    (parse(fs.readFileSync(join(out, 'feeds.csv')), { bom: true, columns: true }) as { feed: string }[]).map(
      ({ feed }) => feed,
    );
  const day = 24 * 3600_000;

  test('of a baby or of days leaves out the rest, the ledger and the settings', () => {
    const folder = fullFolder(temporaryFolder());
    const linnet = exported(folder, { baby: 'linnet' });
    expect(idsIn(linnet)).toEqual(['b']);
    expect(fs.readFileSync(join(linnet, 'ebbline.jsonl'), 'utf8')).not.toMatch(/Wren|"milk"|"setting"/);
    expect(fs.existsSync(join(linnet, 'milk.csv'))).toBe(false);
    // By the corrected time: "d" was moved back by half a day.
    expect(idsIn(exported(folder, { fromMs: NOW_MS - 2 * day, toMs: NOW_MS - 1.2 * day }))).toEqual([
      'c',
      'd',
    ]);
  });

  test('leaves out a feed that still runs', () => {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    store.begin(begunFeed('runs'), null);
    store.append('runs', partOfSecond(0));
    const out = join(temporaryFolder(), 'out');
    expect(exportTo(store, out, OPTIONS)).toMatchObject({ feeds: 0 });
    expect(contentOf(out)['ebbline.jsonl']).toMatch(/"record":"end","records":\d\}\n$/);
  });
});

describe('the tables', () => {
  const read = (out: string, file: string): Record<string, string>[] =>
    parse(fs.readFileSync(join(out, file)), { bom: true, columns: true });

  test('are CSV that another program reads (csv-parse, RFC 4180), with what counts now', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const [a, b] = read(out, 'feeds.csv');
    expect(a).toMatchObject({
      feed: 'a',
      baby: 'Wren',
      left_bottle_ml: '82.25',
      reading_offered_ml: '90',
      reading_left_ml: '12.5',
      note: `'=sleepy, "warm"\nrain`,
      started_at: new Date(NOW_MS - 4 * 24 * 3600_000).toISOString(),
      cues: '1',
    });
    expect(b).toMatchObject({ feed: 'b', bottle: 'red cap', note: '' });
    expect(read(out, 'rows.csv')).toHaveLength(2 * (40 + 35 + 5 + 2));
    expect(read(out, 'refined.csv').map(({ milk_ml }) => milk_ml)).toEqual(['90', '', '89.8765']);
    expect(read(out, 'cues.csv')[0]).toEqual({ feed: 'a', at_s: '30', cue: 'burp', because: '30 s' });
    expect(read(out, 'milk.csv').map(({ no, kind }) => `${no}${kind}`)).toEqual([
      '1got',
      '2got',
      '3taken-back',
      '4discarded',
    ]);
    expect(read(out, 'hand-feeds.csv').map(({ left_ml, taken_back }) => [left_ml, taken_back])).toEqual([
      ['7', 'no'],
      ['5', 'yes'],
    ]);
    expect(fs.readFileSync(join(out, 'feeds.csv'), 'utf8')).toMatch(/^\uFEFFfeed,started_at,[^\n]*\r\n/);
  });

  test('are described, column by column and field by field', () => {
    const page = fs.readFileSync(new URL('../../../src/store/portable/FORMAT.md', import.meta.url), 'utf8');
    const out = exported(fullFolder(temporaryFolder()));
    for (const file of fs.readdirSync(out).filter((name) => name.endsWith('.csv')))
      expect(page).toContain(`\`${file}\``);
    for (const line of contentOf(out)['ebbline.jsonl']!.trim().split('\n').slice(1)) {
      const record = JSON.parse(line) as Record<string, unknown>;
      expect(page).toContain(`"${String(record.record)}"`);
      for (const field of Object.keys(record)) expect(page).toContain(`\`${field}\``);
      for (const field of Object.keys(record.rows ?? {})) expect(page).toContain(`\`${field}\``);
      for (const field of Object.keys(record.setup ?? {})) expect(page).toContain(`\`${field}\``);
    }
  });
});

describe('what cannot be imported', () => {
  const good = () => {
    const out = exported(fullFolder(temporaryFolder()), { captures: false });
    const lines = fs.readFileSync(join(out, 'ebbline.jsonl'), 'utf8').trimEnd().split('\n');
    return { out, lines };
  };
  const change = (lines: string[], at: number, by: (record: never) => unknown): string[] =>
    lines.map((line, i) => {
      if (i !== at) return line;
      const record = JSON.parse(line) as never;
      by(record);
      return JSON.stringify(record);
    });
  type Feed = Record<string, unknown> & { setup: Record<string, unknown>; rows: { atSec: number[] } };

  test.each<[string, string, RegExp, (lines: string[]) => string[]]>([
    ['a foreign file', 'import-foreign', /is not an export of Ebbline/, () => ['{"format":"other"}', '{}']],
    ['no JSON at all', 'import-foreign', /is not an export/, () => ['PK\u0003\u0004']],
    ['an empty file', 'import-foreign', /is not an export/, () => []],
    [
      'a newer one',
      'import-newer',
      /newer Ebbline \(format version 4; this one knows 3\)/,
      (l) => [l[0]!.replace('"version":3', '"version":4'), ...l.slice(1)],
    ],
    [
      'real and simulated ones',
      'store-mixed',
      /never kept together/,
      (l) => change(l, 3, (feed: Feed) => Object.assign(feed, { simulated: true })),
    ],
  ])('%s is refused in a sentence, and nothing is half-written', (_what, code, says, spoil) => {
    const { lines } = good();
    const file = join(temporaryFolder(), 'ebbline.jsonl');
    fs.writeFileSync(
      file,
      spoil(lines)
        .map((line) => `${line}\n`)
        .join(''),
    );
    const target = fullFolder(temporaryFolder());
    const before = seenIn(target);
    // Into an empty store, so that no feed is known there.
    const fresh = join(temporaryFolder(), 'new');
    for (const folder of [fresh, target]) {
      const refusal = refusalOf(() => importInto(folder, file, NOW_MS));
      expect([refusal.code, refusal.text]).toEqual([code, expect.stringMatching(says)]);
    }
    expect(fs.existsSync(fresh) ? seenIn(fresh).list : []).toEqual([]);
    expect(seenIn(target)).toEqual(before);
  });

  test.each<[string, RegExp, (lines: string[]) => string[]]>([
    ['cut in a line', /Line 4 is no JSON/, (l) => [...l.slice(0, 3), l[3]!.slice(0, 99)]],
    ['cut after a line', /its end is missing after line 3/, (l) => l.slice(0, 3)],
    ['a line lost', /There are \d+ records in the file, but it had \d+/, (l) => [l[0]!, ...l.slice(2)]],
    ['something after the end', /stands after the end/, (l) => [...l, l[1]!]],
    [
      'a feed twice',
      /the feed a stands twice/,
      (l) => [...l.slice(0, -1), l[2]!, l.at(-1)!.replace(/\d+/, (count) => String(Number(count) + 1))],
    ],
    [
      'a record of another kind',
      /Line 3, record: is of a kind that is not known/,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { record: 'nap' })),
    ],
    [
      'negative milk',
      /Line 3 \(feed a\), .*is negative milk/,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { intakeMl: -60 })),
    ],
    [
      'columns of unequal length',
      /rows: columns are not of equal length/,
      (l) => change(l, 2, (feed: Feed) => feed.rows.atSec.pop()),
    ],
    [
      'an id that is a path',
      /id: must be small letters/,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { id: '../../etc' })),
    ],
    [
      'a field too many',
      /Line 3 \(feed a\)/,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { extra: 1 })),
    ],
  ])('%s: the line is named and set aside, all others come in', (_what, says, spoil) => {
    const { lines } = good();
    const whole = join(temporaryFolder(), 'whole');
    const spoilt = spoil(lines);
    const file = join(temporaryFolder(), 'ebbline.jsonl');
    fs.writeFileSync(file, spoilt.map((line) => `${line}\n`).join(''));
    const { setAside, setAsideFile } = importInto(whole, file, NOW_MS);
    expect(setAside.map(({ what }) => what)).toContainEqual(expect.stringMatching(says));
    // The feeds that came in are those whose lines are intact.
    const { feeds } = seenIn(whole);
    const wrong = new Set(setAside.map(({ line }) => line));
    const there = spoilt.filter((line, i) => !wrong.has(i + 1) && line.startsWith('{"record":"feed"'));
    expect(feeds.map((feed) => feed!.id).sort()).toEqual(there.map((line) => JSON.parse(line).id as string));
    // The file of lines that were set aside can be corrected and imported: its first line is that of an export.
    if (setAsideFile === null) return;
    const aside = fs.readFileSync(setAsideFile, 'utf8').trimEnd().split('\n');
    expect(aside[0]).toBe(lines[0]);
    expect(aside.slice(1)).toEqual(spoilt.filter((_line, i) => wrong.has(i + 1)));
  });

  test('what was set aside comes in once it is put right', () => {
    const { lines, out } = good();
    const spoilt = change(lines, 2, (feed: Feed) => Object.assign(feed, { intakeMl: -60 }));
    fs.writeFileSync(join(out, 'ebbline.jsonl'), spoilt.map((line) => `${line}\n`).join(''));
    const target = join(temporaryFolder(), 'new');
    const { setAsideFile } = importInto(target, out, NOW_MS);
    fs.writeFileSync(
      setAsideFile!,
      fs.readFileSync(setAsideFile!, 'utf8').replace('"intakeMl":-60', '"intakeMl":82.25'),
    );
    expect(importInto(target, setAsideFile!, NOW_MS)).toMatchObject({ feeds: 1, doubles: 0 });
    expect(
      seenIn(target)
        .feeds.map((feed) => feed!.id)
        .sort(),
    ).toEqual(['a', 'b', 'c', 'd']);
  });

  test.each<[string, number, (lines: string[]) => string[]]>([
    [
      'a date in the future',
      0,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { startedAtMs: NOW_MS + 3_600_000 })),
    ],
    [
      'a clock that began in 1970',
      1,
      (l) =>
        change(l, 2, (feed: Feed) =>
          Object.assign(feed, { startedAtMs: 3000, sampleZeroAtMs: -3000, endedAtMs: 63_000 }),
        ),
    ],
    [
      'an end before its start',
      0,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed, { endedAtMs: Number(feed.startedAtMs) - 250 })),
    ],
    [
      'a baby born after the feed',
      1,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed.setup, { babyBirthDate: '2026-01-08' })),
    ],
    [
      'a grown child',
      1,
      (l) => change(l, 2, (feed: Feed) => Object.assign(feed.setup, { babyBirthDate: '1997-01-08' })),
    ],
  ])('%s is no reason to lose a feed', (_what, oddities, by) => {
    const { lines } = good();
    const file = join(temporaryFolder(), 'ebbline.jsonl');
    fs.writeFileSync(
      file,
      by(lines)
        .map((line) => `${line}\n`)
        .join(''),
    );
    const target = join(temporaryFolder(), 'new');
    const result = importInto(target, file, NOW_MS);
    expect(result).toMatchObject({ feeds: 4, setAside: [] });
    expect(result.oddities).toHaveLength(oddities);
    for (const feed of seenIn(target).feeds)
      expect(feed!.endedAtMs).toBeGreaterThanOrEqual(feed!.startedAtMs);
  });

  test('simulated feeds among real ones', () => {
    const { lines, out } = good();
    const simulated = lines.map((line) => line.replace('"simulated":false', '"simulated":true'));
    fs.writeFileSync(join(out, 'ebbline.jsonl'), simulated.map((line) => `${line}\n`).join(''));
    const target = fullFolder(temporaryFolder());
    expect(refusalOf(() => importInto(target, out, NOW_MS)).code).toBe('store-mixed');
  });

  test('a capture that is damaged beyond use costs itself, not its feed', () => {
    const source = fullFolder(temporaryFolder());
    const out = exported(source);
    fs.writeFileSync(join(out, 'captures', 'b.cap.gz'), 'not gzip');
    const target = join(temporaryFolder(), 'new');
    const { oddities, ...result } = importInto(target, out, NOW_MS);
    expect(result).toMatchObject({ feeds: 4, captures: 3, setAside: [] });
    expect(oddities).toEqual([expect.stringMatching(/^Feed b came in without its capture\./)]);
    expect(fs.readdirSync(join(target, 'captures')).filter((name) => name.startsWith('b'))).toEqual([]);
    expect(seenIn(target).feeds.map((feed) => ({ ...feed, captureFile: null }))).toEqual(
      seenIn(source).feeds.map((feed) => ({ ...feed, captureFile: null })),
    );
  });

  test('captures whose database was lost are taken over; other bytes of the same name stay as they are', () => {
    const source = fullFolder(temporaryFolder());
    const out = exported(source);
    const target = join(temporaryFolder(), 'new');
    fs.cpSync(join(source, 'captures'), join(target, 'captures'), { recursive: true });
    fs.writeFileSync(join(target, 'captures', 'b.cap.cols'), 'something else');
    // Opened once, since captures without a database would be refused.
    openStore(target).close();
    const { setAside, feeds } = importInto(target, out, NOW_MS);
    expect(feeds).toBe(3);
    expect(setAside).toEqual([
      expect.objectContaining({ what: expect.stringContaining('Something else is kept') }),
    ]);
    expect(fs.readFileSync(join(target, 'captures', 'b.cap.cols'), 'utf8')).toBe('something else');
    const others = (folder: string) => seenIn(folder).feeds.filter((feed) => feed!.id !== 'b');
    expect(others(target)).toEqual(others(source));
  });

  test('an import that fails as a whole takes away what it wrote, and nothing else', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const target = join(temporaryFolder(), 'new');
    const store = openStore(target, { recording: true });
    store.begin(begunFeed('b'), null);
    store.append('b', partOfSecond(0));
    store.close();
    fs.rmSync(join(target, 'feeds.sqlite'));
    for (const ending of ['-wal', '-shm']) fs.rmSync(join(target, `feeds.sqlite${ending}`), { force: true });
    const before = contentOf(join(target, 'captures'));
    const failing = (done: number, of: number) => {
      if (done === of) throw new TypeError('of the test');
    };
    openStore(target).close();
    expect(() => importInto(target, out, NOW_MS, failing)).toThrow('of the test');
    expect(contentOf(join(target, 'captures'))).toEqual(before);
  });

  test('while feeds are recorded there, or from nowhere', () => {
    const { out } = good();
    const target = temporaryFolder();
    const recorder = openStore(target, { recording: true });
    onTestFinished(() => recorder.close());
    expect(refusalOf(() => importInto(target, out, NOW_MS)).code).toBe('store-recording');
    expect(refusalOf(() => importInto(target, join(out, 'none'), NOW_MS)).code).toBe('import-missing');
    expect(refusalOf(() => importInto(target, temporaryFolder(), NOW_MS)).code).toBe('import-unreadable');
  });
});

describe('a table of hand-written feeds', () => {
  const table = (...lines: string[]) => {
    const file = join(temporaryFolder(), 'week.csv');
    fs.writeFileSync(file, `${lines.join('\n')}\n`);
    return file;
  };
  const HEAD = 'at,kind,length_min,offered_ml,left_ml,milk_kind,side,baby,initials,note';

  test('comes in, and a second time it brings nothing twice', () => {
    const folder = join(temporaryFolder(), 'new');
    const file = table(
      HEAD,
      '2026-01-05T09:30:00-05:00,bottle,12,60,5,expressed,,Wren,J.,"sleepy, then fine"',
      '',
      '2026-01-05 13:00-05:00,breast,15,,,,left,Wren,,',
    );
    expect(importInto(folder, file, NOW_MS)).toMatchObject({ handFeeds: 2, doubles: 0 });
    expect(importInto(folder, file, NOW_MS)).toMatchObject({ handFeeds: 0, doubles: 2 });
    expect(
      seenIn(folder).handFeeds.map(({ atMs, kind, durationSec, offeredMl, side, note }) => [
        new Date(atMs).toISOString(),
        kind,
        durationSec,
        offeredMl,
        side,
        note,
      ]),
    ).toEqual([
      ['2026-01-05T14:30:00.000Z', 'bottle', 720, 60, null, 'sleepy, then fine'],
      ['2026-01-05T18:00:00.000Z', 'breast', 900, null, 'left', null],
    ]);
  });

  test('as exported comes back in', () => {
    const out = exported(fullFolder(temporaryFolder()));
    const folder = join(temporaryFolder(), 'new');
    importInto(folder, join(out, 'hand-feeds.csv'), NOW_MS);
    const [feed, ...others] = seenIn(folder).handFeeds;
    expect(feed).toMatchObject({ offeredMl: 60, leftMl: 7, note: '-', babyName: 'Wren', durationSec: 900 });
    expect(others).toEqual([]);
  });

  test.each([
    ['import-foreign', /there is no column at/, ['name,age', 'x,2']],
    ['import-foreign', /the column mood is not known/, ['at,kind,mood', 'x,y,z']],
    ['import-broken', /is broken/, [HEAD, 'a,"b']],
  ])('refused (%s) whole, nothing kept', (code, says, lines) => {
    const folder = join(temporaryFolder(), 'new');
    const refusal = refusalOf(() => importInto(folder, table(...lines), NOW_MS));
    expect([refusal.code, refusal.text]).toEqual([code, expect.stringMatching(says)]);
    expect(seenIn(folder).handFeeds).toEqual([]);
  });

  test.each([
    [/^Line 2, at: must be a date and time with its offset/, '1/5/2026,breast,,,,,,,,'],
    [/^Line 2, offered_ml: must be a number/, '2026-01-05T09:30:00Z,bottle,,2oz,,,,,,'],
    [/^Line 2, amount left: is more than was offered/, '2026-01-05T12:30:00Z,bottle,,60,65,,,,,'],
    [/^Line 2, kind: must be breast, bottle or refused/, '2026-01-05T09:30:00Z,,,,,,,,,'],
    [/^Line 2, time: lies in the future/, '2036-01-05T09:30:00Z,breast,,,,,,,,'],
  ])('a wrong line is named (%s), and the others come in', (says, wrong) => {
    const folder = join(temporaryFolder(), 'new');
    const file = table(HEAD, wrong, '2026-01-05T09:30:00Z,bottle,,60,5,,,,,');
    expect(importInto(folder, file, NOW_MS)).toMatchObject({
      handFeeds: 1,
      setAside: [{ line: 2, what: expect.stringMatching(says) }],
    });
    expect(seenIn(folder).handFeeds).toHaveLength(1);
  });
});

describe('an export that cannot be written', () => {
  test('is not there at all: something of that name, no folder', () => {
    const folder = fullFolder(temporaryFolder());
    const taken = temporaryFolder();
    expect(
      refusalOf(() => {
        const store = openStore(folder);
        onTestFinished(() => store.close());
        exportTo(store, taken, OPTIONS);
      }).code,
    ).toBe('export-exists');
    const file = join(taken, 'a-file');
    fs.writeFileSync(file, '');
    const store = openStore(folder);
    onTestFinished(() => store.close());
    expect(refusalOf(() => exportTo(store, join(file, 'out'), OPTIONS)).code).toBe('store-folder');
    expect(fs.readdirSync(taken)).toEqual(['a-file']);
  });
});

test('a feed as it is really recorded and refined comes back the same', () => {
  const { bytes, calibration } = readFixture('poured');
  const source = temporaryFolder();
  const recorder = openStore(source, { recording: true });
  recordFeed(recorder, { id: 'poured', bytes, calibration, startMs: NOW_MS - 3_600_000 });
  recorder.close();
  const out = exported(source);
  const target = join(temporaryFolder(), 'new');
  importInto(target, out, NOW_MS);
  expect(seenIn(target)).toEqual(seenIn(source));
  expect(seenIn(target).feeds[0]!.refined!.atSec.length).toBeGreaterThan(50);
  expect(contentOf(exported(target))).toEqual(contentOf(out));
});

test('a stream of samples is what the fixture store holds', () => {
  const out = exported(fullFolder(temporaryFolder()));
  expect(contentOf(out)['captures/d.cap.gz']).toBe(Buffer.from(streamOf(0, 160)).toString('hex'));
});
