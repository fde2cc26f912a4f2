/** Heavy work beside the program: the same results as within it, its refusals in the same words, and a helper that dies costs one answer. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { describe, expect, onTestFinished, test } from 'vitest';
import { type AsideOptions, createAside } from '../../src/app/aside/aside.ts';
import { settling } from '../../src/app/kept/settling.ts';
import { feedGraphSvg } from '../../src/review/index.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportLines } from '../../src/store/portable/export.ts';
import { readFixture } from '../support/captures.ts';
import { GRAPH_LOOK, PROGRAM_FROM_SOURCE } from '../support/from-source.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { codeOf } from '../support/refusals.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

function asideOf(folder: string, more: Partial<AsideOptions> = {}) {
  const aside = createAside({ folder, program: PROGRAM_FROM_SOURCE, ...more });
  onTestFinished(() => aside.close());
  return aside;
}

describe('work done aside', () => {
  test('is the same as done within, in order, and refusals come as they are', async () => {
    const folder = fullFolder(temporaryFolder());
    const store = openStore(folder);
    onTestFinished(() => store.close());
    const aside = asideOf(folder);
    const [graph, png, refusal] = await Promise.all([
      aside.run('graph', 'a', GRAPH_LOOK),
      aside.run('graphPng', 'a', GRAPH_LOOK),
      aside.run('graph', 'none', GRAPH_LOOK).catch((error: unknown) => error),
    ]);
    expect(graph).toBe(feedGraphSvg(store.get('a')!, GRAPH_LOOK));
    expect(Buffer.from(png).subarray(1, 4).toString()).toBe('PNG');
    expect(refusal).toMatchObject({ name: 'PlainError', code: 'feed-unknown' });
    const pdf = await aside.run('file', 'a', 'pdf', {});
    expect(
      Buffer.from(pdf as Uint8Array)
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
  });

  test('all that is kept comes as an export’s lines', async () => {
    const folder = fullFolder(temporaryFolder());
    const lines = (await text(asideOf(folder).exportBytes())).trimEnd().split('\n').slice(1);
    const store = openStore(folder);
    onTestFinished(() => store.close());
    const own = [...exportLines(store, { nowMs: NOW_MS, softwareVersion: '0.1.0' })].slice(1);
    expect(lines).toEqual(own.map((line) => line.trimEnd()));
  });

  test('by a helper that dies fails in a sentence; the next work has a new one', async () => {
    const folder = fullFolder(temporaryFolder());
    const dead = asideOf(folder, {
      program: { ...PROGRAM_FROM_SOURCE, switches: ['--eval', 'process.exit(7)', '--'] },
    });
    await expect(dead.run('graph', 'a', GRAPH_LOOK)).rejects.toMatchObject({ code: 'aside-failed' });
    await expect(dead.run('graph', 'a', GRAPH_LOOK)).rejects.toMatchObject({ code: 'aside-failed' });
    await expect(text(dead.exportBytes())).rejects.toMatchObject({ code: 'aside-failed' });
  });

  test('asked for without end is refused, not piled up', async () => {
    const aside = asideOf(fullFolder(temporaryFolder()));
    const asked = Array.from({ length: 80 }, () =>
      aside.run('graph', 'a', GRAPH_LOOK).catch((error: unknown) => error),
    );
    await expect(asked.at(-1)).resolves.toMatchObject({ code: 'aside-busy' });
    // Both exports are cut by `close` below; their errors are expected and not checked here.
    for (let i = 0; i < 2; i++) aside.exportBytes().on('error', () => {});
    expect(codeOf(() => aside.exportBytes())).toBe('aside-busy');
    aside.close();
    expect((await Promise.all(asked)).length).toBe(80);
  });

  test.runIf(process.platform === 'linux')('runs at the lowest priority', async () => {
    const aside = asideOf(fullFolder(temporaryFolder()));
    await aside.run('graph', 'a', GRAPH_LOOK);
    const all = execFileSync('ps', ['-o', 'ni,args', '--ppid', String(process.pid)], { encoding: 'utf8' });
    expect(all).toMatch(/^ *19 .*aside serve/m);
  });
});

test('a feed that is over is refined and packed aside, and is then as if done at once', async () => {
  const { bytes, calibration } = readFixture('poured');
  const at = (packsLater: boolean) => {
    const folder = join(temporaryFolder(), 'data');
    const store = openStore(folder, { recording: true, softwareVersion: '0.1.0', packsLater });
    onTestFinished(() => store.close());
    recordFeed(store, { id: 'poured', bytes, calibration, startMs: NOW_MS });
    return { folder, store };
  };
  const [now, later] = [at(false), at(true)];
  expect(later.store.unsettled()).toEqual(['poured']);
  const work = settling(later.store, asideOf(later.folder));
  work.settle('poured');
  await work.done();
  expect(later.store.unsettled()).toEqual([]);
  expect(later.store.get('poured')).toEqual(now.store.get('poured'));
});
