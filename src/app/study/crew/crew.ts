/** Worker threads that compute sessions in parallel. Each runs this program with a hidden command. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { PlainError } from '../../../base/errors.ts';
import { giveWay } from '../../aside/give-way.ts';
import {
  type AskedOfThread,
  STUDY_JOBS,
  type StudyJob,
  type StudyJobs,
  type ThreadAnswer,
} from './study-jobs.ts';

export interface Crew {
  readonly hands: number;
  /** @throws PlainError of the job; other faults as an Error */
  run<J extends StudyJob>(job: J, arg: Parameters<StudyJobs[J]>[0]): Promise<ReturnType<StudyJobs[J]>>;
  close(): Promise<void>;
}

export interface CrewOptions {
  /** Threads; 0: all work in this thread. Default: one a core. */
  hands?: number;
  /** The built program. */
  program?: string;
}

interface Waiting {
  asked: AskedOfThread;
  resolve: (result: unknown) => void;
  reject: (error: unknown) => void;
}

export function createCrew({ program = process.argv[1]!, ...options }: CrewOptions = {}): Crew {
  // Threads of this Node cannot run TypeScript, so from source all work is done in this thread.
  const hands = options.hands ?? (program.endsWith('.ts') ? 0 : availableParallelism());
  return hands === 0 ? alone() : threads(hands, program);
}

const alone = (): Crew => ({
  hands: 1,
  run: async (job, arg) => (STUDY_JOBS[job] as (one: unknown) => never)(arg),
  close: async () => {},
});

function threads(hands: number, program: string): Crew {
  const queue: Waiting[] = [];
  const idle: Worker[] = [];
  const working = new Map<Worker, Waiting>();
  const next = (): void => {
    while (queue.length > 0) {
      const thread = idle.pop() ?? (working.size < hands ? started() : null);
      if (!thread) return;
      const first = queue.shift()!;
      working.set(thread, first);
      thread.postMessage(first.asked);
    }
  };
  const started = (): Worker => {
    const thread = new Worker(program, { argv: ['study-thread'] });
    thread.on('message', (answer: ThreadAnswer) => {
      const { resolve, reject } = working.get(thread)!;
      working.delete(thread);
      idle.push(thread);
      if ('result' in answer) resolve(answer.result);
      else if ('refusal' in answer)
        reject(new PlainError(answer.refusal.code, answer.refusal.message, answer.refusal.remedy));
      else reject(new Error(answer.fault));
      next();
    });
    const lost = (error: unknown): void => {
      const waiting = working.get(thread);
      working.delete(thread);
      if (idle.includes(thread)) idle.splice(idle.indexOf(thread), 1);
      waiting?.reject(error);
      next();
    };
    thread.on('error', lost);
    thread.on('exit', (code) => lost(new Error(`a thread of the study ended with ${code}`)));
    return thread;
  };
  return {
    hands,
    run: (job, arg) =>
      new Promise((resolve, reject) => {
        queue.push({ asked: { job, arg }, resolve: resolve as (result: unknown) => void, reject });
        next();
      }),
    close: async () => {
      queue.length = 0;
      await Promise.all([...idle, ...working.keys()].map((thread) => thread.terminate()));
    },
  };
}

/** Work of a crew, at the lowest priority, so that running feeds are not slowed. */
export async function withCrew<T>(act: (crew: Crew) => Promise<T>): Promise<T> {
  giveWay();
  const crew = createCrew();
  try {
    return await act(crew);
  } finally {
    await crew.close();
  }
}

/**
 * Runs all items and hands over the results in order. At most `ahead` results or runs are held at the same time.
 * @throws whatever `run` or `take` throws first; runs that have begun are waited for
 */
export async function inOrder<Item, Result>(
  items: readonly Item[],
  ahead: number,
  run: (item: Item) => Promise<Result>,
  take: (item: Item, result: Result) => void,
): Promise<void> {
  const running: Promise<Result>[] = [];
  let begun = 0;
  try {
    for (const item of items) {
      while (begun < items.length && running.length < ahead) {
        const one = run(items[begun++]!);
        // It may fail before its result is awaited.
        one.catch(() => {});
        running.push(one);
      }
      take(item, await running.shift()!);
    }
  } finally {
    await Promise.allSettled(running);
  }
}
