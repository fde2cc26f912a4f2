/** Address of a database server, site and login: checked before connecting. */
import { readFileSync } from 'node:fs';
import { PlainError, readOrRefuse } from '../../base/errors.ts';

export interface DatabaseChoice {
  /** postgres://USER@HOST[:PORT]/NAME[?site=SITE], without a password. */
  database: string;
  /** The site; default: that in the address, else $EBBLINE_SITE, else `home`. */
  site?: string | undefined;
  /** Default: $EBBLINE_DATABASE_PASSWORD, else libpq’s PGPASSWORD, PGPASSFILE or ~/.pgpass. */
  databasePasswordFile?: string | undefined;
  /** Certificate of the authority that signed the server's; default: $EBBLINE_DATABASE_CA, else those of the system. */
  databaseCa?: string | undefined;
  /** Allows an unencrypted connection over a network; also if $EBBLINE_DATABASE_PLAIN is 1. */
  databasePlain?: boolean | undefined;
}

export interface DatabaseAddress {
  /** Text for people. */
  readonly label: string;
  readonly host: string;
  readonly port: number;
  readonly name: string;
  readonly user: string;
  readonly password: string | null;
  readonly site: string;
  /** Null: unencrypted (on this computer, or where it was allowed). `ca` null: the system's authorities. */
  readonly tls: { ca: string | null } | null;
}

/** The usual port of PostgreSQL: its manual, section 20.3.1. */
const PORT = 5432;
const LOOPBACK = /^(localhost|127(\.\d{1,3}){3}|\[::1\])$/;
/** The same form as in topics of a broker. */
const SITE = /^[a-z0-9][a-z0-9-]{0,39}$/;

export const isDatabaseUrl = (text: string): boolean => /^postgres(ql)?:\/\//.test(text);

const bad = (message: string, remedy: string, cause?: unknown): PlainError =>
  new PlainError('database-address', message, remedy, { cause });

/** @throws PlainError database-address: not an address, unencrypted over a network, an unreadable file */
export function databaseAddress(
  choice: DatabaseChoice,
  env: Readonly<Record<string, string | undefined>> = process.env,
): DatabaseAddress {
  const url =
    isDatabaseUrl(choice.database) && URL.canParse(choice.database) ? new URL(choice.database) : null;
  const name = url ? decodeURIComponent(url.pathname.slice(1)) : '';
  if (!url || url.hostname === '' || url.username === '' || name === '')
    throw bad(
      'That is not the address of a database.',
      'Write postgres://USER@HOST/NAME, or postgres://USER@HOST:PORT/NAME.',
    );
  if (url.password !== '')
    throw bad(
      'An address with a password in it can be read by everybody on this computer.',
      'Leave the password out, and give it in EBBLINE_DATABASE_PASSWORD, in a file (--database-password-file), or in the file that PGPASSFILE names.',
    );
  const site = choice.site ?? url.searchParams.get('site') ?? env.EBBLINE_SITE ?? 'home';
  if (!SITE.test(site))
    throw bad(
      `"${site}" cannot be the name of a site.`,
      'Use small letters, digits and hyphens, at most 40.',
    );
  const caFile = choice.databaseCa ?? env.EBBLINE_DATABASE_CA;
  const ca = caFile === undefined ? null : textOf(caFile, 'certificate');
  if (ca !== null && !ca.includes('-----BEGIN CERTIFICATE-----'))
    throw bad(`${caFile} holds no certificate.`, 'Give the authority’s certificate as a PEM file.');
  const isOpen =
    ca === null &&
    (LOOPBACK.test(url.hostname) || choice.databasePlain === true || env.EBBLINE_DATABASE_PLAIN === '1');
  const port = url.port === '' ? PORT : Number(url.port);
  return {
    label: `postgres://${url.host}/${name}`,
    host: url.hostname.replace(/^\[|\]$/g, ''),
    port,
    name,
    user: decodeURIComponent(url.username),
    password:
      choice.databasePasswordFile === undefined
        ? (env.EBBLINE_DATABASE_PASSWORD ?? null)
        : textOf(choice.databasePasswordFile, 'password').replace(/\r?\n$/, ''),
    site,
    tls: isOpen ? null : { ca },
  };
}

/** @returns what the client of the database is told */
export const clientOptions = ({ host, port, name, user, password, tls }: DatabaseAddress) => ({
  ...{ host, port, user, database: name, application_name: 'ebbline' },
  ...(password !== null && { password }),
  ssl: tls && { ...(tls.ca !== null && { ca: tls.ca }), servername: host },
});

/** Surroundings in which another process of ours finds the same rows: not on its command line, which everybody reads. */
export const surroundingsFor = (
  { databaseCa, databasePlain }: DatabaseChoice,
  { site, password }: DatabaseAddress,
): NodeJS.ProcessEnv => ({
  ...process.env,
  EBBLINE_SITE: site,
  ...(password !== null && { EBBLINE_DATABASE_PASSWORD: password }),
  ...(databaseCa !== undefined && { EBBLINE_DATABASE_CA: databaseCa }),
  ...(databasePlain && { EBBLINE_DATABASE_PLAIN: '1' }),
});

const textOf = (file: string, what: string): string =>
  readOrRefuse(() => readFileSync(file, 'utf8'), 'database-address', `The database's ${what}`, file);
