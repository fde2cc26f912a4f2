/** Child processes, measured: wall time, processor time, most memory. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));
const REPORT = fileURLToPath(new URL('./report-usage.mjs', import.meta.url));

export interface Usage {
  wallMs: number;
  cpuMs: number;
  maxRssMb: number;
  stdout: string;
}

/** Bundles a script of this folder, so that it starts as fast as the built command does. @returns its path */
export async function bundled(name: string): Promise<string> {
  // Inside node_modules, so that what is not bundled is found from there.
  const folder = join(root, 'node_modules/.cache/ebbline-bench');
  mkdirSync(folder, { recursive: true });
  const outfile = join(folder, `${name}.mjs`);
  await build({
    entryPoints: [fileURLToPath(new URL(`./${name}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'warning',
    external: ['serialport', 'johnny-five', 'firmata-io', 'libsql'],
  });
  return outfile;
}

/** Runs Node on `args` to the end. @throws when it fails */
export async function runMeasured(args: string[], nodeOptions: string[] = []): Promise<Usage> {
  const startedMs = performance.now();
  const child = spawn(process.execPath, [...nodeOptions, '--import', REPORT, ...args], {
    stdio: ['ignore', 'pipe', 'inherit', 'pipe'],
  });
  const chunks: Buffer[] = [];
  let report = '';
  child.stdout!.on('data', (chunk: Buffer) => chunks.push(chunk));
  child.stdio[3]!.on('data', (chunk: Buffer) => {
    report += chunk;
  });
  const [code] = await once(child, 'close');
  const wallMs = performance.now() - startedMs;
  if (code !== 0) throw new Error(`${args[0]} ended with ${code}`);
  const { cpuMicros, maxRssKb } = JSON.parse(report);
  return {
    wallMs,
    cpuMs: cpuMicros / 1000,
    maxRssMb: maxRssKb / 1024,
    stdout: Buffer.concat(chunks).toString(),
  };
}

export interface Running {
  child: ChildProcess;
  /** Share of one core over the next `sec` seconds, and memory now; the process has to be past its start. */
  load(sec: number): Promise<{ coreShare: number; rssMb: number }>;
  stop(): Promise<void>;
}

/** Starts Node on `args` and leaves it running, with a data folder of its own. */
export function runOn(args: string[]): Running {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  const child = spawn(process.execPath, args, {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, EBBLINE_DATA: folder },
  });
  return {
    child,
    async load(sec) {
      const before = cpuSec(child.pid!);
      const fromMs = performance.now();
      await new Promise((resolve) => setTimeout(resolve, sec * 1000));
      const passedSec = (performance.now() - fromMs) / 1000;
      return { coreShare: (cpuSec(child.pid!) - before) / passedSec, rssMb: rssMb(child.pid!) };
    },
    async stop() {
      const gone = once(child, 'exit');
      child.kill('SIGTERM');
      await gone;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Clock ticks a second in /proc, 100 on every Linux that Node runs on (man 5 proc; from memory). */
const TICKS_PER_SEC = 100;

function cpuSec(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  // After the name in brackets: utime and stime are the 12th and 13th.
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_SEC;
}

const rssMb = (pid: number): number =>
  Number(/^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? Number.NaN) / 1024;
