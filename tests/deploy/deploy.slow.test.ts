/** What `deploy/` makes and says holds on a real broker: nobody without a password, by TLS alone, and each user only what is its own. */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { chmodSync, cpSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { firstValueFrom } from 'rxjs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { brokerAddress } from '../../firmware-bridge/links/broker/broker-address.ts';
import { brokerSession } from '../../firmware-bridge/links/broker/broker-session.ts';
import { sleeveTopics, wantedTopic } from '../../firmware-bridge/links/broker/topics.ts';
import { noBroker } from '../support/broker.ts';
import { requireBuild } from '../support/command.ts';
import { freePort } from '../support/free-port.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const DEPLOY = fileURLToPath(new URL('../../deploy', import.meta.url));
const COMMAND = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));
const env = { ...process.env, PATH: `${process.env.PATH}:/usr/sbin` };

/** The folder of each user of the broker. */
const FOLDERS = { workers: 'work', relays: 'relay', board: 'board' } as const;

describe.skipIf(noBroker !== null)(`deploy ${noBroker ?? ''}`, () => {
  it('gives each its own secrets, and lets in only by TLS and with a password', async () => {
    const secrets = join(temporaryFolder(), 'secrets');
    execFileSync('sh', [join(DEPLOY, 'secrets.sh'), secrets, 'localhost'], { env, stdio: 'pipe' });
    for (const part of readdirSync(secrets)) expect(statSync(join(secrets, part)).mode & 0o077).toBe(0);
    expect(spawnSync('sh', [join(DEPLOY, 'secrets.sh'), secrets], { env }).status).toBe(2);

    // The broker is started by root and reads its files as the user it changes to.
    const folder = temporaryFolder();
    cpSync(join(secrets, 'broker'), folder, { recursive: true });
    for (const path of [folder, ...readdirSync(folder).map((name) => join(folder, name))])
      chmodSync(path, 0o755);
    const port = await freePort();
    const file = join(folder, 'mosquitto.conf');
    writeFileSync(
      file,
      readFileSync(join(DEPLOY, 'mosquitto.conf'), 'utf8')
        .replace('listener 8883', `listener ${port} 127.0.0.1`)
        .replaceAll('/secrets/', `${folder}/`),
    );
    const broker = spawn('mosquitto', ['-c', file], { env, stdio: ['ignore', 'ignore', 'pipe'] });
    onTestFinished(() => void broker.kill('SIGKILL'));
    let log = '';
    broker.stderr.setEncoding('utf8').on('data', (text: string) => {
      log += text;
    });
    await expect.poll(() => log).toMatch(/running/);

    const address = (protocol: string, user?: keyof typeof FOLDERS) =>
      brokerAddress(
        {
          broker: `${protocol}://localhost:${port}`,
          brokerCa: join(secrets, 'authority', 'ca.pem'),
          ...(user && {
            brokerUser: user,
            brokerPasswordFile: join(secrets, FOLDERS[user], 'broker-password'),
          }),
        },
        {},
      );
    const heard = (of: ReturnType<typeof address>, topics: string[]) =>
      firstValueFrom(brokerSession(of, { clientId: `test-${topics.length}`, keepSec: 0, topics })).then(
        () => 'in',
        (error: { code?: string }) => error.code,
      );
    /** @returns what happens to a message that a user publishes on `topic` */
    const said = (of: ReturnType<typeof address>, topic: string) =>
      new Promise<string>((resolve) => {
        const session = brokerSession(of, {
          ...{ clientId: `says-${topic}`, keepSec: 0 },
          topics: [sleeveTopics(place, '+').state],
        }).subscribe({
          next: ({ publish }) => publish(topic, new Uint8Array([1]), {}, () => resolve('taken')),
          error: ({ code }: { code: string }) => resolve(code),
        });
        onTestFinished(() => session.unsubscribe());
      });
    const place = { site: 'home', room: 'blue' };
    const topics = sleeveTopics(place, 7);
    expect(await heard(address('mqtts'), [topics.state])).toBe('broker-password');
    expect(await heard(address('mqtt', 'workers'), [topics.state])).not.toBe('in');
    expect(await heard(address('mqtts', 'workers'), [wantedTopic(null, null), topics.fromSleeve])).toBe('in');
    expect(await heard(address('mqtts', 'relays'), [topics.toSleeve, topics.relay, topics.checkpoint])).toBe(
      'in',
    );
    expect(await heard(address('mqtts', 'board'), [sleeveTopics(place, '+').state])).toBe('in');
    expect(await said(address('mqtts', 'workers'), topics.toSleeve)).toBe('taken');
    expect(await said(address('mqtts', 'relays'), topics.fromSleeve)).toBe('taken');
    for (const user of ['relays', 'board'] as const)
      for (const topic of [topics.toSleeve, topics.checkpoint, topics.state])
        expect([user, topic, await said(address('mqtts', user), topic)]).toEqual([
          user,
          topic,
          'broker-not-allowed',
        ]);
    expect(await said(address('mqtts', 'board'), topics.fromSleeve)).toBe('broker-not-allowed');
  });

  it('opens one port, and uses options that there are', () => {
    requireBuild();
    const compose = readFileSync(join(DEPLOY, 'compose.yaml'), 'utf8');
    expect([...compose.matchAll(/^\s+ports: (.*)$/gm)].map(([, ports]) => ports)).toEqual([
      '["8883:8883"]',
      '["443:4141"]',
    ]);
    const units = readdirSync(join(DEPLOY, 'systemd')).map((name) =>
      readFileSync(join(DEPLOY, 'systemd', name), 'utf8'),
    );
    for (const command of ['work', 'relay', 'board']) {
      const help = execFileSync(process.execPath, [COMMAND, command, '--help'], { encoding: 'utf8' });
      const inCompose = compose
        .split(new RegExp(`^ +- ${command}$`, 'm'))[1]!
        .split(/^ +- (?!--)|^ {2}\S/m)[0]!;
      const lines = [
        ...units.flatMap((text) => text.match(new RegExp(`ebbline\\.js ${command} .*$`, 'gm')) ?? []),
        ...(inCompose.match(/^ +- --\S+/gm) ?? []),
      ];
      expect(lines.length).toBeGreaterThan(3);
      for (const [option] of lines.join(' ').matchAll(/--[a-z-]+/g)) expect(help).toContain(option);
    }
  });
});
