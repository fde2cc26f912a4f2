import { spawn } from 'node:child_process';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { openStore } from '../../src/store/open-store.ts';
import { seededRandom } from '../support/random.ts';
import { begunFeed, bytesOfSecond, partOfSecond, refinedSample, rowAt } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const CHILD = new URL('recorder.child.ts', import.meta.url).pathname;
const END = { endReason: 'button', endedAtMs: Date.UTC(2026, 0, 5, 9, 20, 0), refined: null } as const;

interface RecorderRun {
  folder: string;
  lastSecond: number;
  byteCount: number;
  /** SIGKILL comes this many turns of our event loop after the line was read. */
  killAfter: { line: string; turns: number };
}

/** @returns the lines that the child had said before it died */
async function killedRecorder({ folder, lastSecond, byteCount, killAfter }: RecorderRun): Promise<string[]> {
  const args = ['--import', 'tsx', CHILD, folder, 'cut', String(lastSecond), String(byteCount)];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  let said = '';
  let complaints = '';
  let doomed = false;
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    complaints += text;
  });
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    said += text;
    if (doomed || !said.includes(`${killAfter.line}\n`)) return;
    doomed = true;
    let turns = killAfter.turns;
    const countDown = () => (turns-- > 0 ? setImmediate(countDown) : child.kill('SIGKILL'));
    countDown();
  });
  await new Promise((resolve) => child.once('close', resolve));
  expect(complaints).toBe('');
  return said.split('\n').slice(0, -1);
}

function reopened(folder: string) {
  const store = openStore(folder, { recording: true });
  onTestFinished(() => store.close());
  return store;
}

describe('a recorder killed at a random moment', () => {
  test.each([11, 12, 13])('while it records (seed %i): all that was confirmed is there', async (seed) => {
    const random = seededRandom(seed);
    const folder = temporaryFolder();
    const killLine = `kept ${Math.floor(random() * 60)}`;
    const said = await killedRecorder({
      folder,
      lastSecond: 100_000,
      byteCount: 2500,
      killAfter: { line: killLine, turns: Math.floor(random() * 400) },
    });
    const confirmed = said.filter((line) => line.startsWith('kept')).length;
    expect(said).toContain(killLine);

    const store = reopened(folder);
    expect(store.unfinished().map(({ id }) => id)).toEqual(['cut']);
    const feed = store.get('cut')!;
    // At most the second that was being written is lost, and nothing is half written.
    const kept = feed.rows.length / 2;
    expect([confirmed, confirmed + 1]).toContain(kept);
    expect(feed.rows).toEqual(Array.from({ length: kept * 2 }, (_, i) => rowAt(i / 2)));
    expect(feed.durationSec).toBe(kept - 0.5);
    const bytes = fs.readFileSync(store.capturePath('cut')!);
    const sent = Buffer.concat(Array.from({ length: kept }, (_, second) => bytesOfSecond(second, 2500)));
    expect(bytes.subarray(0, sent.length).equals(sent)).toBe(true);
    expect(bytes.length - sent.length).toBeLessThanOrEqual(2500);

    const recovered = store.recover('cut', refinedSample());
    expect(recovered).toMatchObject({ state: 'ended', endReason: 'link-ended', intakeMl: 82.25 });
    expect(recovered.endedAtMs).toBe(recovered.sampleZeroAtMs + feed.rows.at(-1)!.atSec * 1000);
    expect(store.unfinished()).toEqual([]);
    expect(bytes.equals(readCapture(store.capturePath('cut')!).bytes)).toBe(true);
  });

  test.each([21, 22])(
    'while it ends and packs (seed %i): the feed is whole, the capture too',
    async (seed) => {
      const random = seededRandom(seed);
      const folder = temporaryFolder();
      const said = await killedRecorder({
        folder,
        lastSecond: 9,
        byteCount: 250_000,
        killAfter: { line: 'ending', turns: Math.floor(random() * 2000) },
      });
      expect(said.at(-1)).toMatch(/^end/);
      const store = reopened(folder);
      const [unfinished] = store.unfinished();
      if (unfinished) store.recover('cut', null);
      expect(store.get('cut')!.rows).toHaveLength(20);
      const sent = Buffer.concat(Array.from({ length: 10 }, (_, second) => bytesOfSecond(second, 250_000)));
      expect(sent.equals(readCapture(store.capturePath('cut')!).bytes)).toBe(true);
      expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['cut.cap.cols', 'cut.json']);
    },
  );
});

