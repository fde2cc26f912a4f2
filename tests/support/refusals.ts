import { FieldError, PlainError } from '../../src/base/errors.ts';

/** @returns the code of the PlainError that `action` throws; other errors are thrown again */
export function codeOf(action: () => unknown): string {
  try {
    action();
  } catch (error) {
    if (error instanceof PlainError) return error.code;
    throw error;
  }
  return 'nothing was refused';
}

/** Like `codeOf`, but the whole error. */
export function refusalOf(action: () => unknown): PlainError {
  try {
    action();
  } catch (error) {
    if (error instanceof PlainError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

/** The refusal of a field in a form. */
export function fieldRefusalOf(action: () => unknown): FieldError {
  const refusal = refusalOf(action);
  if (refusal instanceof FieldError) return refusal;
  throw refusal;
}
