/**
 * The commands of deploy/README.md for those without containers, run as they stand by a shell: a scratch folder is in place of /etc, /root and /var, and what
 * changes a whole computer (apt-get, useradd, systemctl …) only writes down that it was asked. Units are started as systemd reads them (systemd.service(5),
 * "Command lines"; systemd.unit(5), "Specifiers"), as far as ours go.
 */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const PROJECT = fileURLToPath(new URL('../../..', import.meta.url)).replace(/\/$/, '');

/** @returns the shell commands under a heading of deploy/README.md, block by block */
export function commandsUnder(heading: string): string[] {
  const text = readFileSync(join(PROJECT, 'deploy', 'README.md'), 'utf8');
  const section = text.split(/^## /m).find((one) => one.startsWith(heading));
  return [...(section ?? '').matchAll(/^```sh\n([\s\S]*?)^```$/gm)].map(([, block]) => block!);
}

/** Shell functions in place of commands that change the computer; users that do not exist here own nothing, except mosquitto. */
const STAND_INS = `
set -eu
umask 022
apt-get() { :; }
git() { :; }
npm() { :; }
useradd() { :; }
systemctl() { echo "$@" >> "$SCRATCH/systemctl"; }
sudo() { [ "$1" = -u ] && shift 2; "$@"; }
install() {
  left=$#
  while [ "$left" -gt 0 ]; do
    one=$1; shift; left=$((left - 1))
    if [ "$one" = -o ]; then
      owner=$1; shift; left=$((left - 1))
      if id "$owner" > /dev/null 2>&1; then set -- "$@" -o "$owner"; fi
    else set -- "$@" "$one"; fi
  done
  command install "$@"
}
`;

export interface House {
  /** In place of /. */
  scratch: string;
  /** Real values for invented names and usual ports, in what is read of files too. */
  changes: readonly (readonly [from: string, to: string])[];
  env: Record<string, string>;
}

const changed = (text: string, { scratch, changes }: House): string =>
  [
    ...changes,
    ['/opt/ebbline', PROJECT] as const,
    ...['/etc/', '/root/', '/var/'].map((path) => [path, `${scratch}${path}`] as const),
  ].reduce((all, [from, to]) => all.replaceAll(from, to), text);

export function makeScratch(scratch: string): void {
  // The broker, started by root, becomes another user and reads its files as that.
  chmodSync(scratch, 0o755);
  for (const folder of [
    'etc/mosquitto/conf.d',
    'etc/ebbline',
    'etc/systemd/system',
    'root',
    'var/lib/ebbline',
  ])
    mkdirSync(join(scratch, folder), { recursive: true, mode: 0o755 });
}

export function runCommands(block: string, house: House): void {
  execFileSync('bash', ['-c', `${STAND_INS}\n${changed(block, house)}`], {
    cwd: PROJECT,
    stdio: 'pipe',
    env: { ...process.env, ...house.env, PATH: `${process.env.PATH}:/usr/sbin`, SCRATCH: house.scratch },
  });
}

/** Units that were enabled, such as ebbline-work@4150. */
export const enabledUnits = ({ scratch }: House): string[] =>
  readFileSync(join(scratch, 'systemctl'), 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('enable --now '))
    .flatMap((line) => line.split(' ').slice(2));

export interface Unit {
  child: ChildProcess;
  /** All of its output, from both streams. */
  readonly said: string;
  /** Its exit code, once it has ended and all of its output is read. */
  readonly ended: Promise<number | null>;
  stop(signal?: NodeJS.Signals): Promise<void>;
}

/** @param more  options that only a test has @param surroundings  in place of what stands in the unit's file */
export function startUnit(
  name: string,
  house: House,
  more: readonly string[] = [],
  surroundings: Record<string, string> = {},
): Unit {
  const [, base, instance = ''] = /^([^@]+)@?(.*)$/.exec(name)!;
  const file = instance === '' ? `${base}.service` : `${base}@.service`;
  const unit = changed(readFileSync(join(house.scratch, 'etc/systemd/system', file), 'utf8'), house)
    .replaceAll('%i', instance)
    .split('\n');
  const valuesOf = (key: string) =>
    unit.filter((line) => line.startsWith(`${key}=`)).map((line) => line.slice(key.length + 1));
  const env: Record<string, string> = Object.fromEntries(
    [
      ...valuesOf('Environment'),
      ...valuesOf('EnvironmentFile').flatMap((path) => readFileSync(path, 'utf8').trim().split('\n')),
    ].map((line) => {
      const at = line.indexOf('=');
      return [line.slice(0, at), line.slice(at + 1)];
    }),
  );
  Object.assign(env, surroundings);
  const words = valuesOf('ExecStart')[0]!
    .split(' ')
    .flatMap((word) =>
      word.startsWith('$') && !word.startsWith('${')
        ? env[word.slice(1)]!.split(' ')
        : [word.replaceAll(/\$\{(\w+)\}/g, (_, key: string) => env[key] ?? '')],
    );
  const child = spawn(process.execPath, [...words.slice(1), ...more], {
    env: { PATH: process.env.PATH, TZ: 'UTC', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
  const ended = once(child, 'close').then(([code]) => code as number | null);
  return {
    child,
    get said() {
      return said;
    },
    ended,
    async stop(signal = 'SIGTERM') {
      child.kill(signal);
      await ended;
    },
  };
}

/** @returns surroundings of a process whose clock is wrong by so much; what TLS goes by stays right */
export function wrongClock(folder: string, byMs: number): Record<string, string> {
  const file = join(folder, `clock-${byMs}.mjs`);
  writeFileSync(
    file,
    `const Right = Date;
const now = () => Right.now() + (${byMs});
globalThis.Date = class Date extends Right {
  constructor(...given) {
    if (given.length === 0) super(now());
    else super(...given);
  }
  static now() {
    return now();
  }
};
`,
  );
  return { NODE_OPTIONS: `--import=${file}` };
}

/** Changes a file that the commands wrote. */
export function edit(path: string, change: (text: string) => string): void {
  writeFileSync(path, change(readFileSync(path, 'utf8')));
}