describe('each step of ending a feed may be the last one', () => {
  /** A folder whose feed was ended and packed, and the bytes of its capture. */
  function endedFolder() {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0, 5000));
    store.finish('one', END);
    store.close();
    return { folder, captures: join(folder, 'captures'), sent: Buffer.from(bytesOfSecond(0, 5000)) };
  }

  test.each([
    ['before packing', (captures: string) => fs.rmSync(join(captures, 'one.cap.cols'))],
    [
      'half-way through packing',
      (captures: string) => {
        fs.rmSync(join(captures, 'one.cap.cols'));
        fs.writeFileSync(join(captures, 'one.cap.cols.tmp'), 'EBCC only a part');
      },
    ],
    ['packed, the raw one not yet removed', () => {}],
    [
      'packed, but not as it went in',
      (captures: string) => fs.truncateSync(join(captures, 'one.cap.cols'), 40),
    ],
    [
      'half-way through the note',
      (captures: string) => {
        fs.rmSync(join(captures, 'one.json'));
        fs.writeFileSync(join(captures, 'one.json.tmp'), '{"version": 1, "fee');
      },
    ],
  ])('%s', (_when, undo) => {
    const { folder, captures, sent } = endedFolder();
    fs.writeFileSync(join(captures, 'one.cap'), sent);
    undo(captures);
    const store = reopened(folder);
    expect(fs.readdirSync(captures).sort()).toEqual(['one.cap.cols', 'one.json']);
    expect(sent.equals(readCapture(store.capturePath('one')!).bytes)).toBe(true);
    expect(JSON.parse(fs.readFileSync(join(captures, 'one.json'), 'utf8')).endedAt).toBe(
      '2026-01-05T09:20:00.000Z',
    );
  });

  test('a disk that spoils what is written: gzip if that comes back whole, else the raw capture stays', () => {
    for (const [spoilt, left] of [
      [/\.cols/, 'one.cap.gz'],
      [/\.cols|\.gz/, 'one.cap'],
    ] as const) {
      const folder = temporaryFolder();
      const captures = join(folder, 'captures');
      const disk = {
        ...fs,
        renameSync: (from: fs.PathLike, to: fs.PathLike) => {
          fs.renameSync(from, to);
          if (spoilt.test(String(to))) fs.truncateSync(to, fs.statSync(to).size - 1);
        },
      };
      const store = openStore(folder, { recording: true, disk });
      onTestFinished(() => store.close());
      store.begin(begunFeed('one'), null);
      store.append('one', partOfSecond(0, 5000));
      store.finish('one', END);
      expect(fs.readdirSync(captures).sort()).toEqual([left, 'one.json']);
      expect(store.get('one')!.captureFile).toBe(`captures/${left}`);
      expect(readCapture(store.capturePath('one')!).bytes).toEqual(Buffer.from(bytesOfSecond(0, 5000)));
    }
  });

  test('a raw capture that no feed knows is left alone', () => {
    const { folder, captures } = endedFolder();
    fs.writeFileSync(join(captures, 'stray.cap'), 'bytes');
    reopened(folder);
    expect(fs.readFileSync(join(captures, 'stray.cap'), 'utf8')).toBe('bytes');
  });

  test('a half-finished feed stays unpacked until it is recovered, and a reader touches nothing', () => {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0));
    store.close();
    const reader = openStore(folder);
    expect(reader.unfinished().map(({ id }) => id)).toEqual(['one']);
    reader.close();
    const again = reopened(folder);
    expect(again.capturePath('one')).toBe(join(folder, 'captures/one.cap'));
    expect(again.recover('one', null).captureFile).toBe('captures/one.cap.cols');
  });
});
