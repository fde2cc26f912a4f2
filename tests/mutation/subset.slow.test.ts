/** The few mistakes that are drawn for CI: as many are noticed as in baseline.json. `npm run test:mutation` draws more of them. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { ROOMS } from './rooms.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const BASELINE = JSON.parse(readFileSync(new URL('baseline.json', import.meta.url), 'utf8')) as {
  each: number;
  score: number;
  reasons: Record<string, { where: string; reason: string }>;
};

/** A limit only for a hang: on a busy machine this takes long. */
const PATIENCE = { timeout: 3 * 3600_000 };

it('small mistakes in the core are noticed by its tests, by the share of the baseline', PATIENCE, () => {
  const file = join(temporaryFolder(), 'tried.json');
  const tsx = join(ROOT, 'node_modules/tsx/dist/cli.mjs');
  // Without this runner's environment, since it starts a runner of its own.
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^(VITEST|TEST$|EBBLINE_)/.test(name)),
  );
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    [tsx, 'tests/mutation/main.ts', '--json', file],
    { cwd: ROOT, env, encoding: 'utf8' },
  );
  console.log(stdout);
  expect({ status, stderr: status === 0 ? '' : stderr }).toEqual({ status: 0, stderr: '' });
  const { score, tried } = JSON.parse(readFileSync(file, 'utf8')) as { score: number; tried: unknown[] };
  expect(tried).toHaveLength(BASELINE.each * ROOMS.length);
  expect(score).toBeGreaterThanOrEqual(BASELINE.score);
  for (const { reason } of Object.values(BASELINE.reasons)) expect(reason).toMatch(/\w.*\w/);
});
