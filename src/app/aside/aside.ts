/** The parent's side of the helper process: starts it when first needed, gives it one job at a time, ends it when idle. */
import { type ChildProcess, spawn } from 'node:child_process';
import { PassThrough, type Readable } from 'node:stream';
import { PlainError } from '../../base/errors.ts';
import type { AsideJobs } from './aside-jobs.ts';
import { type Answered, type Asked, errorOf, type JobName } from './aside-protocol.ts';

export interface Aside {
  /** @throws PlainError of the job itself, aside-busy, aside-failed */
  run<J extends JobName>(
    job: J,
    ...args: Parameters<AsideJobs[J]>
  ): Promise<Awaited<ReturnType<AsideJobs[J]>>>;
  /** The whole store as the bytes of an export. @throws PlainError aside-busy */
  exportBytes(): Readable;
  close(): void;
}

export interface AsideOptions {
  /** The program to start as the helper: node, its options, and the first file. */
  program?: { node: string; switches: readonly string[]; file: string };
  folder: string;
  /** The helper's environment variables; by default those of this process. */
  env?: NodeJS.ProcessEnv;
  /** Called for faults that are not caused by input. */
  onFault?: (fault: string) => void;
  idleMs?: number;
  patienceMs?: number;
}

/** Most jobs in the queue; a page shows a dozen pictures. */
const MOST_WAITING = 64;
const MOST_EXPORTS = 2;
const IDLE_MS = 60_000;

/** Time limit of a job. The graph of a feed takes a fraction of a second, the refined pass of a long feed some seconds on a slow machine. */
const PATIENCE_MS = 120_000;

interface Waiting {
  asked: Asked;
  resolve: (result: unknown) => void;
  reject: (error: unknown) => void;
}

const failed = (cause?: unknown): PlainError =>
  new PlainError('aside-failed', 'This could not be made just now.', 'Try again in a moment.', { cause });

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one queue and one helper process, which every step may end
export function createAside(options: AsideOptions): Aside {
  const { folder, onFault = () => {}, idleMs = IDLE_MS, patienceMs = PATIENCE_MS } = options;
  const program = options.program ?? {
    node: process.execPath,
    switches: process.execArgv,
    file: process.argv[1]!,
  };
  const start = (mode: 'serve' | 'export', stdio: ('ignore' | 'pipe' | 'inherit' | 'ipc')[]): ChildProcess =>
    spawn(program.node, [...program.switches, program.file, 'aside', mode, folder], {
      stdio,
      serialization: 'advanced',
      ...(options.env && { env: options.env }),
    });
  const queue: Waiting[] = [];
  const exports = new Set<ChildProcess>();
  let helper: ChildProcess | null = null;
  let current: Waiting | null = null;
  let timer: NodeJS.Timeout | undefined;
  let numbers = 0;
  let closed = false;

  const letGo = (): void => {
    clearTimeout(timer);
    const leaving = helper;
    helper = null;
    leaving?.kill('SIGKILL');
  };
  const giveUp = (child: ChildProcess): void => {
    if (child !== helper) return;
    letGo();
    const lost = current;
    current = null;
    lost?.reject(failed());
    next();
  };
  const helperNow = (): ChildProcess => {
    if (helper) return helper;
    const child = start('serve', ['ignore', 'ignore', 'inherit', 'ipc']);
    helper = child;
    child.on('message', (message) => take(message as Answered));
    child.on('error', () => giveUp(child));
    child.on('exit', () => giveUp(child));
    return child;
  };
  const take = (answered: Answered): void => {
    if (answered.number !== current?.asked.number) return;
    const { resolve, reject } = current;
    current = null;
    if ('result' in answered) resolve(answered.result);
    else if ('refusal' in answered) reject(errorOf(answered.refusal));
    else {
      onFault(answered.fault);
      reject(failed(answered.fault));
    }
    next();
  };
  const next = (): void => {
    clearTimeout(timer);
    if (current || closed) return;
    const first = queue.shift();
    if (!first) {
      timer = setTimeout(letGo, idleMs).unref();
      return;
    }
    current = first;
    const child = helperNow();
    timer = setTimeout(() => giveUp(child), patienceMs).unref();
    child.send(first.asked, (error) => error && giveUp(child));
  };

  return {
    run(job, ...args) {
      if (closed || queue.length >= MOST_WAITING) return Promise.reject(busy());
      return new Promise((resolve, reject) => {
        const asked: Asked = { number: ++numbers, job, args };
        queue.push({ asked, resolve: resolve as (result: unknown) => void, reject });
        next();
      });
    },
    exportBytes() {
      if (closed || exports.size >= MOST_EXPORTS) throw busy();
      const child = start('export', ['ignore', 'pipe', 'inherit']);
      exports.add(child);
      // Ends only when the helper reports that it wrote everything: otherwise the receiver must see that the file is incomplete.
      const out = new PassThrough();
      child.stdout!.pipe(out, { end: false });
      out.once('close', () => child.kill('SIGKILL'));
      child.once('error', () => out.destroy(failed()));
      child.once('close', (code) => {
        exports.delete(child);
        if (code === 0) out.end();
        else out.destroy(failed());
      });
      return out;
    },
    close() {
      closed = true;
      for (const { reject } of queue.splice(0)) reject(failed());
      letGo();
      current?.reject(failed());
      current = null;
      for (const child of exports) child.kill('SIGKILL');
    },
  };
}

const busy = (): PlainError =>
  new PlainError(
    'aside-busy',
    'Ebbline is busy with other pictures and files.',
    'Wait a moment, then try again.',
  );
