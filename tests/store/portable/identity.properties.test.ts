/** Stores after killed processes, changed clocks and full disks: export and import give the same content. */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PlainError } from '../../../src/base/errors.ts';
import type { FeedStore } from '../../../src/store/feed-store.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { exportTo } from '../../../src/store/portable/export.ts';
import { importInto } from '../../../src/store/portable/import.ts';
import { failingStorage } from '../../support/failing-storage.ts';
import { begunFeed, partOfSecond, refinedSample } from '../../support/store-samples.ts';

/** What may happen, one thing after another. Clock jumps in seconds. */
const step = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constant('append' as const),
      part: fc.constantFrom('whole', 'no-rows', 'pre-roll'),
    }),
  },
  fc.record({ do: fc.constant('begin' as const), sec: fc.nat(10) }),
  fc.record({ do: fc.constant('kill' as const) }),
  fc.record({ do: fc.constant('end' as const), how: fc.constantFrom('button', 'discard') }),
  fc.record({
    do: fc.constant('clock' as const),
    sec: fc.constantFrom(-40 * 365 * 86_400, -3600, -30, 5, 3600, 20 * 365 * 86_400),
  }),
  fc.record({ do: fc.constant('full' as const), room: fc.nat(200) }),
  fc.record({ do: fc.constant('space' as const) }),
);

const START_MS = Date.UTC(2026, 0, 5, 9);

function left(
  folder: string,
  steps: readonly (typeof step extends fc.Arbitrary<infer S> ? S : never)[],
): void {
  const storage = failingStorage();
  let nowMs = START_MS;
  const open = () =>
    openStore(folder, { recording: true, disk: storage.disk, open: storage.open, nowMs: () => nowMs });
  let store: FeedStore = open();
  let feeds = 0;
  let running: { id: string; second: number } | null = null;
  const tried = (action: () => void): boolean => {
    try {
      action();
      return true;
    } catch (error) {
      if (error instanceof PlainError) return false;
      throw error;
    }
  };
  const recovered = () => {
    storage.trouble = null;
    store.close();
    store = open();
    for (const { id } of store.unfinished()) store.recover(id, null);
    running = null;
  };
  for (const one of steps) {
    nowMs = Math.max(1000, nowMs + 1000);
    if (one.do === 'clock') nowMs = Math.max(1000, nowMs + one.sec * 1000);
    if (one.do === 'full') storage.trouble = { calls: ['writeSync', 'run'], code: 'ENOSPC', room: one.room };
    if (one.do === 'space') storage.trouble = null;
    if (one.do === 'kill') recovered();
    if (one.do === 'begin' && !running) {
      const id = `feed-${++feeds}`;
      const feed = begunFeed(id, { startedAtMs: nowMs, sampleZeroAtMs: nowMs - one.sec * 1000 });
      if (tried(() => store.begin(feed, { version: 1 }))) running = { id, second: 0 };
    }
    if (one.do === 'append' && running) {
      const { id, second } = running;
      const part = partOfSecond(second);
      if (one.part === 'no-rows') part.rows = [];
      if (one.part === 'pre-roll') part.rows = part.rows.slice(0, 1);
      if (tried(() => store.append(id, part))) running.second++;
    }
    if (one.do === 'end' && running) {
      const { id } = running;
      const done = tried(() =>
        one.how === 'discard'
          ? store.discard(id)
          : store.finish(id, { endReason: 'button', endedAtMs: nowMs, refined: refinedSample() }),
      );
      if (done) running = null;
    }
  }
  recovered();
  store.close();
}

const seen = (folder: string) => {
  const store = openStore(folder);
  try {
    return store.list({ discarded: true }).map(({ id }) => store.get(id));
  } finally {
    store.close();
  }
};

const inFolder = (action: (folder: string) => void): void => {
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-identity-'));
  try {
    action(folder);
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
};

test('export and import of it are the identity, and no feed ends before its start', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 25 }), (steps) =>
      inFolder((folder) => {
        const [source, out, target] = ['source', 'out', 'target'].map((name) => join(folder, name)) as [
          string,
          string,
          string,
        ];
        left(source, steps);
        const before = seen(source);
        for (const feed of before)
          expect(feed!.endedAtMs ?? Infinity).toBeGreaterThanOrEqual(feed!.startedAtMs);
        const store = openStore(source);
        exportTo(store, out, { softwareVersion: '0.1.0', nowMs: START_MS, captures: true });
        store.close();
        const { setAside, feeds } = importInto(target, out, START_MS);
        expect(setAside).toEqual([]);
        expect(feeds).toBe(before.length);
        // An empty capture is not exported.
        const nothingLost = (feeds: ReturnType<typeof seen>) =>
          feeds.map((feed) => ({ ...feed, captureFile: null }));
        expect(nothingLost(seen(target))).toEqual(nothingLost(before));
      }),
    ),
    { seed: 20260105, numRuns: 12, endOnFailure: true },
  );
});
