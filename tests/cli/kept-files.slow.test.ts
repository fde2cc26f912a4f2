/** The commands about what is kept, as a person types them. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import { forgetBaby } from '../../src/cli/data/forget.ts';
import { openStore } from '../../src/store/open-store.ts';
import { requireBuild, runCommand } from '../support/command.ts';
import { fullFolder } from '../support/full-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const idsIn = (folder: string) => {
  const store = openStore(folder);
  try {
    return store.list().map(({ id }) => id);
  } finally {
    store.close();
  }
};

describe('out and in, saved and brought back', () => {
  it('by export and import', async () => {
    const [data, target] = [fullFolder(temporaryFolder()), temporaryFolder()];
    const out = join(temporaryFolder(), 'out');
    const exported = await runCommand(['feeds', 'export', '--out', out, '--captures'], { data });
    expect({ code: exported.code, stderr: exported.stderr }).toEqual({ code: 0, stderr: '' });
    expect(exported.stdout).toContain(
      'Exported 4 feeds with 4 captures, 2 feeds written in by hand, 4 entries of the milk ledger',
    );
    expect((await runCommand(['feeds', 'import', out], { data: target })).stdout).toBe(
      `Imported 4 feeds with 4 captures, 2 feeds written in by hand, 4 entries of the milk ledger into ${target}.\n`,
    );
    expect((await runCommand(['feeds', 'import', out], { data: target })).stdout).toContain(
      '11 entries were kept already and left as they are.',
    );
    expect(idsIn(target)).toEqual(['d', 'b', 'a']);
  });

  it('of some days, as the machine has them', async () => {
    const data = fullFolder(temporaryFolder());
    const out = join(temporaryFolder(), 'out');
    // "a" is of January 5, "b" of January 6, 2026; the machine of the tests is in UTC.
    const { stdout } = await runCommand(
      ['feeds', 'export', '--out', out, '--from', '2026-01-05', '--to', '2026-01-05'],
      { data },
    );
    expect(stdout).toContain('Exported 1 feed, no feeds written in by hand');
    expect(fs.readFileSync(join(out, 'feeds.csv'), 'utf8').split('\r\n')[1]).toMatch(/^a,2026-01-05/);
  });

  it('by backup and restore', async () => {
    const [data, target] = [fullFolder(temporaryFolder()), temporaryFolder()];
    const out = join(temporaryFolder(), 'all.tar');
    expect((await runCommand(['data', 'backup', '--out', out], { data })).stdout).toMatch(
      /^Backed up 4 feeds with 4 captures to .*all\.tar \(\d\.\d MB\)/,
    );
    expect((await runCommand(['data', 'restore', out], { data: target })).stdout).toBe(
      `Restored 4 feeds into ${target}.\n`,
    );
    const again = await runCommand(['data', 'restore', out], { data: target });
    expect(again).toMatchObject({ code: 2, stderr: expect.stringContaining('Add --replace') });
    expect((await runCommand(['data', 'restore', out, '--replace'], { data: target })).stdout).toMatch(
      /What was there before is in .*before-restore-\d{8}-\d{6};/,
    );
    expect(idsIn(target)).toEqual(['d', 'b', 'a']);
  });

  it.each([
    [['feeds', 'export', '--from', '2026-02-30'], /It must be a day as YYYY-MM-DD/],
    [['data', 'archive', '--older-than', '2'], /a number with d, w, m or y/],
    [['data', 'archive', '--older-than', '2y'], /an age and what to do/],
    [['data', 'forget', 'Robin', '--yes'], /Nothing is kept of a baby called Robin/],
  ])('%j is refused in a sentence', async (args, says) => {
    const { code, stdout, stderr } = await runCommand(args, { data: temporaryFolder() });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(says);
  });
});

describe('archive', () => {
  it('moves once, or from now on, and tells the rule', async () => {
    const [data, away] = [fullFolder(temporaryFolder()), temporaryFolder()];
    const moved = await runCommand(
      ['data', 'archive', '--older-than', '1d', '--into', away, '--from-now-on'],
      {
        data,
      },
    );
    expect(moved.stdout).toMatch(/^Moved to .*: 4 captures \(0\.\d MB\)\. All else of their feeds stays\./);
    expect(fs.readdirSync(join(data, 'captures'))).toEqual([]);
    expect((await runCommand(['data', 'archive'], { data })).stdout).toContain('older than 1 day go to');
    expect((await runCommand(['data', 'archive', '--stop'], { data })).stdout).toContain(
      'none is put away by itself',
    );
  });
});

describe('forget', () => {
  const asked = async (answers: string[], data: string, isTTY = true) => {
    vi.stubEnv('EBBLINE_DATA', data);
    const said: string[] = [];
    const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      said.push(String(text));
      return true;
    });
    onTestFinished(() => {
      stdout.mockRestore();
      vi.unstubAllEnvs();
    });
    const input = Object.assign(new PassThrough(), { isTTY });
    const output = new PassThrough();
    output.on('data', (text) => {
      said.push(String(text));
      if (/: $/.test(String(text))) input.write(`${answers.shift()}\n`);
    });
    const code = await forgetBaby({ baby: 'wren' }, { input, output }).then(
      () => 'done',
      (error: { code?: string }) => error.code,
    );
    return { code, said: said.join('') };
  };

  it('asks twice before it deletes', async () => {
    const data = fullFolder(temporaryFolder());
    const { code, said } = await asked(['Wren', 'yes'], data);
    expect(code).toBe('done');
    expect(said).toMatch(/there are 3 feeds and 1 feed written in by hand.*for good/s);
    expect(said).toContain('Deleted of Wren: 3 feeds, 1 feed written in by hand');
    expect(idsIn(data)).toEqual(['b']);
  });

  it.each([
    [['Linnet', 'yes'], true],
    [['Wren', 'y'], true],
    [['Wren', ''], true],
    [[], false],
  ])('deletes nothing on %j (a terminal: %s)', async (answers, isTTY) => {
    const data = fullFolder(temporaryFolder());
    expect((await asked(answers, data, isTTY)).code).toBe('forget-unsure');
    expect(idsIn(data)).toEqual(['d', 'b', 'a']);
  });
});
