/** Messages between the program and its helper process; they are sent by structured cloning. */
import { FieldError, PlainError } from '../../base/errors.ts';
import type { AsideJobs } from './aside-jobs.ts';

export type JobName = keyof AsideJobs;

export interface Asked {
  number: number;
  job: JobName;
  args: unknown[];
}

export type Answered = { number: number } & ({ result: unknown } | { refusal: Refusal } | { fault: string });

/** A PlainError as a message. */
export interface Refusal {
  code: string;
  message: string;
  remedy: string;
  field?: string;
}

export const refusalOf = (error: PlainError): Refusal => ({
  code: error.code,
  message: error.message,
  remedy: error.remedy,
  ...(error instanceof FieldError && { field: error.field }),
});

export const errorOf = ({ code, message, remedy, field }: Refusal): PlainError =>
  field === undefined ? new PlainError(code, message, remedy) : new FieldError(code, field, message, remedy);
