/**
 * A real PostgreSQL on a free port of this computer, in a temporary folder; nobody can connect without a password.
 *
 * Most tests share one server of their process and use a database of their own in it:
 *
 *     describe.skipIf(noPostgres !== null)('…', () => {
 *       it('…', async () => {
 *         const server = await sharedPostgres();
 *         const { url, password } = server.freshDatabase();
 *         …
 *
 * Tests that kill, freeze or encrypt the server start one for themselves: `const server = await createTestPostgres({ folder, tls: 'good' })`, then
 * `await server.start()`. Both end with the test, or with the process. PostgreSQL refuses to run as root: then it runs as `postgres`.
 * `noPostgres` says in a sentence why there is none here; `tests/support/system-tools.mjs` installs it on Debian.
 */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { makeCertificates } from './broker.ts';
import { freePort } from './free-port.ts';
import { complains } from './processes.ts';

const isRoot = process.getuid?.() === 0;

/** Debian puts the programs of each version in a folder of its own; the newest is used. */
const BIN: string | null = (() => {
  const root = '/usr/lib/postgresql';
  const versions = existsSync(root) ? readdirSync(root).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [...versions.map((version) => join(root, version, 'bin')), '/usr/local/bin', '/usr/bin'];
  return folders.find((folder) => existsSync(join(folder, 'initdb'))) ?? null;
})();

const numberOf = (flag: '-u' | '-g'): number | null => {
  const { status, stdout } = spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' });
  return status === 0 ? Number(stdout) : null;
};
const AS = isRoot ? { uid: numberOf('-u') ?? -1, gid: numberOf('-g') ?? -1 } : {};

/** Why there is no PostgreSQL here; null if there is. */
export const noPostgres: string | null =
  BIN === null
    ? 'postgresql is not installed'
    : isRoot && AS.uid === -1
      ? 'PostgreSQL does not run as root, and there is no user postgres'
      : null;

/** The administrator of a test's server. */
const ADMIN = 'admin';
/** Owner of each fresh database: may create roles and log in, and row rights apply to it as to everybody. */
const OWNER = 'ebbline';
export const DATABASE_PASSWORD = 'invented-for-tests';

export interface TestDatabase {
  /** Without the password: postgres://ebbline@127.0.0.1:PORT/NAME */
  readonly url: string;
  readonly name: string;
  readonly user: string;
  readonly password: string;
}

export interface TestPostgres {
  readonly port: number;
  /** File with the password of administrator and owner. */
  readonly passwordFile: string;
  /** Certificate of the authority, with `tls`. */
  readonly ca: string | null;
  start(): Promise<void>;
  /** Like a power cut: connections are not closed properly, and the next start recovers. */
  kill(): Promise<void>;
  /** It keeps its connections and does nothing. */
  freeze(): void;
  thaw(): void;
  /** An empty database, owned by a login without administrator rights. */
  freshDatabase(): TestDatabase;
  /** Runs SQL as the administrator. @returns psql's lines, columns separated by `|` */
  sql(database: string, sql: string): string[];
  /** Runs SQL as another user; all have the same password. @throws Error with the server's message */
  sqlAs(user: string, database: string, sql: string): string[];
  /** Runs pg_dump, pg_restore … as the administrator; `-h`, `-p` and `-U` are given. */
  tool(name: string, args: readonly string[]): Buffer;
}

export interface TestPostgresOptions {
  folder: string;
  /** With a certificate of its own for localhost, signed by its own authority; `expired`: since yesterday. */
  tls?: 'good' | 'expired';
  /** It waits for the disk at each commit, like one in use; for measurements. */
  waitsForDisk?: boolean;
}

const program = (name: string): string => join(BIN!, name);
const give = (path: string): void => {
  if (isRoot) chownSync(path, AS.uid!, AS.gid!);
};

function makeCluster(
  folder: string,
  tls: TestPostgresOptions['tls'],
): { data: string; passwordFile: string } {
  // The user it runs as must reach its folder; nobody else may read in it.
  chmodSync(folder, 0o711);
  const data = join(folder, 'cluster');
  const passwordFile = join(folder, 'password');
  mkdirSync(data, { mode: 0o700 });
  writeFileSync(passwordFile, `${DATABASE_PASSWORD}\n`, { mode: 0o600 });
  for (const path of [data, passwordFile]) give(path);
  const options = ['-D', data, '-U', ADMIN, `--pwfile=${passwordFile}`, '-A', 'scram-sha-256', '-E', 'UTF8'];
  execFileSync(program('initdb'), [...options, '--locale=C.UTF-8', '--no-sync', '--no-instructions'], {
    ...AS,
    stdio: 'pipe',
    cwd: data,
  });
  if (tls) {
    const { cert, key } = makeCertificates(folder, tls === 'good' ? 1 : -1);
    for (const path of [cert, key]) give(path);
    chmodSync(key, 0o600);
  }
  return { data, passwordFile };
}

