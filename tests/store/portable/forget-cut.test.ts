/** Forgetting cut after any of its steps: the next start ends it, and no capture stays behind. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CaptureFolder } from '../../../src/store/captures/capture-folder.ts';
import type { FeedDatabase } from '../../../src/store/database/feed-database.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { archiveCaptures } from '../../../src/store/portable/archive.ts';
import { forgetBaby } from '../../../src/store/portable/forget.ts';
import { forgetInFolder } from '../../../src/store/portable/forget-folder.ts';
import { holdFolder } from '../../../src/store/portable/held-folder.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { letGo } from '../../support/let-go.ts';
import { codeOf } from '../../support/refusals.ts';
import { isQuick } from '../../support/runs.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

/** Stands for the end of the process. */
class Cut extends Error {
  override name = 'Cut';
}

/** Forgets Wren, but stops before the given step; steps are the deletion of each file and the rewriting of the database. @returns whether it stopped */
function cutForget(folder: string, step: number): boolean {
  const held = holdFolder(folder);
  let left = step;
  const orCut = <T>(action: () => T): T => {
    if (left-- <= 0) throw new Cut();
    return action();
  };
  const captures = new CaptureFolder(folder, { ...fs, rmSync: (...args) => orCut(() => fs.rmSync(...args)) });
  const real = held.database;
  const database = new Proxy(real, {
    get(target, name) {
      const value = Reflect.get(target, name) as unknown;
      if (name === 'exec')
        return (sql: string) => (sql === 'VACUUM' ? orCut(() => target.exec(sql)) : target.exec(sql));
      return typeof value === 'function' ? value.bind(target) : value;
    },
  }) as FeedDatabase;
  try {
    forgetBaby({ folder, database, captures }, 'Wren');
    return false;
  } catch (error) {
    if (!(error instanceof Cut)) throw error;
    return true;
  } finally {
    held.close();
  }
}

describe('forgetting', () => {
  // Three feeds with four names each, then the database: 13 steps, and once none.
  const steps = isQuick ? [0, 1, 5, 12, 13] : Array.from({ length: 14 }, (_, step) => step);
  test.each(steps)('cut before step %i is ended at the next start', async (step) => {
    const folder = fullFolder(temporaryFolder());
    await letGo();
    expect(cutForget(folder, step)).toBe(step < 13);
    openStore(folder, { recording: true, nowMs: () => NOW_MS }).close();
    await letGo();
    expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['b.cap.cols', 'b.json']);
    expect(fs.readFileSync(join(folder, 'feeds.sqlite')).includes('Wren')).toBe(false);
    const held = holdFolder(folder);
    expect(held.database.prepare('SELECT * FROM leaving').all()).toEqual([]);
    held.close();
  });

  test('asked for again after a cut has taken the captures along', async () => {
    const folder = fullFolder(temporaryFolder());
    await letGo();
    cutForget(folder, 0);
    expect(codeOf(() => forgetInFolder(folder, 'Wren'))).toBe('forget-nobody');
    expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['b.cap.cols', 'b.json']);
  });

  test('a capture on a disk that was away goes when the disk is there at a start', async () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const held = holdFolder(folder);
    archiveCaptures(held, { olderThanDays: 1, to: away }, NOW_MS);
    held.close();
    fs.renameSync(away, `${away}.unplugged`);
    expect(forgetInFolder(folder, 'Wren').unreachable).toHaveLength(3);
    openStore(folder, { recording: true, nowMs: () => NOW_MS }).close();
    fs.renameSync(`${away}.unplugged`, away);
    openStore(folder, { recording: true, nowMs: () => NOW_MS }).close();
    expect(fs.readdirSync(away).sort()).toEqual(['b.cap.cols', 'b.json']);
  });

  test('deletes no file elsewhere that is not a capture of the feed, whatever a database says', async () => {
    const folder = fullFolder(temporaryFolder());
    const elsewhere = temporaryFolder();
    const [letter, named] = [join(elsewhere, 'letter.txt'), join(elsewhere, 'a.cap')];
    for (const file of [letter, named]) fs.writeFileSync(file, 'mine');
    const held = holdFolder(folder);
    const say = held.database.prepare('UPDATE feed SET capture_file = ? WHERE id = ?');
    say.run(letter, 'c');
    say.run(named, 'a');
    expect(forgetBaby(held, 'Wren').unreachable.sort()).toEqual([named, letter].sort());
    held.close();
    expect(fs.readdirSync(elsewhere).sort()).toEqual(['a.cap', 'letter.txt']);
  });
});
