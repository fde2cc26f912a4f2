import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { replayCapture } from '../../src/cli/replay.ts';
import { replay } from '../../src/feed/replay.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { capturePath, readFixture } from '../support/captures.ts';
import { requireBuild, runCommand } from '../support/command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const CAPTURE = capturePath('poured', 'cap.gz');
const CALIBRATION = capturePath('poured', 'cal.json');

describe('ebbline replay', () => {
  it('writes one JSON object to standard output, and nothing anywhere else', async () => {
    const data = join(temporaryFolder(), 'none');
    const args = ['replay', CAPTURE, '--calibration', CALIBRATION, '--portion-ml', '60', '--json'];
    const { code, stdout, stderr } = await runCommand(args, { data });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const { bytes, calibration } = readFixture('poured');
    expect(JSON.parse(stdout)).toEqual(replay([bytes], { calibration, portionMl: 60 }).result);
    // The data folder was not made either.
    expect(() => readFileSync(data)).toThrow(/ENOENT/);
  });

  it('says it in words without --json: amounts with both units, counts, and each cue with its reason', async () => {
    const args = ['replay', CAPTURE, '--calibration', CALIBRATION];
    const { code, stdout, stderr } = await runCommand(args, { data: temporaryFolder() });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/^\d*[¼½¾]? ?fl oz \(\d+ mL\) taken in 1:(29|30) min\.$/m);
    expect(stdout).toContain('7201 samples, 0 broken, 0 missing, 0 repeated.');
    expect(stdout).toMatch(/^ {2}0:4\d {2}tilt-down {2}.*mL\/min/m);
  });

  it('uses a capture that was cut as far as it goes, with a warning', async () => {
    const folder = temporaryFolder();
    const cut = join(folder, 'cut.cap.gz');
    writeFileSync(cut, readFileSync(CAPTURE).subarray(0, 80_000));
    const args = ['replay', cut, '--calibration', CALIBRATION, '--json'];
    const { code, stdout, stderr } = await runCommand(args, { data: folder });
    expect(code).toBe(0);
    expect(stderr).toBe(`ebbline: The capture ${cut} is cut short; it is used as far as it goes.\n`);
    const { frames, durationSec } = JSON.parse(stdout);
    expect(frames.accepted).toBeGreaterThan(2000);
    expect(durationSec).toBeGreaterThan(25);
  });

  it('refuses bad input with code 2, a sentence and its remedy, and an empty standard output', async () => {
    const folder = temporaryFolder();
    const missing = join(folder, 'nothing.cap');
    const { code, stdout, stderr } = await runCommand(
      ['replay', missing, '--calibration', CALIBRATION, '--json'],
      {
        data: folder,
      },
    );
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toBe(`ebbline: There is no capture ${missing}. Check the name and the folder.\n`);
  });
});

describe('what it refuses', () => {
  let folder = '';
  const file = (name: string, content: string | Uint8Array): string => {
    const path = join(folder, name);
    writeFileSync(path, content);
    return path;
  };
  const calibrationWith = (change: (calibration: Calibration) => object): string =>
    file('changed.json', JSON.stringify(change(JSON.parse(readFileSync(CALIBRATION, 'utf8')))));

  /** @returns the refusal; standard output must stay empty */
  async function refusalOf(capture: string, calibration: string): Promise<PlainError> {
    const stdout = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    try {
      const refused = await replayCapture({ capture, calibration, json: true }).then(
        () => null,
        (error: unknown) => error,
      );
      expect(refused).toBeInstanceOf(PlainError);
      expect(stdout).not.toHaveBeenCalled();
      return refused as PlainError;
    } finally {
      stdout.mockRestore();
    }
  }

  beforeEach(() => {
    folder = temporaryFolder();
  });

  it.each<[string, string, () => string]>([
    ['a capture that is not there', 'capture-missing', () => join(folder, 'none.cap.gz')],
    ['a capture in a folder that is not there', 'capture-missing', () => join(folder, 'none', 'a.cap')],
    ['a folder', 'capture-is-folder', () => temporaryFolder()],
    ['an empty capture', 'capture-empty', () => file('empty.cap', '')],
    ['an empty packed capture', 'capture-empty', () => file('empty.cap.gz', '')],
    ['a text', 'capture-no-samples', () => file('shopping.cap', 'bread, milk, eggs\n'.repeat(500))],
    [
      'samples that are all broken',
      'capture-no-samples',
      () =>
        file(
          'broken.cap',
          readFixture('calm').bytes.map((byte) => (byte < 0x80 ? byte ^ 1 : byte)),
        ),
    ],
    ['plain bytes named .gz', 'capture-not-gzip', () => file('plain.cap.gz', readFixture('calm').bytes)],
    ['a packed capture without .gz', 'capture-gzip-unnamed', () => file('packed.cap', readFileSync(CAPTURE))],
    [
      'a packed capture cut in its head',
      'capture-empty',
      () => file('head.cap.gz', readFileSync(CAPTURE).subarray(0, 12)),
    ],
  ])('%s', async (_, code, make) => {
    const capture = make();
    const refused = await refusalOf(capture, CALIBRATION);
    expect(refused.code).toBe(code);
    expect(refused.message).toContain(capture);
    expect(refused.remedy).toMatch(/^[A-Z].*\.\w*$/);
  });

  it.each<[string, string, RegExp, () => string]>([
    ['that is not there', 'calibration-missing', /no calibration file/, () => join(folder, 'none.json')],
    ['that is a folder', 'calibration-unreadable', /cannot be read/, () => folder],
    ['that is not JSON', 'calibration-form', /not JSON/, () => file('bad.json', '{ "version": 1, ')],
    ['that is empty', 'calibration-form', /not JSON/, () => file('empty.json', '')],
    ['that is another JSON', 'calibration-form', /right form/, () => file('list.json', '[1, 2, 3]')],
    [
      'without its bottle',
      'calibration-form',
      /at bottle/,
      () => calibrationWith(({ bottle: _, ...rest }) => rest),
    ],
    [
      'with a number that is a text',
      'calibration-form',
      /at bottle\.emptyMassGrams/,
      () => calibrationWith((all) => ({ ...all, bottle: { ...all.bottle, emptyMassGrams: '168' } })),
    ],
    [
      'of a later version',
      'calibration-version',
      /version 2.*reads version 1/,
      () => calibrationWith((all) => ({ ...all, version: 2 })),
    ],
    [
      'whose matrix cannot be',
      'calibration-matrix',
      /three loads apart/,
      () =>
        calibrationWith((all) => ({
          ...all,
          loadPerCount: [
            [1, 2, 3],
            [2, 4, 6],
            [0, 1, 0],
          ],
        })),
    ],
    [
      'whose matrix is nothing',
      'calibration-matrix',
      /three loads apart/,
      () =>
        calibrationWith((all) => ({
          ...all,
          loadPerCount: [
            [0, 0, 0],
            [0, 0, 0],
            [0, 0, 0],
          ],
        })),
    ],
  ])('a calibration %s', async (_, code, says, make) => {
    const calibration = make();
    const refused = await refusalOf(CAPTURE, calibration);
    expect(refused.code).toBe(code);
    expect(refused.message).toContain(calibration);
    expect(refused.message).toMatch(says);
    expect(refused.remedy).toMatch(/^[A-Z].*\.$/);
  });
});
