import * as fs from 'node:fs';
import { join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';
import type { StoreOptions } from '../../src/store/open-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { begunFeed, bytesOfSecond, partOfSecond, refinedSample, rowAt } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const CALIBRATION = { version: 1, sleeveId: 'bench-1', calibratedAt: '2026-01-05T08:00:00Z' };
const ENDED_AT_MS = Date.UTC(2026, 0, 5, 9, 20, 0);
const END = { endReason: 'button', endedAtMs: ENDED_AT_MS, refined: null } as const;

function recordingStore(folder: string, options: StoreOptions = {}) {
  const store = openStore(folder, { recording: true, softwareVersion: '0.1.0', ...options });
  onTestFinished(() => store.close());
  return store;
}

describe('a feed from begin to end', () => {
  test('comes back as it was handed in', () => {
    const store = recordingStore(temporaryFolder());
    store.begin(begunFeed('one'), CALIBRATION);
    for (let second = 0; second < 40; second++) store.append('one', partOfSecond(second));
    const running = store.get('one')!;
    expect(running.state).toBe('open');
    expect(running.refined).toBeNull();

    store.finish('one', { ...END, refined: refinedSample() });
    const kept = store.get('one')!;
    expect(kept).toMatchObject({
      ...begunFeed('one'),
      state: 'ended',
      endReason: 'button',
      endedAtMs: ENDED_AT_MS,
      intakeMl: 82.25,
      spiltMl: 1.5,
      addedMl: 30,
      durationSec: 39.5,
      captureFile: 'captures/one.cap.cols',
    });
    expect(kept.calibration).toEqual(CALIBRATION);
    expect(kept.softwareVersion).toBe('0.1.0');
    expect(kept.rows).toEqual(Array.from({ length: 80 }, (_, i) => rowAt(i / 2)));
    expect(kept.cues).toEqual([{ atSec: 30, kind: 'burp', because: '30 s' }]);
    expect(kept.told).toEqual([{ shown: 'burp', sinceSec: 30, atSec: 30, output: 'light' }]);
    expect(kept.events).toEqual([{ kind: 'teat-in', atSec: 0 }]);
    // Kept to four decimals.
    const { intakeMl, milkMl, ...rest } = refinedSample();
    expect(kept.refined).toMatchObject(rest);
    expect(kept.refined!.milkMl).toEqual([90, null, 89.8765]);
    expect(kept.refined!.intakeMl).toEqual([0, 0.0375, 0.1235]);
    expect(intakeMl.length + milkMl.length).toBe(6);
  });

  test('its capture holds the very bytes: raw while it runs, packed afterwards, a note without names beside it', () => {
    const folder = temporaryFolder();
    const store = recordingStore(folder);
    store.begin(begunFeed('one'), CALIBRATION);
    const seconds = Array.from({ length: 12 }, (_, second) => second);
    for (const second of seconds) store.append('one', partOfSecond(second, 2500));
    const sent = Buffer.concat(seconds.map((second) => bytesOfSecond(second, 2500)));
    expect(store.capturePath('one')).toBe(join(folder, 'captures/one.cap'));
    expect(fs.readFileSync(store.capturePath('one')!).equals(sent)).toBe(true);

    store.finish('one', END);
    expect(store.capturePath('one')).toBe(join(folder, 'captures/one.cap.cols'));
    expect(sent.equals(readCapture(store.capturePath('one')!).bytes)).toBe(true);
    expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['one.cap.cols', 'one.json']);
    const note = fs.readFileSync(join(folder, 'captures/one.json'), 'utf8');
    expect(JSON.parse(note)).toEqual({
      version: 1,
      feedId: 'one',
      simulated: false,
      sleeveId: 'bench-1',
      contractVersion: 2,
      softwareVersion: '0.1.0',
      startedAt: '2026-01-05T09:00:03.000Z',
      sampleZeroAt: '2026-01-05T09:00:00.000Z',
      endedAt: '2026-01-05T09:20:00.000Z',
      calibration: CALIBRATION,
    });
    expect(note).not.toMatch(/Wren|Juno|2025-11-02/);
  });

  test('the list is newest first and leaves out what was not a feed', () => {
    const store = recordingStore(temporaryFolder());
    for (const [i, id] of ['a', 'b', 'c'].entries()) {
      store.begin(begunFeed(id, { startedAtMs: 1000 * (i + 1) }), null);
      store.append(id, partOfSecond(0));
      store.append(id, partOfSecond(30));
    }
    store.discard('b');
    store.finish('c', END);
    store.discard('c');
    store.finish('a', END);
    expect(store.list().map(({ id, cueCount }) => [id, cueCount])).toEqual([['a', 1]]);
    expect(store.list({ discarded: true }).map(({ id, state }) => [id, state])).toEqual([
      ['c', 'discarded'],
      ['b', 'discarded'],
      ['a', 'ended'],
    ]);
    const [newest] = store.list({ discarded: true, limit: 1 });
    expect(newest!.id).toBe('c');
    const before = store.list({ discarded: true, beforeMs: newest!.atMs, limit: 1 });
    expect(before.map(({ id }) => id)).toEqual(['b']);
    // It stays on disk.
    expect(store.get('b')!.rows).toHaveLength(4);
    expect(readCapture(store.capturePath('b')!).bytes).toHaveLength(128);
    expect(store.unfinished()).toEqual([]);
  });

  test('what was said to be no feed stays so, whoever ends it', () => {
    const folder = temporaryFolder();
    const store = recordingStore(folder);
    store.begin(begunFeed('one'), null);
    const reader = openStore(folder);
    reader.discard('one');
    reader.close();
    store.append('one', partOfSecond(0));
    store.finish('one', END);
    expect(store.get('one')).toMatchObject({
      state: 'discarded',
      endReason: 'button',
      endedAtMs: ENDED_AT_MS,
    });
    expect(store.list()).toEqual([]);
  });

  test('a reader beside the recorder sees the feed grow and may not record', () => {
    const folder = temporaryFolder();
    const store = recordingStore(folder);
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0));
    const reader = openStore(folder);
    onTestFinished(() => reader.close());
    expect(reader.get('one')!.rows).toHaveLength(2);
    store.append('one', partOfSecond(1));
    expect(reader.get('one')!.rows).toHaveLength(4);
    expect(reader.get('none')).toBeNull();
    expect(() => reader.begin(begunFeed('two'), null)).toThrow('opened for reading');
  });
});

