/**
 * The state that a kill would leave at each call that changes the disk, without killing: at every call of node:fs and of the database the
 * folder is copied, and once more in the middle of each write. A state equal to the last one is not copied again.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { join } from 'node:path';
import Libsql from 'libsql';

/** Calls of node:fs that change something, or may. */
const FILE_CALLS = [
  'mkdirSync',
  'openSync',
  'writeFileSync',
  'fsyncSync',
  'ftruncateSync',
  'truncateSync',
  'renameSync',
  'rmSync',
  'chmodSync',
  'copyFileSync',
] as const;

type Any = (...args: unknown[]) => unknown;

/**
 * Runs `act` and copies `root` before each call and in the middle of each write.
 * @param into  folder for the copies, one for each moment
 * @returns the copies in order, each with the call that it came before
 */
export function killMoments(root: string, into: string, act: () => void): { copy: string; before: string }[] {
  const moments: { copy: string; before: string }[] = [];
  const { cpSync } = fs;
  let isCopying = false;
  let last = '';
  const look = (before: string): void => {
    if (isCopying) return;
    isCopying = true;
    const now = contentOf(root);
    if (now !== last) {
      const copy = join(into, String(moments.length));
      cpSync(root, copy, { recursive: true });
      moments.push({ copy, before });
    }
    last = now;
    isCopying = false;
  };
  const undo: (() => void)[] = [];
  const replace = (owner: Record<string, unknown>, name: string, by: (real: Any) => Any): void => {
    const real = owner[name] as Any;
    owner[name] = by(real);
    undo.push(() => {
      owner[name] = real;
    });
  };
  const calls = fs as unknown as Record<string, unknown>;
  for (const call of FILE_CALLS) {
    replace(calls, call, (real) => (...args) => {
      look(`${call} ${typeof args[0] === 'string' ? args[0].slice(root.length) : ''}`);
      return real(...args);
    });
  }
  replace(calls, 'writeSync', (real) => (fd, bytes, from = 0, length) => {
    const count = (length as number | undefined) ?? (bytes as Uint8Array).length - (from as number);
    look('writeSync');
    const half = count >> 1;
    if (half === 0) return real(fd, bytes, from, count);
    real(fd, bytes, from, half);
    look('writeSync, half');
    real(fd, bytes, (from as number) + half, count - half);
    return count;
  });
  const database = Libsql.prototype as unknown as Record<string, unknown>;
  replace(
    database,
    'exec',
    (real) =>
      function (this: unknown, sql) {
        look(`exec ${String(sql).trim().slice(0, 40)}`);
        return real.call(this, sql);
      },
  );
  replace(
    database,
    'prepare',
    (real) =>
      function (this: unknown, sql) {
        const statement = real.call(this, sql) as { run: Any };
        const run = statement.run.bind(statement);
        statement.run = (...args) => {
          look(`run ${String(sql).trim().slice(0, 40)}`);
          return run(...args);
        };
        return statement;
      },
  );
  syncBuiltinESMExports();
  try {
    act();
    look('the end');
  } finally {
    for (const back of undo.reverse()) back();
    syncBuiltinESMExports();
  }
  return moments;
}

/** All names and bytes except those of SQLite's index of its log, which is made again after a kill. */
function contentOf(root: string): string {
  const hash = createHash('sha256');
  for (const name of fs.readdirSync(root, { recursive: true, encoding: 'utf8' }).sort()) {
    if (name.endsWith('-shm')) continue;
    hash.update(`${name}\n`);
    const path = join(root, name);
    if (fs.statSync(path).isFile()) hash.update(fs.readFileSync(path));
  }
  return hash.digest('hex');
}
