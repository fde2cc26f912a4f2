/** The worker thread: one job after another. */
import { parentPort } from 'node:worker_threads';
import { PlainError } from '../../../base/errors.ts';
import { type AskedOfThread, STUDY_JOBS, type ThreadAnswer } from './study-jobs.ts';

export function serveStudyThread(): void {
  parentPort!.on('message', ({ job, arg }: AskedOfThread) => {
    const answer = (said: ThreadAnswer): void => parentPort!.postMessage(said);
    try {
      answer({ result: (STUDY_JOBS[job] as (one: unknown) => unknown)(arg) });
    } catch (error) {
      if (error instanceof PlainError)
        answer({ refusal: { code: error.code, message: error.message, remedy: error.remedy } });
      else answer({ fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
  });
}