describe('settings and calibrations', () => {
  test('the last answers come back at the next start; none at first', () => {
    const folder = temporaryFolder();
    const store = openStore(folder);
    expect(Object.values(store.readSetup())).toEqual([null, null, null, null, null, null]);
    store.writeSetup(begunFeed('x').setup);
    store.writeSetup({ ...begunFeed('x').setup, portionMl: 120 });
    store.close();
    const again = openStore(folder);
    expect(again.readSetup()).toEqual({ ...begunFeed('x').setup, portionMl: 120 });
    again.close();
  });

  test('each sleeve has its own calibration, the latest counts', () => {
    const store = openStore(temporaryFolder());
    expect(store.calibrationFor('7')).toBeNull();
    store.keepCalibration('7', { calibratedAt: 'first' });
    store.keepCalibration('8', { calibratedAt: 'other' });
    store.keepCalibration('7', { calibratedAt: 'second' });
    expect(store.calibrationFor('7')).toEqual({ calibratedAt: 'second' });
    expect(store.calibrationFor('8')).toEqual({ calibratedAt: 'other' });
    store.close();
  });
});

describe('durability', () => {
  test('every commit is synced, the log is written ahead', () => {
    const folder = temporaryFolder();
    const store = recordingStore(folder);
    const other = new Libsql(join(folder, 'feeds.sqlite'));
    expect(other.prepare('PRAGMA journal_mode').all()).toEqual([{ journal_mode: 'wal' }]);
    other.close();
    expect(store.list()).toEqual([]);
  });

  test('bytes are synced before the rows that came with them are kept', () => {
    const calls: string[] = [];
    const disk = {
      ...fs,
      writeSync: ((...given: Parameters<typeof fs.writeSync>) => {
        calls.push('write');
        return fs.writeSync(...given);
      }) as typeof fs.writeSync,
      fsyncSync: (fd: number) => {
        calls.push('sync');
        fs.fsyncSync(fd);
      },
    };
    const store = recordingStore(temporaryFolder(), { disk });
    store.begin(begunFeed('one'), null);
    calls.length = 0;
    store.append('one', partOfSecond(0));
    expect(calls).toEqual(['write', 'sync']);
  });
});

