/** Errors of a database server in plain words. */
import { PlainError } from '../../base/errors.ts';

/** `signs` match a code of PostgreSQL (its manual, appendix A), of the system, or of TLS (OpenSSL's X509_V_ERR names as Node gives them). */
interface ServerFault {
  code: string;
  signs: RegExp;
  say: (where: string, words: string) => string;
  remedy: string;
}

const AWAY: ServerFault = {
  code: 'database-away',
  signs: /^(08\w{3}|57P0\d|E[A-Z]+)$|timeout|Connection terminated|not queryable|Client has/i,
  say: (where) => `The database ${where} does not answer.`,
  remedy:
    'Check that it runs and that this computer reaches it; what comes meanwhile is kept here and handed on.',
};

const FAULTS: readonly ServerFault[] = [
  {
    code: 'store-full',
    signs: /^(53100|53200)$/,
    say: (where) => `The database ${where} is full. Everything stored before is safe.`,
    remedy: 'Free some space on the disk of the database server.',
  },
  {
    code: 'database-refused',
    signs: /^(28000|28P01)$|no password|password must be a string/i,
    say: (where) => `The database ${where} refused the user or the password.`,
    remedy: 'Check the user in the address and the password in its file or variable.',
  },
  {
    code: 'database-certificate',
    signs: /CERT|SELF_SIGNED|UNABLE_TO_(GET|VERIFY)|ALTNAME/,
    say: (where, words) => `The certificate of the database ${where} is not to be trusted (${words}).`,
    remedy: 'Renew it if it has expired; name its authority with --database-ca if it is one of your own.',
  },
  {
    code: 'database-no-tls',
    signs: /does not support SSL/,
    say: (where) =>
      `The database ${where} does not encrypt, so that everybody on the network could read what babies drink.`,
    remedy: 'Turn TLS on there. If the network is closed off by other means, add --database-plain.',
  },
  {
    code: 'database-missing',
    signs: /^3D000$/,
    say: (where) => `There is no database ${where}.`,
    remedy: 'Create it there, owned by the user in the address: CREATE DATABASE … OWNER …',
  },
  {
    code: 'database-rights',
    signs: /^42501$/,
    say: (where, words) => `The user has no right to do this in ${where} (${words}).`,
    remedy: 'Use the login that owns the database; ask who administers it.',
  },
  {
    code: 'store-busy',
    signs: /^(55P03|40001|40P01|53300|57014)$/,
    say: (where) => `Another program holds ${where}.`,
    remedy: 'It is tried again by itself; look at that program if this stays.',
  },
  AWAY,
  {
    code: 'store-damaged',
    signs: /^(XX00[12]|58030)$/,
    say: (where, words) => `The data in ${where} cannot be read (${words}).`,
    remedy: 'Bring a backup back with the tools of the database.',
  },
];

export interface Fault {
  code: string;
  message: string;
}

/** @returns a PlainError for an error of the server; an Error for a wrong statement of ours */
export function serverFault(where: string, { code, message }: Fault): Error {
  const found = FAULTS.find(({ signs }) => (code !== '' && signs.test(code)) || signs.test(message));
  const cause = Object.assign(new Error(message), { code });
  if (found) return said(found, where, message, cause);
  return Object.assign(new Error(`${message} (${code})`), { cause, sqlState: code });
}

const said = (
  { code, say, remedy }: ServerFault,
  where: string,
  message: string,
  cause?: Error,
): PlainError => new PlainError(code, say(where, message), remedy, { cause });

/** @returns the error of a server that did not answer in time */
export const away = (where: string): PlainError => said(AWAY, where, '');
