import { readFileSync } from 'node:fs';
import { PlainError, readOrRefuse } from '../../base/errors.ts';

/** @param file  without it EBBLINE_SIGN_IN_SECRET is read @returns the client's secret at the provider @throws PlainError sign-in-secret */
export function signInSecret(file: string | undefined): string {
  const secret =
    file === undefined
      ? process.env.EBBLINE_SIGN_IN_SECRET
      : readOrRefuse(
          () => readFileSync(file, 'utf8').trim(),
          'sign-in-secret',
          'The secret of the sign-in',
          file,
        );
  if (secret) return secret;
  throw new PlainError(
    'sign-in-secret',
    'The sign-in needs a secret, and none was given.',
    'Put it in a file and name that with --sign-in-secret-file, or in EBBLINE_SIGN_IN_SECRET.',
  );
}
