/** Starts the computing of study sessions: in a thread of its own with the lowest priority, so that running feeds are not slowed. */
import { parentPort, Worker, workerData } from 'node:worker_threads';
import { giveWayInThread } from '../../aside/give-way.ts';
import { type FromJobs, type JobsChoice, jobsSide } from './jobs-side.ts';

const START_AGAIN_MS = 10_000;
/** A job that takes longer is left to another process, which takes it once this one is gone. */
const END_WITHIN_MS = 2000;

export interface Jobs {
  /** Number of sessions computed since the start. */
  readonly done: number;
  close(): Promise<void>;
}

export interface JobsStart {
  /** Path of the built program; run from source no sessions are computed, since Node's threads cannot load the sources. */
  program?: string;
  say: (text: string) => void;
}

export function startJobs(choice: JobsChoice, { program = process.argv[1]!, say }: JobsStart): Jobs {
  let done = 0;
  let thread: Worker | null = null;
  let isClosing = false;
  const hear = (message: FromJobs): void => {
    if (message.kind === 'done') done += 1;
    else say(message.text ? `No sessions of studies are computed: ${message.text}` : 'They are again.');
  };
  const start = (): void => {
    const started = new Worker(program, { argv: ['jobs-thread'], workerData: choice });
    thread = started;
    started.on('message', hear);
    started.on('error', (error) => say(`The computing for studies met a fault: ${String(error)}`));
    started.on('exit', () => {
      thread = null;
      if (!isClosing) setTimeout(start, START_AGAIN_MS).unref();
    });
  };
  if (!program.endsWith('.ts')) start();
  return {
    get done() {
      return done;
    },
    async close() {
      isClosing = true;
      const closing = thread;
      if (!closing) return;
      closing.postMessage('end');
      await Promise.race([
        new Promise((resolve) => closing.once('exit', resolve)),
        new Promise((resolve) => setTimeout(resolve, END_WITHIN_MS)),
      ]);
      await closing.terminate();
    },
  };
}

/** Code that runs in the thread. */
export function serveJobsThread(): void {
  giveWayInThread('always');
  const choice: JobsChoice = workerData;
  const side = jobsSide(choice, (message) => parentPort!.postMessage(message));
  parentPort!.once('message', async () => {
    await side.close();
    process.exit(0);
  });
}
