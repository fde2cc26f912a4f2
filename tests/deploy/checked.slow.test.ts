/** What `deploy/` holds, by the tools of those whose formats they are: Compose, systemd, a shell and its checker. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { PROJECT } from '../support/ward/debian.ts';

const DEPLOY = join(PROJECT, 'deploy');
const has = (name: string): boolean =>
  spawnSync('sh', ['-c', `command -v ${name}`], { stdio: 'ignore' }).status === 0;
const run = (name: string, args: readonly string[], env: Record<string, string> = {}) => {
  const { status, stdout, stderr } = spawnSync(name, args, {
    encoding: 'utf8',
    env: { PATH: process.env.PATH, HOME: '/nonexistent', ...env },
  });
  return { status, stdout, stderr };
};
const ENV = {
  ROOM: 'blue',
  BOARD_ADDRESS: 'https://board.example',
  SIGN_IN: 'https://sign-in.example',
} as const;

// Debian's docker-compose (1.29) reads the file by the published schema that it brings (Compose Specification, Apache-2.0) and starts nothing.
describe.skipIf(!has('docker-compose'))('compose.yaml, as docker-compose reads it', () => {
  /** The top-level `name` is left out: that version does not know it. */
  const compose = (env: Record<string, string>) => {
    const folder = temporaryFolder();
    for (const name of readdirSync(DEPLOY))
      cpSync(join(DEPLOY, name), join(folder, name), { recursive: true });
    const file = join(folder, 'compose.yaml');
    writeFileSync(file, readFileSync(file, 'utf8').replace(/^name: .*\n/m, ''));
    return run('docker-compose', ['-f', file, 'config'], env);
  };

  it('is sound, and opens the broker’s and the board’s port alone', () => {
    const { status, stdout, stderr } = compose(ENV);
    expect(`${status} ${stderr}`).toBe('0 ');
    expect([...stdout.matchAll(/^ {2}([a-z0-9-]+):$/gm)].map(([, name]) => name)).toEqual(
      expect.arrayContaining(['board', 'broker', 'database', 'work-1', 'work-2']),
    );
    expect(
      [...stdout.matchAll(/published: '?(\d+)'?$|^ {4}- '?(\d+):\d+/gm)].map(([, a, b]) => a ?? b).sort(),
    ).toEqual(['443', '8883']);
    expect(stdout).toContain('--address=https://board.example');
  });

  it.each(Object.keys(ENV))('says plainly that %s is missing', (name) => {
    const { status, stderr } = compose({ ...ENV, [name]: '' });
    expect(status).not.toBe(0);
    expect(stderr).toMatch(new RegExp(`Write ${name}=.* into deploy/\\.env`));
  });
});

describe('what deploy/secrets.sh makes', () => {
  const MADE = ['deploy/secrets/broker/server.key', 'deploy/.env'];

  it.each(MADE)('%s is not committed by mistake', (path) => {
    expect(run('git', ['-C', PROJECT, 'check-ignore', '--no-index', path]).status).toBe(0);
  });

  it('is no part of an image', () => {
    const lines = readFileSync(join(PROJECT, '.dockerignore'), 'utf8').split('\n');
    for (const path of MADE)
      expect(lines.some((line) => line !== '' && `${path}/`.startsWith(`${line}/`))).toBe(true);
  });
});

describe.skipIf(!has('systemd-analyze'))('the units, as systemd reads them', () => {
  const UNITS = readdirSync(join(DEPLOY, 'systemd'));
  /** Node and the program in their usual places are replaced, since this computer does not have them there. */
  const verified = (change: (text: string) => string = (text) => text) => {
    const folder = join(temporaryFolder(), 'system');
    mkdirSync(folder);
    for (const name of UNITS) {
      const text = readFileSync(join(DEPLOY, 'systemd', name), 'utf8');
      writeFileSync(join(folder, name), change(text).replace('/usr/bin/node', process.execPath));
    }
    return run('systemd-analyze', ['verify', ...UNITS.map((name) => join(folder, name))]);
  };

  it('are sound', () => {
    expect(UNITS).toHaveLength(3);
    expect(verified()).toMatchObject({ status: 0, stderr: '' });
  });

  it('a wrong setting in a service file is reported', () => {
    expect(verified((text) => text.replace('Restart=always', 'Restart=sometimes')).stderr).toMatch(
      /restart specifier/,
    );
    expect(verified((text) => text.replace('NoNewPrivileges', 'NoPrivileges')).stderr).toMatch(
      /NoPrivileges/,
    );
  });
});

describe('the scripts', () => {
  const scripts = readdirSync(DEPLOY)
    .filter((name) => name.endsWith('.sh'))
    .map((name) => join(DEPLOY, name));

  it('are read by a plain shell', () => {
    expect(scripts).toHaveLength(3);
    for (const script of scripts) expect(run('sh', ['-n', script])).toMatchObject({ status: 0, stderr: '' });
  });

  it.skipIf(!has('shellcheck'))('are sound by shellcheck', () => {
    expect(run('shellcheck', scripts)).toMatchObject({ status: 0, stdout: '' });
  });
});
