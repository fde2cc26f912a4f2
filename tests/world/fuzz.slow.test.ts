/**
 * Whatever comes in from outside, at volume: bytes of the line, captures, calibrations, exports, backups, orders over HTTP. Good ones are
 * changed at random; what may come of it is a result or a sentence, never a fault of the program. What once broke is kept in
 * tests/fixtures/corpus and is tried first. More by hand: EBBLINE_FUZZ=100000.
 */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { createScanner, finishScan, scan } from '../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../src/base/errors.ts';
import { readCalibration } from '../../src/sensing/index.ts';
import { buildApp } from '../../src/server/app.ts';
import { openStore } from '../../src/store/open-store.ts';
import { backUp } from '../../src/store/portable/backup.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { restoreInto } from '../../src/store/portable/restore.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { fillStore, NOW_MS } from '../support/full-store.ts';
import { streamOf } from '../support/wire.ts';

const RUNS = Number(process.env.EBBLINE_FUZZ ?? 2000);
const SEED = 20260105;
const CORPUS = new URL('../fixtures/corpus/', import.meta.url).pathname;

let folder: string;
const good: Record<string, Buffer> = {};
const at = (name: string): string => join(folder, name);

/** Changes to a good input: bytes set, cut out, doubled, put in. */
const change = fc.oneof(
  fc.record({ do: fc.constant('set' as const), at: fc.nat(), to: fc.nat(255) }),
  fc.record({ do: fc.constant('cut' as const), at: fc.nat(), length: fc.nat(300) }),
  fc.record({ do: fc.constant('double' as const), at: fc.nat(), length: fc.nat(300) }),
  fc.record({ do: fc.constant('put' as const), at: fc.nat(), bytes: fc.uint8Array({ maxLength: 40 }) }),
  fc.record({ do: fc.constant('end' as const), at: fc.nat() }),
  fc.record({
    do: fc.constant('word' as const),
    at: fc.nat(),
    word: fc.constantFrom(
      'null',
      '-1',
      '1e999',
      '"__proto__"',
      '[]',
      '{}',
      '\\u0000',
      '99999999999999999999',
      '""',
      '../../x',
    ),
  }),
);
type Change = typeof change extends fc.Arbitrary<infer C> ? C : never;

function changed(input: Buffer, changes: readonly Change[]): Buffer {
  let bytes = Buffer.from(input);
  for (const one of changes) {
    const place = bytes.length === 0 ? 0 : one.at % bytes.length;
    const head = bytes.subarray(0, place);
    const rest = bytes.subarray(place);
    if (one.do === 'set') bytes = Buffer.concat([head, Buffer.of(one.to), rest.subarray(1)]);
    else if (one.do === 'cut') bytes = Buffer.concat([head, rest.subarray(one.length)]);
    else if (one.do === 'double') bytes = Buffer.concat([head, rest.subarray(0, one.length), rest]);
    else if (one.do === 'put') bytes = Buffer.concat([head, one.bytes, rest]);
    else if (one.do === 'end') bytes = Buffer.from(head);
    else bytes = Buffer.concat([head, Buffer.from(one.word), rest.subarray(one.word.length)]);
  }
  return bytes;
}

/** Runs an action that may succeed or refuse with a sentence; any other error fails the test. */
function orSentence(action: () => unknown): void {
  try {
    action();
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    expect(error.message).toMatch(/\.$/);
    expect(error.remedy).not.toBe('');
  }
}

const written = (name: string, bytes: Buffer): string => {
  fs.writeFileSync(at(name), bytes);
  return at(name);
};
const intoFresh = (act: (target: string) => void): void => {
  const target = at('target');
  fs.rmSync(target, { recursive: true, force: true });
  act(target);
};

/** What is done with a changed input, and how many inputs. */
const TARGETS: Record<string, { runs: number; take: (bytes: Buffer) => void }> = {
  line: {
    runs: RUNS,
    take(bytes) {
      const scanner = createScanner();
      scan(scanner, bytes, { sample: () => {} });
      finishScan(scanner);
    },
  },
  'a.cap.cols': { runs: RUNS, take: (bytes) => orSentence(() => readCapture(written('x.cap.cols', bytes))) },
  'a.cap.gz': { runs: RUNS, take: (bytes) => orSentence(() => readCapture(written('x.cap.gz', bytes))) },
  'calibration.json': {
    runs: RUNS,
    take: (bytes) => orSentence(() => readCalibration(bytes.toString(), 'x')),
  },
  'ebbline.jsonl': {
    runs: RUNS / 20,
    take: (bytes) =>
      orSentence(() => intoFresh((target) => importInto(target, written('x.jsonl', bytes), NOW_MS))),
  },
  'hand-feeds.csv': {
    runs: RUNS / 20,
    take: (bytes) =>
      orSentence(() => intoFresh((target) => importInto(target, written('x.csv', bytes), NOW_MS))),
  },
  'all.tar': {
    runs: RUNS / 20,
    take: (bytes) =>
      orSentence(() =>
        intoFresh((target) => restoreInto(target, written('x.tar', bytes), { replace: true, nowMs: NOW_MS })),
      ),
  },
};

