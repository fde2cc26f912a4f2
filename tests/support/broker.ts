/** A real broker, mosquitto, on a free port of this computer; a test can start, kill and freeze it. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { type BrokerAddress, brokerAddress } from '../../firmware-bridge/links/broker/broker-address.ts';
import { freePort } from './free-port.ts';
import { complains, killNow } from './processes.ts';

const PATH = `${process.env.PATH}:/usr/sbin:/usr/local/sbin`;
const isThere = (name: string): boolean =>
  spawnSync('sh', ['-c', `command -v ${name}`], { env: { PATH } }).status === 0;

/** Why there is no broker here; null if there is. */
export const noBroker: string | null = ['mosquitto', 'mosquitto_sub', 'openssl'].every(isThere)
  ? null
  : 'mosquitto, mosquitto-clients or openssl is not installed';

export const USER = 'cots';
export const PASSWORD = 'invented-for-tests';

export interface TestBroker {
  readonly port: number;
  readonly url: string;
  readonly address: BrokerAddress;
  readonly pid: number;
  start(): Promise<void>;
  /** Like a power cut. */
  kill(): Promise<void>;
  /** It keeps its connections and does nothing. */
  freeze(): void;
  thaw(): void;
}

export interface TestBrokerOptions {
  folder: string;
  /** Only users with a password are let in. */
  password?: boolean;
  /** With a certificate of its own, signed by its own authority; `expired`: since yesterday. */
  tls?: 'good' | 'expired';
  /** More lines of its configuration. */
  lines?: readonly string[];
  /** Called with a function that ends it; default: it ends with the test. */
  whenOver?: (end: () => Promise<void>) => void;
}

const opensslIn =
  (folder: string) =>
  (...args: string[]) =>
    execFileSync('openssl', args, { stdio: 'pipe', cwd: folder });

/** Makes a certificate authority and a certificate for `localhost`. */
export function makeCertificates(folder: string, days: number): { ca: string; cert: string; key: string } {
  const file = (name: string): string => join(folder, name);
  const openssl = opensslIn(folder);
  const key = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes'];
  openssl(
    'req',
    '-x509',
    ...key,
    '-days',
    '2',
    '-subj',
    '/CN=Invented authority',
    '-keyout',
    'ca.key',
    '-out',
    'ca.pem',
  );
  openssl('req', ...key, '-subj', '/CN=localhost', '-keyout', 'broker.key', '-out', 'broker.csr');
  writeFileSync(file('names'), 'subjectAltName=DNS:localhost,IP:127.0.0.1\n');
  signAnew(folder, days);
  return { ca: file('ca.pem'), cert: file('broker.pem'), key: file('broker.key') };
}

/** The same authority signs the certificate for so many days from now on; below 0: it has expired. */
export const signAnew = (folder: string, days: number): void =>
  void opensslIn(folder)(
    ...['x509', '-req', '-in', 'broker.csr', '-CA', 'ca.pem', '-CAkey', 'ca.key', '-CAcreateserial'],
    ...['-days', String(days), '-extfile', 'names', '-out', 'broker.pem'],
  );

function configuration(
  { folder, password, tls, lines: more = [] }: TestBrokerOptions,
  port: number,
): string[] {
  const lines = [
    `listener ${port} 127.0.0.1`,
    'log_dest stderr',
    'log_type all',
    'persistence false',
    ...more,
  ];
  // If started by root it reads its files as the user it changes to.
  chmodSync(folder, 0o755);
  if (password) {
    writeFileSync(join(folder, 'users'), `${USER}:${PASSWORD}\n`);
    execFileSync('mosquitto_passwd', ['-U', join(folder, 'users')], { env: { PATH } });
    chmodSync(join(folder, 'users'), 0o644);
    lines.push('allow_anonymous false', `password_file ${join(folder, 'users')}`);
  } else lines.push('allow_anonymous true');
  if (tls) {
    const { cert, key } = makeCertificates(folder, tls === 'good' ? 1 : -1);
    for (const name of [cert, key]) chmodSync(name, 0o644);
    lines.push(`certfile ${cert}`, `keyfile ${key}`);
  }
  return lines;
}

/** A broker that is not started yet; removed after the test. */
export async function createTestBroker(options: TestBrokerOptions): Promise<TestBroker> {
  const { folder, password, tls, whenOver = onTestFinished } = options;
  const port = await freePort();
  const file = join(folder, 'broker.conf');
  writeFileSync(file, `${configuration(options, port).join('\n')}\n`);
  let child: ChildProcess | null = null;
  const kill = (): Promise<void> => killNow(child);
  whenOver(kill);
  const url = `${tls ? 'mqtts' : 'mqtt'}://localhost:${port}`;
  return {
    port,
    url,
    get pid() {
      return child?.pid ?? 0;
    },
    address: brokerAddress(
      {
        broker: url,
        ...(tls && { brokerCa: join(folder, 'ca.pem') }),
        ...(password && { brokerUser: USER }),
      },
      password ? { EBBLINE_BROKER_PASSWORD: PASSWORD } : {},
    ),
    async start() {
      const started = spawn('mosquitto', ['-c', file], {
        env: { PATH },
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      child = started;
      await complains(started, /running/, 'mosquitto');
    },
    kill,
    freeze: () => void child?.kill('SIGSTOP'),
    thaw: () => void child?.kill('SIGCONT'),
  };
}

/** Lines printed by `mosquitto_sub` once it is subscribed; it ends with the test. */
export async function listenWithClient(
  broker: TestBroker,
  args: readonly string[],
): Promise<{ lines: string[]; until(isSo: (lines: string[]) => boolean): Promise<void> }> {
  const client = ['mosquitto_sub', '-V', '5', '-h', 'localhost', '-p', String(broker.port), '-d', ...args];
  // Line by line: into a pipe it would write only after filling a buffer.
  const child = spawn('stdbuf', ['-oL', ...client], { env: { PATH }, stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const lines: string[] = [];
  const waiting = new Set<() => void>();
  let rest = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    const parts = (rest + text).split('\n');
    rest = parts.pop()!;
    lines.push(...parts);
    for (const look of waiting) look();
  });
  const until = (isSo: (lines: string[]) => boolean): Promise<void> =>
    new Promise((resolve) => {
      const look = (): void => {
        if (!isSo(lines)) return;
        waiting.delete(look);
        resolve();
      };
      waiting.add(look);
      look();
    });
  await until((all) => all.some((line) => /^Subscribed|received SUBACK/.test(line)));
  return { lines, until };
}

/** `mosquitto_pub`, MQTT 5, QoS 1. */
export function publishWithClient(broker: TestBroker, topic: string, file: string): void {
  execFileSync(
    'mosquitto_pub',
    ['-V', '5', '-h', 'localhost', '-p', String(broker.port), '-q', '1', '-t', topic, '-f', file],
    { env: { PATH } },
  );
}
