/** The certificate by which a board speaks TLS itself: held against its key, the day and its name before anybody is let in. */
import { createPrivateKey, type KeyObject, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { isIP } from 'node:net';
import { createSecureContext } from 'node:tls';
import { messageOf, PlainError, readOrRefuse } from '../../base/errors.ts';

export interface CertificateFiles {
  /** PEM; those of authorities between may follow the board's own. */
  certificate: string;
  /** PEM, without a password. */
  key: string;
}

export interface OwnCertificate {
  cert: string;
  key: string;
  untilMs: number;
}

const wrong = (message: string, remedy: string, cause?: unknown): PlainError =>
  new PlainError('board-certificate', message, remedy, { cause });

/**
 * @param address  where people reach the board, such as https://board.example
 * @throws PlainError board-certificate: unreadable, not a pair, for another name, expired or not valid yet
 */
export function readCertificate(files: CertificateFiles, address: string, nowMs: number): OwnCertificate {
  const cert = textOf(files.certificate, 'certificate');
  const key = textOf(files.key, 'key');
  const read = certificateIn(cert, files.certificate);
  if (!read.checkPrivateKey(keyIn(key, files.key)))
    throw wrong(
      `The key in ${files.key} does not belong to the certificate in ${files.certificate}.`,
      'Give the two that were made together.',
    );
  const { hostname } = new URL(address);
  const name = hostname.replace(/^\[|\]$/g, '');
  if ((isIP(name) ? read.checkIP(name) : read.checkHost(name)) === undefined)
    throw wrong(
      `The certificate in ${files.certificate} is not for ${name}, but for ${read.subjectAltName ?? read.subject}.`,
      'Have one made for that name, or give --address as it stands in the certificate.',
    );
  const [fromMs, untilMs] = [Date.parse(read.validFrom), Date.parse(read.validTo)];
  if (nowMs < fromMs)
    throw wrong(
      `The certificate in ${files.certificate} is not valid before ${read.validFrom}.`,
      'If it is right, this computer’s clock is wrong.',
    );
  if (nowMs >= untilMs)
    throw wrong(
      `The certificate in ${files.certificate} has expired on ${read.validTo}.`,
      'Renew it: deploy/renew.sh for one of deploy/secrets.sh, else as its authority does.',
    );
  try {
    createSecureContext({ cert, key });
  } catch (cause) {
    throw wrong(
      `The certificate in ${files.certificate} cannot be used (${messageOf(cause)}).`,
      'Have another one made.',
      cause,
    );
  }
  return { cert, key, untilMs };
}

const textOf = (file: string, what: string): string =>
  readOrRefuse(() => readFileSync(file, 'utf8'), 'board-certificate', `The board’s ${what}`, file);

function certificateIn(pem: string, file: string): X509Certificate {
  try {
    return new X509Certificate(pem);
  } catch (cause) {
    throw wrong(`${file} holds no certificate.`, 'Give the board’s certificate as a PEM file.', cause);
  }
}

function keyIn(pem: string, file: string): KeyObject {
  try {
    return createPrivateKey(pem);
  } catch (cause) {
    throw wrong(
      `${file} holds no key that can be used without a password.`,
      'Give the key of the certificate as a PEM file, open, and readable by the board’s user alone.',
      cause,
    );
  }
}

/** So long before its end it is said, ms. Own choice. */
const SOON_MS = 21 * 24 * 3600_000;
const DAY_MS = 24 * 3600_000;

/** @returns a sentence on a certificate whose end is near; null for any other */
export function endIsNear({ untilMs }: Pick<OwnCertificate, 'untilMs'>, nowMs: number): string | null {
  if (untilMs - nowMs > SOON_MS) return null;
  if (untilMs <= nowMs)
    return 'The board’s certificate has expired: no browser trusts it any more. Renew it; the new one is taken within the hour.';
  const days = Math.floor((untilMs - nowMs) / DAY_MS);
  const left = days === 0 ? 'within a day' : days === 1 ? 'in one day' : `in ${days} days`;
  return `The board’s certificate ends ${left}. Renew it; the new one is taken within the hour.`;
}
