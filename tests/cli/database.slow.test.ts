/** Commands over feeds in a database: the same answers as over the folder they came from. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { requireBuild, runCommand } from '../support/command.ts';
import { fullFolder } from '../support/full-store.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { freshPlace } from '../support/postgres-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

beforeAll(requireBuild);

describe.skipIf(noPostgres !== null)('--database', () => {
  it('moves a folder over and back, and lists, draws and exports out of the database as out of the folder', async () => {
    const server = await sharedPostgres();
    const { database, databasePasswordFile } = freshPlace(server);
    const data = fullFolder(join(temporaryFolder(), 'family'));
    const run = (...args: string[]) => runCommand(args, { data });
    const password = ['--database-password-file', databasePasswordFile!];
    const back = join(temporaryFolder(), 'back');
    const moved = await run('data', 'move', '--from', data, '--to', `${database}?site=north`, ...password);
    expect(moved.stderr).toBe('');
    expect(moved).toMatchObject({ code: 0, stdout: expect.stringMatching(/^Moved 4 feeds with 8 files/) });
    expect(
      await run('data', 'move', '--from', `${database}?site=north`, '--to', back, ...password),
    ).toMatchObject({ code: 0 });
    const at = ['--database', database, '--site', 'north', ...password];
    for (const command of [
      ['feeds', '--json'],
      ['feeds', 'graph', 'a', '--out', '-'],
      ['feeds', 'whose'],
      ['milk', 'list', '--json'],
    ]) {
      const [inFolder, inDatabase] = [await run(...command), await run(...command, ...at)];
      expect([command, inDatabase.code, inDatabase.stdout]).toEqual([
        command,
        inFolder.code,
        inFolder.stdout,
      ]);
    }
    const elsewhere = await run('feeds', '--database', database, '--site', 'south', ...password);
    expect(elsewhere.stdout).not.toContain('Wren');
  });

  it('refuses plainly: a wrong password, a server that is away, a password on the command line', async () => {
    const server = await sharedPostgres();
    const { database } = freshPlace(server);
    const wrong = join(temporaryFolder(), 'wrong');
    writeFileSync(wrong, 'not-this\n');
    const feeds = (...args: string[]) =>
      runCommand(['feeds', '--database', ...args], { data: temporaryFolder() });
    const refused = await feeds(database, '--database-password-file', wrong);
    expect(refused).toMatchObject({
      code: 2,
      stderr: expect.stringContaining('refused the user or the password'),
    });
    expect(refused.stderr).not.toContain('not-this');
    expect(await feeds(database.replace(/:\d+/, ':1'), '--database-password-file', wrong)).toMatchObject({
      code: 2,
      stderr: expect.stringContaining('does not answer'),
    });
    const open = await feeds(database.replace('ebbline@', 'ebbline:secret@'));
    expect(open).toMatchObject({ code: 2, stderr: expect.stringContaining('password in it') });
    expect(open.stderr).not.toContain('secret');
  });
});
