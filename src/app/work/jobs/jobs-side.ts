/** Computes sessions of studies: one job of the site's queue after another, while it is allowed to. If the database fails, only this waits. */
import { PlainError } from '../../../base/errors.ts';
import { type DatabaseChoice, databaseAddress } from '../../../store/postgres/address.ts';
import type { JobQueue } from '../../../store/postgres/job-queue.ts';
import { openStoreAt, type PostgresStore } from '../../../store/postgres/postgres-store.ts';
import { computeForStudy, openStudyQueue } from '../../study/recompute/on-workers.ts';

export interface JobsChoice extends DatabaseChoice {
  /** Only processes of the same program version share jobs. */
  programSha256: string;
}

/** To the thread: end. From the thread: one more is done, or the reason why it cannot work; null: it works again. */
export type FromJobs = { kind: 'done' } | { kind: 'trouble'; text: string | null };

export interface JobsSide {
  /** Resolves once the running job has ended. */
  close(): Promise<void>;
}

const LOOK_MS = 5000;
const TRY_AGAIN_MS = 10_000;

interface Opened {
  store: PostgresStore;
  queue: JobQueue;
}

export function jobsSide(choice: JobsChoice, tell: (message: FromJobs) => void): JobsSide {
  let isOver = false;
  let wake: () => void = () => {};
  const rest = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  const serve = async (): Promise<void> => {
    let opened: Opened | null = null;
    let isTroubled = false;
    while (!isOver) {
      try {
        opened ??= await open(choice);
        const { store, queue } = opened;
        const wasOne = await queue.doOne((job) => computeForStudy(store, job));
        if (isTroubled) tell({ kind: 'trouble', text: null });
        isTroubled = false;
        if (wasOne) tell({ kind: 'done' });
        else {
          await queue.giveBackLost();
          await rest(LOOK_MS);
        }
      } catch (error) {
        if (!(error instanceof PlainError)) throw error;
        tell({ kind: 'trouble', text: error.text });
        isTroubled = true;
        await close(opened);
        opened = null;
        await rest(TRY_AGAIN_MS);
      }
    }
    await close(opened);
  };
  const served = serve();
  // Nobody awaits it before the end.
  served.catch((error) => tell({ kind: 'trouble', text: String(error) }));
  return {
    close() {
      isOver = true;
      wake();
      return served.catch(() => {});
    },
  };
}

async function open(choice: JobsChoice): Promise<Opened> {
  const address = databaseAddress(choice);
  const store = openStoreAt(address);
  try {
    return { store, queue: await openStudyQueue(address, choice.programSha256) };
  } catch (error) {
    store.close();
    throw error;
  }
}

async function close(opened: Opened | null): Promise<void> {
  await opened?.queue.close();
  opened?.store.close();
}
