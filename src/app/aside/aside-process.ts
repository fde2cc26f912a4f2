/** The helper process: does the parent's jobs one after another at the lowest priority, and ends with its parent. */
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { exportLines } from '../../store/portable/export.ts';
import { openPlace } from '../kept/kept-place.ts';
import { asideJobs } from './aside-jobs.ts';
import { type Answered, type Asked, refusalOf } from './aside-protocol.ts';
import { giveWay } from './give-way.ts';

/** Serves jobs on what is kept in `folder`. */
export async function serveAside(folder: string): Promise<void> {
  giveWay();
  const { store } = await openPlace(folder);
  const jobs = asideJobs(store);
  const leave = (): void => {
    store.close();
    process.exit(0);
  };
  process.once('disconnect', leave);
  // The terminal sends this signal to both processes; the helper waits for its parent to end it.
  process.on('SIGINT', () => {});
  process.on('SIGHUP', () => {});
  process.on('message', async ({ number, job, args }: Asked) => {
    const answer = (answered: Answered): void => void process.send?.(answered, () => {});
    try {
      answer({ number, result: await (jobs[job] as (...all: unknown[]) => unknown)(...args) });
    } catch (error) {
      if (error instanceof PlainError) answer({ number, refusal: refusalOf(error) });
      else answer({ number, fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
  });
}

/** Writes an export's lines to standard output, as fast as they are read. */
export async function exportAside(folder: string): Promise<void> {
  giveWay();
  const { store } = await openPlace(folder);
  try {
    for (const line of exportLines(store, { nowMs: Date.now(), softwareVersion: SOFTWARE_VERSION })) {
      if (!process.stdout.write(line)) await new Promise((resolve) => process.stdout.once('drain', resolve));
    }
  } finally {
    store.close();
  }
}