describe('a full disk', () => {
  /** A disk that takes `room` more bytes; the write that crosses the mark is short, as a real one is. */
  function fillingDisk(room: number) {
    const disk = {
      ...fs,
      room,
      writeSync: ((fd: number, bytes: Uint8Array, offset: number, length: number) => {
        const taken = Math.min(length, disk.room);
        if (taken === 0)
          throw Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' });
        disk.room -= taken;
        return fs.writeSync(fd, bytes, offset, taken);
      }) as typeof fs.writeSync,
    };
    return disk;
  }

  test('a capture that finds no room: a plain error, nothing of the part kept, everything before safe, the part fits later', () => {
    const disk = fillingDisk(100_000);
    const folder = temporaryFolder();
    const store = recordingStore(folder, { disk });
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0, 1000));
    disk.room = 300;
    const refused = caught(() => store.append('one', partOfSecond(1, 1000)));
    expect(refused.code).toBe('store-full');
    expect(refused.text).toContain('Free some space');
    expect(store.get('one')!.rows).toHaveLength(2);
    expect(fs.statSync(store.capturePath('one')!).size).toBe(1000);

    disk.room = 100_000;
    store.append('one', partOfSecond(1, 1000));
    store.finish('one', END);
    expect(store.get('one')!.rows).toHaveLength(4);
    const sent = Buffer.concat([bytesOfSecond(0, 1000), bytesOfSecond(1, 1000)]);
    expect(sent.equals(readCapture(store.capturePath('one')!).bytes)).toBe(true);
  });

  test('no room to pack: the feed is ended all the same, and packed at the next start', () => {
    const disk = fillingDisk(100_000);
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true, disk });
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0, 1000));
    disk.room = 10;
    store.finish('one', { ...END, refined: refinedSample() });
    expect(store.get('one')).toMatchObject({
      state: 'ended',
      captureFile: 'captures/one.cap',
      intakeMl: 82.25,
    });
    expect(fs.statSync(store.capturePath('one')!).size).toBe(1000);
    store.close();

    const again = recordingStore(folder);
    expect(again.get('one')!.captureFile).toBe('captures/one.cap.cols');
    expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['one.cap.cols', 'one.json']);
  });

  test('what a database does not take has its bytes in the capture all the same, once', () => {
    const folder = temporaryFolder();
    const store = recordingStore(folder);
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0, 1000));
    const tooLong = {
      ...partOfSecond(1, 1000),
      cues: [{ atSec: 1, kind: null as never, because: '' }],
    };
    // A failed NOT NULL stands for any failure between the capture and the commit.
    expect(() => store.append('one', tooLong)).toThrow(/NOT NULL/);
    expect(fs.statSync(store.capturePath('one')!).size).toBe(2000);
    expect(store.get('one')!.rows).toHaveLength(2);
    store.append('one', partOfSecond(1, 1000));
    expect(store.get('one')!.rows).toEqual([0, 0.5, 1, 1.5].map(rowAt));
    expect(fs.statSync(store.capturePath('one')!).size).toBe(2000);
  });
});

describe('a start that must not go on', () => {
  test('the folder cannot be made', () => {
    const folder = temporaryFolder();
    fs.writeFileSync(join(folder, 'taken'), 'a file');
    const refused = caught(() => openStore(join(folder, 'taken', 'feeds')));
    expect(refused.code).toBe('store-folder');
    expect(refused.text).toContain(join(folder, 'taken', 'feeds'));
    expect(refused.text).toContain('EBBLINE_DATA');
  });

  test('another process records there; it is free again afterwards', () => {
    const folder = temporaryFolder();
    const first = openStore(folder, { recording: true });
    expect(caught(() => openStore(folder, { recording: true })).code).toBe('store-recording');
    first.close();
    openStore(folder, { recording: true }).close();
  });

  test('simulated and real feeds never share a folder', () => {
    const store = recordingStore(temporaryFolder());
    store.begin(begunFeed('one', { simulated: true }), null);
    expect(caught(() => store.begin(begunFeed('two'), null)).code).toBe('store-mixed');
    expect(store.list()).toHaveLength(1);
  });

  test('an id that is taken, or no file name, leaves the first feed alone', () => {
    const store = recordingStore(temporaryFolder());
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0));
    expect(() => store.begin(begunFeed('one'), null)).toThrow();
    expect(() => store.begin(begunFeed('../one'), null)).toThrow('file name');
    expect(fs.statSync(store.capturePath('one')!).size).toBe(64);
    store.append('one', partOfSecond(1));
    expect(store.get('one')!.rows).toHaveLength(4);
  });

  test('feeds that nobody knows', () => {
    const store = recordingStore(temporaryFolder());
    expect(caught(() => store.finish('none', END)).code).toBe('store-no-feed');
    expect(caught(() => store.recover('none', null)).code).toBe('store-no-feed');
    expect(() => store.append('none', partOfSecond(0))).toThrow('not running');
  });
});

function caught(action: () => unknown): PlainError {
  try {
    action();
  } catch (error) {
    expect(error).toBeInstanceOf(PlainError);
    return error as PlainError;
  }
  throw new Error('nothing was thrown');
}
