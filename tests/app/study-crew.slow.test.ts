/** Several threads compute the same as one, a fault in one is reported, and a failed job does not affect the others. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { createCrew, inOrder } from '../../src/app/study/crew/crew.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { readTurning } from '../support/captures.ts';
import { requireBuild } from '../support/command.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, START_MS, studyHere } from '../support/study.ts';

const PROGRAM = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));

beforeAll(requireBuild);

function crewOf(hands: number) {
  const crew = createCrew({ hands, program: PROGRAM });
  onTestFinished(() => crew.close());
  return crew;
}

describe('a crew of threads', () => {
  it('gives the bytes that one thread gives', async () => {
    const { study, store } = studyHere();
    recordFeed(store, { id: 'two', ...readTurning(), startMs: START_MS });
    study.enroll('F07', 'all');
    study.bind('one', 'F07');
    study.bind('two', 'F07');
    const by = { programSha256: 'abc', softwareVersion: '1' };
    const alone = await recomputeStudy(study, store, ALONE, by);
    const together = await recomputeStudy(study, store, crewOf(2), by);
    const bytes = (folder: string) =>
      readdirSync(join(folder, 'sessions')).map((name) =>
        readFileSync(join(folder, 'sessions', name), 'base64'),
      );
    expect(bytes(together.folder)).toEqual(bytes(alone.folder));
    expect(bytes(together.folder).length).toBe(2);
  });

  it('says what went wrong in a thread, and goes on', async () => {
    const { study, store } = studyHere();
    const crew = crewOf(1);
    const nowhere = {
      session: 'x',
      participant: 'x',
      input: null as never,
      known: null,
      before: null,
      kept: null,
    };
    await expect(crew.run('recomputeSession', nowhere)).rejects.toThrow(/null/);
    study.enroll('F07', 'all');
    study.bind('one', 'F07');
    const done = await recomputeStudy(study, store, crew, { programSha256: 'abc', softwareVersion: '1' });
    expect(done.sessions).toBe(1);
  });
});

describe('work taken in order', () => {
  it('holds no more than it may, whatever ends first', async () => {
    let held = 0;
    let most = 0;
    const taken: number[] = [];
    await inOrder(
      [5, 1, 4, 2, 3],
      2,
      async (item) => {
        most = Math.max(most, ++held);
        for (let i = 0; i < item; i++) await Promise.resolve();
        return item * 10;
      },
      (item, result) => {
        held--;
        taken.push(item, result);
      },
    );
    expect(taken).toEqual([5, 50, 1, 10, 4, 40, 2, 20, 3, 30]);
    expect(most).toBe(2);
  });
});
