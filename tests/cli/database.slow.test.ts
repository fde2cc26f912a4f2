/** Commands over feeds in a database: the same answers as over the folder they came from. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { exampleCalibration } from '../support/calibrations.ts';
import { requireBuild, runCommand } from '../support/command.ts';
import { fullFolder } from '../support/full-store.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { freshPlace } from '../support/postgres-store.ts';
import { PROTOCOL } from '../support/study.ts';
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

  it('looks over, takes in and forgets there too', async () => {
    const server = await sharedPostgres();
    const { database, databasePasswordFile } = freshPlace(server);
    const [data, files] = [fullFolder(join(temporaryFolder(), 'family')), temporaryFolder()];
    const password = ['--database-password-file', databasePasswordFile!];
    const at = ['--database', database, '--site', 'north', ...password];
    const run = (...args: string[]) => runCommand([...args, ...at], { data });
    const home = (...args: string[]) => runCommand(args, { data });
    await home('feeds', 'export', '--out', join(files, 'out'), '--captures');
    const taken = await run('feeds', 'import', join(files, 'out'));
    expect(taken.stdout).toMatch(/^Imported 4 feeds.* into postgres:/);
    const inFolder = await home('feeds', '--json');
    expect((await run('feeds', '--json')).stdout).toBe(inFolder.stdout);
    expect(await run('data', 'check')).toMatchObject({
      code: 0,
      stdout: expect.stringMatching(/Looked at 4 feeds .* site north\.\n.*All is as it should be/s),
    });
    server.sql(
      new URL(database).pathname.slice(1),
      "UPDATE capture SET feed_id = 'lost' WHERE feed_id = 'a'",
    );
    const found = await run('data', 'check');
    expect(found).toMatchObject({ code: 1, stdout: expect.stringContaining('feed a is missing') });
    expect(found.stdout).toContain('lost.cap');
    expect((await run('data', 'forget', 'Linnet', '--yes')).stdout).toContain('Linnet');
    expect((await run('feeds', '--json')).stdout).not.toContain('Linnet');
    expect((await home('feeds', '--json')).stdout).toBe(inFolder.stdout);
  });

  it('keeps calibrations, nipples and studies there too', async () => {
    const server = await sharedPostgres();
    const { database, databasePasswordFile } = freshPlace(server);
    const [data, files] = [temporaryFolder(), temporaryFolder()];
    const at = ['--database', database, '--database-password-file', databasePasswordFile!];
    const run = (...args: string[]) => runCommand([...args, ...at], { data });
    const home = (...args: string[]) => runCommand(args, { data });
    const calibration = join(files, 'sleeve.json');
    writeFileSync(calibration, JSON.stringify(exampleCalibration()));
    const kept = await run('sleeve', 'calibrations', '--keep', calibration);
    expect(kept).toMatchObject({
      stderr: '',
      stdout: expect.stringContaining('bench-1 is kept in postgres:'),
    });
    const listed = await run('sleeve', 'calibrations');
    expect(listed).toMatchObject({ stderr: '', stdout: expect.stringContaining('bench-1') });
    await run('nipple', 'measure', '--name', 'Blue ring', '--ml', '10,11,12');
    expect((await run('nipple', 'list')).stdout).toContain('Blue ring');
    const protocol = join(files, 'protocol.json');
    writeFileSync(protocol, JSON.stringify(PROTOCOL));
    const { code } = PROTOCOL;
    expect((await run('study', 'new', protocol)).stdout).toContain(`Study ${code} has begun`);
    expect((await run('study', 'enroll', code, 'F07', 'F07')).stderr).toContain('F07');
    expect((await run('study', 'list')).stdout).toMatch(/participants +1, sessions +0/);
    expect((await run('study', 'audit', code)).stdout.match(/enrolled/g)).toHaveLength(1);
    // None of this was written to the folder.
    expect((await home('study', 'list')).stdout).toContain('No study has been begun');
    expect((await home('nipple', 'list')).stdout).not.toContain('Blue ring');
  });

  it.each([
    [['data', 'backup'], 'pg_dump'],
    [['data', 'restore', 'x.tar'], 'pg_restore'],
    [['data', 'check', '--rebuild'], 'pg_restore'],
    [['sleeve', 'calibrate'], '--keep FILE'],
    [['sleeve', 'check', '--port', 'x'], 'leave --database out'],
    [['sleeve', 'alone', 'off', '--port', 'x'], 'ebbline work'],
    [['start'], 'ebbline relay'],
  ])('is refused by %s in one plain sentence that says what to use instead', async (args, instead) => {
    const refused = await runCommand(
      [...args, '--database', 'postgres://ebbline@127.0.0.1:1/x', '--site', 'x'],
      {
        data: temporaryFolder(),
      },
    );
    expect(refused).toMatchObject({ code: 2, stdout: '', stderr: expect.stringContaining(instead) });
  });
});
