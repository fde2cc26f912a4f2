/** Which calibration belongs to which sleeve. Another sleeve's calibration gives wrong amounts that look plausible. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Libsql from 'libsql';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { checkSleeve } from '../../src/app/sleeve/sleeve-calibration.ts';
import { softwareSleeve } from '../../src/app/sleeve/sleeves.ts';
import { type StartOptions, start } from '../../src/cli/start.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exampleCalibration } from '../support/calibrations.ts';
import { capturePath } from '../support/captures.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const given = { ...exampleCalibration(), sleeveId: 'kitchen' };
const choice = { calibration: 'kitchen.json' };

describe('a calibration for a sleeve', () => {
  it('is taken the first time', () => {
    expect(() => checkSleeve('4711', given, null, choice)).not.toThrow();
  });

  it('is taken again, and so is a newer one of the same name', () => {
    expect(() => checkSleeve('4711', given, given, choice)).not.toThrow();
    const newer = {
      ...given,
      calibratedAt: '2026-02-01T09:00:00Z',
      zeroCounts: [1, 2, 3] as [number, number, number],
    };
    expect(() => checkSleeve('4711', newer, given, choice)).not.toThrow();
  });

  it('of another name is refused, and taken if that is said', () => {
    const kept = { ...given, sleeveId: 'nursery' };
    expect(() => checkSleeve('4711', given, kept, choice)).toThrow(
      expect.objectContaining({
        code: 'calibration-other-sleeve',
        message: expect.stringMatching(/kitchen\.json.*"kitchen".*4711.*"nursery"/),
        remedy: expect.stringContaining('--replace-calibration'),
      }),
    );
    expect(() => checkSleeve('4711', given, kept, { ...choice, replaceCalibration: true })).not.toThrow();
  });

  it('that names another number is refused whatever is said', () => {
    const numbered = { ...given, sleeveNumber: 12 };
    expect(() => checkSleeve('4711', numbered, null, { ...choice, replaceCalibration: true })).toThrow(
      expect.objectContaining({
        code: 'calibration-other-sleeve',
        message: expect.stringMatching(/sleeve 12.*sleeve 4711/),
      }),
    );
    expect(() => checkSleeve('12', numbered, null, choice)).not.toThrow();
  });
});

describe('start refuses, before it touches a port or a page,', () => {
  let data = '';
  beforeEach(() => {
    data = temporaryFolder();
    vi.stubEnv('EBBLINE_DATA', data);
    return () => vi.unstubAllEnvs();
  });
  const starting = (more: Partial<StartOptions>) =>
    start({ sleeve: 'simulated', seed: 1, speed: 1, pagePort: 0, ...more });

  it('a bad calibration', async () => {
    const file = join(data, 'bad.json');
    writeFileSync(file, '{}');
    await expect(starting({ port: '/dev/nonexistent', calibration: file })).rejects.toMatchObject({
      code: 'calibration-form',
      message: expect.stringContaining(file),
    });
  });

  it('a calibration without a port, instead of simulating something else', async () => {
    await expect(starting({ calibration: capturePath('calm', 'cal.json') })).rejects.toMatchObject({
      code: 'calibration-without-port',
      remedy: expect.stringContaining('--port'),
    });
  });

  it('feeds that a newer version has kept, and leaves them as they are', async () => {
    const folder = join(data, 'simulated');
    mkdirSync(folder);
    openStore(folder).close();
    const file = join(folder, 'feeds.sqlite');
    const database = new Libsql(file);
    database.exec('PRAGMA user_version = 9999; PRAGMA wal_checkpoint(TRUNCATE)');
    database.close();
    const before = readFileSync(file);
    await expect(starting({})).rejects.toMatchObject({
      code: 'store-newer',
      remedy: expect.stringContaining('Update Ebbline'),
    });
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  it('a data folder that is none', async () => {
    const file = join(data, 'file');
    writeFileSync(file, 'not a folder');
    vi.stubEnv('EBBLINE_DATA', file);
    await expect(starting({})).rejects.toMatchObject({
      code: 'store-folder',
      remedy: expect.stringContaining('EBBLINE_DATA'),
    });
  });
});

describe('a simulated feed', () => {
  it('of an unknown name is refused with the names there are', async () => {
    await expect(
      softwareSleeve({ sleeve: 'simulated', scenario: 'picnic', seed: 1, speed: 1 }),
    ).rejects.toMatchObject({
      code: 'scenario-unknown',
      message: expect.stringContaining('"picnic"'),
      remedy: expect.stringContaining('hurried-start'),
    });
  });
});
