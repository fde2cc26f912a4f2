/**
 * `ebbline start` as a process whose disk is full: a limit on the size of a file (POSIX `ulimit -f`) stands for the full disk, and raising it
 * for the running process (`prlimit` of util-linux) for freed space. Left out where there are no such commands.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { openStore } from '../../src/store/open-store.ts';
import { requireBuild, startCommand } from '../support/command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const isPossible = spawnSync('prlimit', ['--version']).status === 0;

beforeAll(requireBuild);

const setLimit = (pid: number, bytes: string) =>
  expect(spawnSync('prlimit', ['--pid', String(pid), `--fsize=${bytes}`]).status).toBe(0);

/** Of a capture, or of the database. */
const FULL = /isk (that holds .* )?is full/;

/** A running feed of a simulated sleeve whose disk is full from some seconds on. */
async function onFullDisk() {
  const data = temporaryFolder();
  const args = ['start', '--page-port', '0', '--scenario', 'tipped-up', '--speed', '20'];
  const running = startCommand(args, { data });
  await running.says(/Page for the caregiver/);
  // Nothing grows beyond what the database has taken when it was opened.
  setLimit(running.child.pid!, '20000:unlimited');
  await running.says(FULL);
  // Cues come all the same.
  await running.says(/Lower your hand/);
  running.child.kill('SIGINT');
  const [said] = await running.complains(/ebbline: NOT kept yet: .*\nLeave this program running/);
  expect(said).toMatch(FULL);
  return { data, running };
}

it.skipIf(!isPossible)(
  'a disk that is freed after the feed keeps the whole of it, and start ends well',
  async () => {
    const { data, running } = await onFullDisk();
    setLimit(running.child.pid!, 'unlimited:unlimited');
    const { code, stdout, stderr } = await running.ended;
    expect(code).toBe(0);
    expect(stderr).toMatch(/all is kept now\.\n$/);
    expect(stdout).not.toMatch(/permission/);
    const store = openStore(join(data, 'simulated'));
    const [feed] = store.list();
    expect(feed).toMatchObject({ state: 'ended', endReason: 'link-ended' });
    const kept = store.get(feed!.id)!;
    expect(kept.rows.at(-1)!.atSec - kept.rows[0]!.atSec).toBeGreaterThan(20);
    expect(kept.refined).not.toBeNull();
    expect(store.capturePath(feed!.id)).not.toBeNull();
    store.close();
  },
);

it.skipIf(!isPossible)('stopped once more, start says what is lost and does not end with 0', async () => {
  const { running } = await onFullDisk();
  await running.complains(/Stop it once more/);
  running.child.kill('SIGINT');
  const { code, stdout, stderr } = await running.ended;
  expect(code).toBe(3);
  expect(stderr).toMatch(/LOST: what was measured last of the feed/);
  expect(stdout).not.toMatch(/over and kept/);
});
