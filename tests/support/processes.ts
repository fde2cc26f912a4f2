/** Child processes of tests. */
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';

/** Kills it, as a power cut would, and waits until it is gone. */
export async function killNow(child: ChildProcess | null): Promise<void> {
  if (!child || child.exitCode !== null || child.signalCode !== null) return;
  const gone = once(child, 'exit');
  child.kill('SIGKILL');
  await gone;
}

/** Waits until its standard error says so. @throws Error with the end of it when the process ends before */
export function complains(child: ChildProcess, pattern: RegExp, name: string): Promise<void> {
  let log = '';
  return new Promise((resolve, reject) => {
    child.stderr!.setEncoding('utf8').on('data', (text: string) => {
      log = (log + text).slice(-4000);
      if (pattern.test(log)) resolve();
    });
    child.on('exit', () => reject(new Error(`${name} did not start: ${log}`)));
  });
}
