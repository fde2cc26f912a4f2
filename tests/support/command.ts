/** Runs the built command like a person: in another process, with its own data folder; gives output and exit code. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, rmdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { buildIsFresh, ensureFreshBuild } from './fresh-build.mjs';
import { killNow } from './processes.ts';

const COMMAND = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));

const BUILDING = fileURLToPath(new URL('../../node_modules/.ebbline-building', import.meta.url));
const LONGEST_BUILD_MS = 180_000;

/** To be called before all tests of a file that run the command. If several do, one builds and the others wait. */
export function requireBuild(): void {
  const pause = new Int32Array(new SharedArrayBuffer(4));
  for (let waitedMs = 0; !buildIsFresh(); waitedMs += 100) {
    try {
      mkdirSync(BUILDING);
    } catch {
      // Another process is building; if it was killed, its mark is still there.
      if (waitedMs > LONGEST_BUILD_MS) rmdirSync(BUILDING);
      Atomics.wait(pause, 0, 0, 100);
      continue;
    }
    try {
      if (!ensureFreshBuild()) throw new Error('the build failed');
      return;
    } finally {
      rmdirSync(BUILDING);
    }
  }
}

export interface Ended {
  code: number | null;
  stdout: string;
  stderr: string;
}

export interface Running {
  readonly child: ChildProcess;
  readonly ended: Promise<Ended>;
  /** Resolves with the match once standard output contains it; fails if the command ends before. */
  says(pattern: RegExp): Promise<RegExpMatchArray>;
  /** Like `says`, for standard error. */
  complains(pattern: RegExp): Promise<RegExpMatchArray>;
  /** Types text; only with `typing`. */
  type(text: string): void;
}

export interface Surroundings {
  /** Data folder; the home folder of the person running the tests is never used. */
  data: string;
  /** Its input is a person's keyboard; default: no input. */
  typing?: boolean;
}

/** Starts `ebbline` with `args`; killed when the test is over. */
export function startCommand(args: readonly string[], { data, typing = false }: Surroundings): Running {
  const child = spawn(process.execPath, [COMMAND, ...args], {
    env: { PATH: process.env.PATH, HOME: data, EBBLINE_DATA: data, TZ: 'UTC' },
    stdio: [typing ? 'pipe' : 'ignore', 'pipe', 'pipe'],
  });
  // Gone before its folder is removed: until then it may write another file into it.
  onTestFinished(() => killNow(child));
  let stdout = '';
  let stderr = '';
  const listeners = new Set<() => void>();
  child.stdout!.setEncoding('utf8').on('data', (text: string) => {
    stdout += text;
    for (const listener of listeners) listener();
  });
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    stderr += text;
    for (const listener of listeners) listener();
  });
  const ended = new Promise<Ended>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, stdout, stderr }));
  });
  const heard = (pattern: RegExp, text: () => string): Promise<RegExpMatchArray> =>
    new Promise((resolve, reject) => {
      const look = () => {
        const match = text().match(pattern);
        if (!match) return;
        listeners.delete(look);
        resolve(match);
      };
      listeners.add(look);
      look();
      ended.then(() => reject(new Error(`ended without saying ${pattern}: ${stdout}${stderr}`)), reject);
    });
  return {
    child,
    ended,
    type: (text) => void child.stdin?.write(text),
    says: (pattern) => heard(pattern, () => stdout),
    complains: (pattern) => heard(pattern, () => stderr),
  };
}

export const runCommand = (args: readonly string[], surroundings: Surroundings): Promise<Ended> =>
  startCommand(args, surroundings).ended;
