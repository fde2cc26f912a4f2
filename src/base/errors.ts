/**
 * Errors that a person can act on. `message` says what is wrong and where, `remedy` what to do about it.
 * Bad configuration and bad input throw one of these; bad data is counted and skipped, never thrown.
 */
export class PlainError extends Error {
  override readonly name = 'PlainError';
  constructor(
    readonly code: string,
    message: string,
    readonly remedy: string,
    options?: { cause?: unknown },
  ) {
    super(message, options);
  }

  /** One clear sentence pair for a terminal or a page. */
  get text(): string {
    // A message that ends in a list is followed by a line of its own.
    return `${this.message}${this.message.endsWith('\n') ? '' : ' '}${this.remedy}`;
  }
}

/** A PlainError about one entry of a form or a file. `field` is its place, as in `setup.portionMl`. */
export class FieldError extends PlainError {
  constructor(
    code: string,
    readonly field: string,
    message: string,
    remedy: string,
  ) {
    super(code, message, remedy);
  }
}

/** @returns what an error of the system says */
export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** @returns the code of an error of the system, such as ENOENT; undefined for others */
export const codeOf = (error: unknown): unknown =>
  typeof error === 'object' && error !== null && 'code' in error ? error.code : undefined;

/**
 * @param read  reads `file`; the rooms of this project that may not touch a disk are not made to by this one
 * @param what  for people, as in "The broker's password"
 * @throws PlainError of that code: the file cannot be read
 */
export function readOrRefuse(read: () => string, code: string, what: string, file: string): string {
  try {
    return read();
  } catch (cause) {
    throw new PlainError(
      code,
      `${what} cannot be read from ${file} (${messageOf(cause)}).`,
      'Check its name and that you may read it.',
      { cause },
    );
  }
}