function settings({ folder, tls, waitsForDisk = false }: TestPostgresOptions, port: number): string[] {
  const all = {
    port,
    listen_addresses: '127.0.0.1',
    unix_socket_directories: '',
    // Only its process is killed, never the computer, so what the system received is not lost.
    fsync: waitsForDisk ? 'on' : 'off',
    // It begins when it likes, and while it reads a database, deleted rows of that database stay.
    autovacuum: waitsForDisk ? 'on' : 'off',
    max_connections: 40,
    shared_buffers: '32MB',
    logging_collector: 'off',
    ...(tls && {
      ssl: 'on',
      ssl_cert_file: join(folder, 'broker.pem'),
      ssl_key_file: join(folder, 'broker.key'),
    }),
  };
  return Object.entries(all).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
}

function childrenOf(pid: number): number[] {
  const path = `/proc/${pid}/task/${pid}/children`;
  return existsSync(path) ? readFileSync(path, 'utf8').trim().split(' ').filter(Boolean).map(Number) : [];
}

/** The test runner may be killed: a process that listens to it notices this, and ends the server after it. */
function watch(pid: number, data: string, folder: string): void {
  const end = `cat > /dev/null; grep -qs '${data}' /proc/${pid}/cmdline && kill -QUIT ${pid} && sleep 2 && rm -rf '${folder}'`;
  const watcher = spawn('sh', ['-c', end], { stdio: ['pipe', 'ignore', 'ignore'], detached: true });
  watcher.unref();
  (watcher.stdin as unknown as { unref(): void }).unref();
}

/** A server that is not started yet; removed after the test. */
export async function createTestPostgres(options: TestPostgresOptions): Promise<TestPostgres> {
  const server = await createPostgres(options);
  onTestFinished(() => server.kill());
  return server;
}

let shared: Promise<TestPostgres> | null = null;

/** The running server of this process; removed with the process. */
export function sharedPostgres(): Promise<TestPostgres> {
  shared ??= (async () => {
    const folder = mkdtempSync(join(tmpdir(), 'ebbline-postgres-'));
    const server = await createPostgres({ folder });
    process.on('exit', () => {
      server.killNow();
      rmSync(folder, { recursive: true, force: true });
    });
    await server.start();
    return server;
  })();
  return shared;
}

/** A server that is not started yet, for programs other than tests: they must kill it. */
export async function createPostgres(
  options: TestPostgresOptions,
): Promise<TestPostgres & { killNow(): void }> {
  const { folder, tls } = options;
  const port = await freePort();
  const { data, passwordFile } = makeCluster(folder, tls);
  const env = { ...process.env, PGPASSWORD: DATABASE_PASSWORD, PGSSLMODE: tls ? 'require' : 'disable' };
  let child: ChildProcess | null = null;
  let databases = 0;
  const signal = (name: NodeJS.Signals): void => {
    const pid = child?.pid;
    if (pid === undefined || child!.exitCode !== null || child!.signalCode !== null) return;
    for (const one of [pid, ...childrenOf(pid)]) process.kill(one, name);
  };
  const as = (user: string) => ['-h', '127.0.0.1', '-p', String(port), '-U', user];
  const sqlAs = (user: string, database: string, sql: string): string[] => {
    const psql = [...as(user), '-d', database, '-X', '-q', '-A', '-t', '-v', 'ON_ERROR_STOP=1', '-c', sql];
    return execFileSync(program('psql'), psql, { env, encoding: 'utf8', stdio: 'pipe' })
      .split('\n')
      .filter((line) => line !== '');
  };
  const start = async (): Promise<void> => {
    const started = spawn(program('postgres'), ['-D', data, ...settings(options, port)], {
      ...AS,
      cwd: data,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    child = started;
    await complains(started, /ready to accept connections/, 'PostgreSQL');
    watch(started.pid!, data, folder);
    // It must not keep a test runner alive that has finished.
    started.unref();
    (started.stderr as unknown as { unref(): void }).unref();
    if (sqlAs(ADMIN, 'postgres', `SELECT 1 FROM pg_roles WHERE rolname = '${OWNER}'`).length === 0)
      sqlAs(ADMIN, 'postgres', `CREATE ROLE ${OWNER} LOGIN CREATEROLE PASSWORD '${DATABASE_PASSWORD}'`);
  };
  return {
    port,
    passwordFile,
    ca: tls ? join(folder, 'ca.pem') : null,
    start,
    async kill() {
      if (!child || child.exitCode !== null || child.signalCode !== null) return;
      const gone = once(child, 'exit');
      signal('SIGCONT');
      child.ref();
      // PostgreSQL's "immediate shutdown": it ends at once, without writing anything or informing clients.
      child.kill('SIGQUIT');
      await gone;
    },
    killNow: () => void child?.kill('SIGQUIT'),
    freeze: () => signal('SIGSTOP'),
    thaw: () => signal('SIGCONT'),
    freshDatabase() {
      const name = `test_${++databases}`;
      sqlAs(ADMIN, 'postgres', `CREATE DATABASE ${name} OWNER ${OWNER}`);
      const host = tls ? 'localhost' : '127.0.0.1';
      return {
        url: `postgres://${OWNER}@${host}:${port}/${name}`,
        name,
        user: OWNER,
        password: DATABASE_PASSWORD,
      };
    },
    sql: (database, sql) => sqlAs(ADMIN, database, sql),
    sqlAs,
    tool: (name, args) =>
      execFileSync(program(name), [...as(ADMIN), ...args], { env, maxBuffer: 1 << 28, stdio: 'pipe' }),
  };
}
