/** Captures that were put away keep their bytes, and the rest of a feed stays. After a cut or a fault each capture is in at least one place. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { openStore } from '../../../src/store/open-store.ts';
import {
  type ArchiveRule,
  archiveCaptures,
  archiveRule,
  keepArchiveRule,
} from '../../../src/store/portable/archive.ts';
import { type HeldFolder, holdFolder } from '../../../src/store/portable/held-folder.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { codeOf } from '../../support/refusals.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { streamOf } from '../../support/wire.ts';

const namesIn = (folder: string) => fs.readdirSync(folder).sort();

/** Feeds "a" to "d" are 4, 3, 2 and 1.5 days old. */
function archived(folder: string, rule: ArchiveRule, most?: number) {
  return held(folder, (place) => archiveCaptures(place, rule, NOW_MS, most));
}

function held<T>(folder: string, action: (place: HeldFolder) => T): T {
  const place = holdFolder(folder);
  try {
    return action(place);
  } finally {
    place.close();
  }
}

describe('captures older than an age', () => {
  test('are put away, and found where they are', () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const store = openStore(folder);
    onTestFinished(() => store.close());
    const before = store.get('a')!;
    const result = archived(folder, { olderThanDays: 2.5, to: away });
    expect(result.captures).toBe(2);
    expect(namesIn(away)).toEqual(['a.cap.cols', 'a.json', 'b.cap.cols', 'b.json']);
    expect(namesIn(join(folder, 'captures'))).toEqual(['c.cap.cols', 'c.json', 'd.cap.cols', 'd.json']);
    expect(store.get('a')).toEqual({ ...before, captureFile: join(away, 'a.cap.cols') });
    expect(readCapture(store.capturePath('a')!).bytes).toEqual(Buffer.from(streamOf(0, 40 * 80)));
    fs.renameSync(away, `${away}-unplugged`);
    onTestFinished(() => fs.rmSync(`${away}-unplugged`, { recursive: true }));
    expect(store.capturePath('a')).toBeNull();
    expect(store.get('a')!.rows).toEqual(before.rows);
  });

  test('or removed, and all else stays', () => {
    const folder = fullFolder(temporaryFolder());
    const store = openStore(folder);
    onTestFinished(() => store.close());
    const before = store.get('a')!;
    expect(archived(folder, { olderThanDays: 1, to: null }).captures).toBe(4);
    expect(namesIn(join(folder, 'captures'))).toEqual([]);
    expect(store.get('a')).toEqual({ ...before, captureFile: null });
    expect(store.capturePath('a')).toBeNull();
    expect(archived(folder, { olderThanDays: 1, to: null }).captures).toBe(0);
  });

  test('cut between copy and removal: the next run ends it', () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const captures = join(folder, 'captures');
    fs.cpSync(captures, away, { recursive: true });
    held(folder, ({ database }) => {
      database.prepare('UPDATE feed SET capture_file = ? WHERE id = ?').run(join(away, 'a.cap.cols'), 'a');
    });
    expect(archived(folder, { olderThanDays: 2.5, to: away }).captures).toBe(2);
    expect(namesIn(captures)).toEqual(['c.cap.cols', 'c.json', 'd.cap.cols', 'd.json']);
    const store = openStore(folder);
    onTestFinished(() => store.close());
    for (const id of ['a', 'b']) expect(store.capturePath(id)).toBe(join(away, `${id}.cap.cols`));
  });

  test('stay where they are when they cannot go', () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const before = namesIn(join(folder, 'captures'));
    expect(codeOf(() => archived(folder, { olderThanDays: 1, to: join(away, 'none') }))).toBe(
      'archive-no-folder',
    );
    fs.writeFileSync(join(away, 'a.cap.cols'), 'another');
    expect(codeOf(() => archived(folder, { olderThanDays: 1, to: away }))).toBe('archive-other');
    expect(fs.readFileSync(join(away, 'a.cap.cols'), 'utf8')).toBe('another');
    fs.rmSync(join(away, 'a.cap.cols'));
    fs.mkdirSync(join(away, 'a.cap.cols.tmp'));
    expect(codeOf(() => archived(folder, { olderThanDays: 1, to: away }))).toBe('store-folder');
    expect(namesIn(join(folder, 'captures'))).toEqual(before);
  });
});

describe('the rule', () => {
  test('is applied at each start of recording, until it is taken back', () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const rule = { olderThanDays: 2.5, to: away };
    expect(held(folder, ({ database }) => archiveRule(database))).toBeNull();
    held(folder, ({ database }) => keepArchiveRule(database, rule));
    expect(held(folder, ({ database }) => archiveRule(database))).toEqual(rule);
    // Opening for reading applies no rule.
    openStore(folder, { nowMs: () => NOW_MS }).close();
    expect(namesIn(away)).toEqual([]);
    openStore(folder, { recording: true, nowMs: () => NOW_MS }).close();
    expect(namesIn(away)).toEqual(['a.cap.cols', 'a.json', 'b.cap.cols', 'b.json']);
    held(folder, ({ database }) => keepArchiveRule(database, null));
    openStore(folder, { recording: true, nowMs: () => NOW_MS + 9 * 24 * 3600_000 }).close();
    expect(namesIn(away)).toHaveLength(4);
  });

  test('takes so many at once and no more, oldest first', () => {
    const folder = fullFolder(temporaryFolder());
    expect(archived(folder, { olderThanDays: 1, to: null }, 3).captures).toBe(3);
    expect(namesIn(join(folder, 'captures'))).toEqual(['d.cap.cols', 'd.json']);
  });

  test('that cannot be applied now hinders no start', () => {
    const folder = fullFolder(temporaryFolder());
    held(folder, ({ database }) =>
      keepArchiveRule(database, { olderThanDays: 1, to: join(folder, 'unplugged') }),
    );
    const store = openStore(folder, { recording: true, nowMs: () => NOW_MS });
    onTestFinished(() => store.close());
    expect(namesIn(join(folder, 'captures'))).toHaveLength(8);
  });
});
