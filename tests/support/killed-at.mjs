/**
 * Loaded before a program (`node --import`): counts its calls of node:fs and of the database that change something, and kills it at the one
 * that EBBLINE_KILL names, as SIGKILL does. "12": before the twelfth; "12h": half-way through it where it writes. Without it the count is
 * written to EBBLINE_COUNT when the program ends. Plain JavaScript, since the built program runs without a compiler.
 */
import fs from 'node:fs';
import { createRequire, syncBuiltinESMExports } from 'node:module';

const [, at = '', half = ''] = /^(\d+)(h?)$/.exec(process.env.EBBLINE_KILL ?? '') ?? [];
const last = Number(at || Number.POSITIVE_INFINITY);
let calls = 0;
let isBegun = false;
const { writeFileSync, writeSync } = fs;

/** @returns whether this call is the last one */
function count() {
  calls++;
  // Whoever kills by the clock begins to count here.
  if (!isBegun && process.env.EBBLINE_KILL === 'clock') writeSync(2, 'begun\n');
  isBegun = true;
  return calls === last;
}
const die = () => {
  process.kill(process.pid, 'SIGKILL');
  // The signal may take a moment to come.
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
};

for (const name of [
  'mkdirSync',
  'openSync',
  'writeFileSync',
  'fsyncSync',
  'ftruncateSync',
  'renameSync',
  'rmSync',
  'chmodSync',
]) {
  const real = fs[name];
  fs[name] = (...args) => {
    if (count()) die();
    return real(...args);
  };
}
fs.writeSync = (fd, given, ...rest) => {
  const bytes = typeof given === 'string' ? Buffer.from(given) : given;
  if (count()) {
    if (half && bytes.length > 1)
      writeSync(fd, bytes.subarray(rest[0] ?? 0, (rest[0] ?? 0) + (bytes.length >> 1)));
    die();
  }
  return writeSync(fd, bytes, ...rest);
};
syncBuiltinESMExports();

const { prototype } = createRequire(import.meta.url)('libsql');
const { exec, prepare } = prototype;
prototype.exec = function (sql) {
  if (count()) die();
  return exec.call(this, sql);
};
prototype.prepare = function (sql, ...rest) {
  const statement = prepare.call(this, sql, ...rest);
  const run = statement.run.bind(statement);
  statement.run = (...values) => {
    if (count()) die();
    return run(...values);
  };
  return statement;
};
process.on('exit', () => {
  if (process.env.EBBLINE_COUNT) writeFileSync(process.env.EBBLINE_COUNT, String(calls));
});
