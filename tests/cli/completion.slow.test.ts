/** What Tab offers: asked of the command itself, and through a real bash where there is one. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { requireBuild, runCommand } from '../support/command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

const COMMAND = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));

async function offered(...words: string[]): Promise<string[]> {
  const { stdout } = await runCommand(['complete', '--', ...words], { data: temporaryFolder() });
  return stdout
    .split('\n')
    .filter(Boolean)
    .map((line) => line.split('\t')[0]!);
}

describe('completion', () => {
  it('offers commands, verbs, options and choices, as the tree of commands has them', async () => {
    expect(await offered('')).toEqual(
      expect.arrayContaining(['start', 'feeds', 'milk', 'print', 'completion']),
    );
    expect(await offered('')).not.toContain('complete');
    expect(await offered('feeds', 'ex')).toEqual(['export']);
    expect(await offered('feeds', '--dis')).toEqual(['--discarded']);
    expect(await offered('feeds', 'add', '')).toEqual(['breast', 'bottle', 'refused']);
    expect(await offered('start', '--sleeve', '')).toEqual(['simulated', 'emulated']);
    expect(await offered('feeds', 'graph', '--language', 'es', '--un')).toEqual(['--unit']);
    // No words are offered for a file: the shell offers file names.
    expect(await offered('start', '--calibration', '')).toEqual([]);
  });

  it.each(['bash', 'zsh', 'fish'])('prints a script for %s that asks this program', async (shell) => {
    const { code, stdout } = await runCommand(['completion', shell], { data: temporaryFolder() });
    expect(code).toBe(0);
    expect(stdout).toMatch(/ebbline complete -- /);
  });

  it.skipIf(spawnSync('bash', ['--version']).status !== 0)('completes in bash', () => {
    const bin = join(temporaryFolder(), 'bin');
    mkdirSync(bin);
    symlinkSync(COMMAND, join(bin, 'ebbline'));
    const script = [
      'source <(ebbline completion bash)',
      'COMP_WORDS=(ebbline feeds gr); COMP_CWORD=2; _ebbline; echo "$COMPREPLY"',
    ].join('\n');
    const { stdout } = spawnSync('bash', ['--norc', '-c', script], {
      env: { PATH: `${bin}:${process.env.PATH}` },
      encoding: 'utf8',
    });
    expect(stdout).toBe('graph\n');
  });
});
