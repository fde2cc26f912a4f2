/** Address of a broker and the user to sign in as, from options and environment; checked before any connection. */
import { readFileSync } from 'node:fs';
import { PlainError, readOrRefuse } from '../../../src/base/errors.ts';

export interface BrokerChoice {
  /** mqtts://HOST[:PORT], or mqtt:// on this computer. */
  broker: string;
  /** File of the authority that signed the broker's certificate; default: $EBBLINE_BROKER_CA, else the system's authorities. */
  brokerCa?: string;
  /** Default: $EBBLINE_BROKER_USER. The password comes from $EBBLINE_BROKER_PASSWORD or from a file. */
  brokerUser?: string;
  brokerPasswordFile?: string;
  /** True: bytes of a baby's feed may cross a network unencrypted. */
  brokerPlain?: boolean;
}

export interface BrokerAddress {
  /** For people. */
  readonly label: string;
  readonly protocol: 'mqtt' | 'mqtts';
  readonly host: string;
  readonly port: number;
  readonly ca: string | null;
  readonly user: string | null;
  readonly password: string | null;
}

/** Ports of MQTT: MQTT version 5.0, OASIS Standard, section 4.2. */
const PORTS = { mqtt: 1883, mqtts: 8883 } as const;
const LOOPBACK = /^(localhost|127(\.\d{1,3}){3}|\[::1\])$/;

const bad = (message: string, remedy: string, cause?: unknown): PlainError =>
  new PlainError('broker-address', message, remedy, { cause });

/** @throws PlainError broker-address: no valid address, unencrypted over a network, a file that cannot be read, a user without a password */
export function brokerAddress(
  choice: BrokerChoice,
  env: Readonly<Record<string, string | undefined>> = process.env,
): BrokerAddress {
  const url = URL.canParse(choice.broker) ? new URL(choice.broker) : null;
  const protocol = url?.protocol.slice(0, -1);
  if (!url || (protocol !== 'mqtt' && protocol !== 'mqtts') || url.hostname === '')
    throw bad(
      `"${choice.broker}" is not the address of a broker.`,
      'Write mqtts://HOST or mqtts://HOST:PORT.',
    );
  if (url.username !== '' || url.password !== '')
    throw bad(
      'An address with a password in it can be read by everybody on this computer.',
      'Give the user with --broker-user and the password in EBBLINE_BROKER_PASSWORD or a file (--broker-password-file).',
    );
  if (protocol === 'mqtt' && !LOOPBACK.test(url.hostname) && !choice.brokerPlain)
    throw bad(
      `Over ${choice.broker} everybody on the network could read what babies drink, and light sleeves.`,
      'Use mqtts://. If the network is closed off by other means, add --broker-plain.',
    );
  const user = choice.brokerUser ?? env.EBBLINE_BROKER_USER ?? null;
  const password =
    choice.brokerPasswordFile === undefined
      ? (env.EBBLINE_BROKER_PASSWORD ?? null)
      : textOf(choice.brokerPasswordFile, 'password').replace(/\r?\n$/, '');
  if ((user === null) !== (password === null))
    throw bad(
      user === null
        ? 'A password for the broker was given, but no user.'
        : `For the broker's user "${user}" there is no password.`,
      'Give both: --broker-user or EBBLINE_BROKER_USER, and EBBLINE_BROKER_PASSWORD or --broker-password-file.',
    );
  const caFile = choice.brokerCa ?? env.EBBLINE_BROKER_CA;
  const ca = caFile === undefined ? null : textOf(caFile, 'certificate');
  if (ca !== null && !ca.includes('-----BEGIN CERTIFICATE-----'))
    throw bad(`${caFile} holds no certificate.`, 'Give the authority’s certificate as a PEM file.');
  const port = url.port === '' ? PORTS[protocol] : Number(url.port);
  return {
    label: `${protocol}://${url.hostname}:${port}`,
    protocol,
    host: url.hostname.replace(/^\[|\]$/g, ''),
    port,
    ca,
    user,
    password,
  };
}

const textOf = (file: string, what: string): string =>
  readOrRefuse(() => readFileSync(file, 'utf8'), 'broker-address', `The broker's ${what}`, file);
