/** Each command that writes much or deletes, killed at each of its calls: nothing is lost, nothing twice, and run once more it completes. */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { killMoments } from '../../support/kill-moments.ts';
import { faultsAfterKill, KILL_SCENES, meantBy } from '../../support/kill-scenes.ts';

/** The least number of different states of the folder that each command must pass through. */
const MOMENTS: Record<string, number> = {
  export: 40,
  import: 50,
  backup: 60,
  restore: 40,
  forget: 12,
  archive: 40,
  migration: 3,
  rebuild: 5,
};

test.each(Object.entries(KILL_SCENES))('%s', async (name, scene) => {
  const base = fs.mkdtempSync(join(tmpdir(), 'ebbline-killed-'));
  onTestFinished(() => fs.rmSync(base, { recursive: true, force: true }));
  let folders = 0;
  const fresh = (): string => {
    const folder = join(base, `fresh-${++folders}`);
    fs.mkdirSync(folder);
    return folder;
  };
  const all = await meantBy(scene, fresh);
  const prepared = fresh();
  scene.prepare(prepared);
  // Copied to another place, since this process may still have connections to the first one.
  const root = join(base, 'root');
  fs.cpSync(prepared, root, { recursive: true });
  const moments = killMoments(root, base, () => scene.run(root));
  expect(moments.length).toBeGreaterThanOrEqual(MOMENTS[name]!);
  const broken: string[] = [];
  for (const { copy, before } of moments)
    for (const fault of await faultsAfterKill(scene, copy, all)) broken.push(`before ${before}: ${fault}`);
  expect(broken).toEqual([]);
});
