/** Errors of a broker in plain sentences. Codes: MQTT version 5.0, OASIS Standard, section 2.4; the others from Node.js and OpenSSL. */
import { PlainError } from '../../../src/base/errors.ts';

const CERTIFICATE =
  /^(CERT_|ERR_TLS_CERT|ERR_SSL|ERR_OSSL|EPROTO|UNABLE_TO|DEPTH_ZERO|SELF_SIGNED|HOSTNAME_MISMATCH)/;

/** @param label of the broker's address @returns the error, with a sentence of its own if its cause is known */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a table of causes with their sentences
export function brokerError(label: string, error: unknown): PlainError {
  if (error instanceof PlainError) return error;
  const { code, message } = error as { code?: string | number; message?: string };
  const plain = (name: string, what: string, remedy: string): PlainError =>
    new PlainError(name, what, remedy, { cause: error });
  if (code === 134 || code === 4)
    return plain(
      'broker-password',
      `The broker ${label} does not take this user and password.`,
      'Check --broker-user (or EBBLINE_BROKER_USER) and EBBLINE_BROKER_PASSWORD.',
    );
  if (code === 135 || code === 5)
    return plain(
      'broker-not-allowed',
      `The broker ${label} does not allow this user to do that.`,
      'Its administrator must let the user read and write the topics ebbline/1/SITE/ROOM/#; a user and a password may be missing.',
    );
  if (code === 142)
    return plain(
      'broker-twice',
      `Another program has taken over this one's connection to the broker ${label}.`,
      'Two relays run from one copied folder: remove the copy’s folder relay.',
    );
  if (typeof code === 'number')
    return plain('broker-refuses', `The broker ${label} refuses (${message}).`, 'Its own log says why.');
  if (code === 'CERT_HAS_EXPIRED' || code === 'CERT_NOT_YET_VALID')
    return plain(
      'broker-certificate',
      code === 'CERT_HAS_EXPIRED'
        ? `The certificate of the broker ${label} has expired.`
        : `The certificate of the broker ${label} is not valid yet.`,
      'Renew it on the broker; if it is right, this computer’s clock is wrong.',
    );
  if (code === 'ERR_TLS_CERT_ALTNAME_INVALID')
    return plain(
      'broker-certificate',
      `The certificate of the broker ${label} is for another name (${message}).`,
      'Use the name that stands in the certificate, or have one made for this one.',
    );
  if (typeof code === 'string' && CERTIFICATE.test(code))
    return plain(
      'broker-certificate',
      `The broker ${label} cannot be trusted (${message}).`,
      'Give the certificate of its authority with --broker-ca FILE; and see that this is a port for TLS.',
    );
  if (code === 'ECONNREFUSED')
    return plain(
      'broker-away',
      `No broker answers at ${label}.`,
      'See that it runs, and that the port is right.',
    );
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN')
    return plain(
      'broker-away',
      `There is no computer of the name in ${label}.`,
      'Check the name and the network.',
    );
  return plain(
    'broker-away',
    `The connection to the broker ${label} is lost${message ? ` (${message})` : ''}.`,
    'It is tried again; see that the broker runs and that the network is there.',
  );
}