beforeAll(() => {
  folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-fuzz-'));
  const store = openStore(at('data'), { recording: true, softwareVersion: '0.1.0', nowMs: () => NOW_MS });
  fillStore(store);
  exportTo(store, at('out'), { softwareVersion: '0.1.0', nowMs: NOW_MS, captures: true });
  store.close();
  backUp(at('data'), at('all.tar'), { nowMs: NOW_MS, softwareVersion: '0.1.0' });
  good.line = Buffer.from(streamOf(0, 160));
  good['a.cap.cols'] = fs.readFileSync(join(at('data'), 'captures', 'a.cap.cols'));
  good['a.cap.gz'] = fs.readFileSync(join(at('out'), 'captures', 'a.cap.gz'));
  good['calibration.json'] = Buffer.from(JSON.stringify(exampleCalibration()));
  for (const name of ['ebbline.jsonl', 'hand-feeds.csv']) good[name] = fs.readFileSync(join(at('out'), name));
  good['all.tar'] = fs.readFileSync(at('all.tar'));
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe.each(Object.keys(TARGETS))('%s', (name) => {
  const { runs, take } = TARGETS[name]!;
  const corpus = join(CORPUS, name);
  test.skipIf(!fs.existsSync(corpus))('inputs that once broke it no longer do', () => {
    for (const file of fs.readdirSync(corpus)) take(fs.readFileSync(join(corpus, file)));
  });

  test('changed at random gives a result or a sentence', () => {
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 6 }), (changes) => {
        const bytes = changed(good[name]!, changes);
        try {
          take(bytes);
        } catch (error) {
          fs.writeFileSync(join(tmpdir(), `ebbline-corpus-${name.replaceAll('.', '-')}`), bytes);
          throw error;
        }
      }),
      { seed: SEED, numRuns: Math.max(20, Math.round(runs)), endOnFailure: true },
    );
  });
});

test('orders over HTTP: a result or a refusal, never a fault', async () => {
  const faults: unknown[] = [];
  const web = at('web');
  fs.mkdirSync(web);
  fs.writeFileSync(join(web, 'index.html'), '');
  const app = buildApp(
    {
      live: new FakeLive(viewOf({})),
      feeds: { list: () => [], get: () => null },
      graph: () => '',
      webFolder: web,
      onError: (fault) => faults.push(fault),
    },
    () => 4620,
  );
  const value = fc.oneof(
    fc.json(),
    fc.string(),
    fc.constantFrom('{"kind":"setup","setup":{"babyName":{}}}', '{"kind":"mute"}', '[]', '{"__proto__":{}}'),
  );
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom('GET', 'POST', 'PUT', 'DELETE'),
      fc.oneof(
        fc.constantFrom('/live/commands', '/feeds', '/feeds/x/graph.svg', '/right', '/sharing'),
        fc.webPath(),
        fc.string().map((text) => text.replaceAll(/[^!-~]/g, '%')),
      ),
      value,
      async (method, path, payload) => {
        // One slash at the start; two would be taken for a host name.
        const url = `/${path.replace(/^[/\\]+/, '')}`;
        // The answer to this request never ends.
        if (url.startsWith('/live') && method === 'GET') return;
        const answer = await app.inject({
          method: method as 'GET',
          url,
          headers: { host: '127.0.0.1:4620', 'content-type': 'application/json' },
          ...(method !== 'GET' && { payload }),
        });
        expect(answer.statusCode).toBeLessThan(500);
        if (answer.statusCode >= 400)
          expect(answer.json()).toMatchObject({
            error: { message: expect.any(String), remedy: expect.any(String) },
          });
      },
    ),
    { seed: SEED, numRuns: Math.max(100, Math.round(RUNS / 4)), endOnFailure: true },
  );
  expect(faults).toEqual([]);
});
