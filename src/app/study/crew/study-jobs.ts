/** Jobs of the worker threads; arguments and results are plain data. */
import { exportSession } from '../export/session-export.ts';
import { recomputeSession } from '../recompute/recompute-session.ts';

export const STUDY_JOBS = { exportSession, recomputeSession };

export type StudyJobs = typeof STUDY_JOBS;
export type StudyJob = keyof StudyJobs;

export interface AskedOfThread {
  job: StudyJob;
  arg: unknown;
}

export type ThreadAnswer =
  | { result: unknown }
  | { refusal: { code: string; message: string; remedy: string } }
  | { fault: string };
