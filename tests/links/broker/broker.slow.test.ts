/** A relay, a real broker and a link to it: what goes through, what waits, what is shown meanwhile. Waits for events only. */
import { existsSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeSleeveFrame, encodeGuideFrame } from '../../../firmware-bridge/links/broker/frames.ts';
import { sleeveTopics } from '../../../firmware-bridge/links/broker/topics.ts';
import { encodeMessage, MESSAGES } from '../../../firmware-bridge/wire/index.ts';
import {
  createTestBroker,
  listenWithClient,
  noBroker,
  publishWithClient,
  type TestBrokerOptions,
} from '../../support/broker.ts';
import { seededRandom } from '../../support/random.ts';
import { handPort, IDENTITY, PLACE, startLink, startRelay } from '../../support/relayed.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { joined, streamOf, toHex } from '../../support/wire.ts';

const TOPICS = sleeveTopics(PLACE, IDENTITY.sleeveNumber);
const heartbeat = (guidanceOn: number): Uint8Array => encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn });

async function scene(options: Partial<TestBrokerOptions> = {}) {
  const folder = temporaryFolder();
  const broker = await createTestBroker({ folder, ...options });
  await broker.start();
  return { folder, broker };
}

describe.skipIf(noBroker !== null)(`through a broker ${noBroker ?? ''}`, () => {
  it.each([1, 2, 3])(
    'bytes come whole, in order and once over restarts of broker and relay, seed %i',
    async (seed) => {
      const random = seededRandom(seed);
      const { folder, broker } = await scene();
      const port = handPort();
      let { relay } = startRelay(broker, folder, { link: port });
      const there = startLink(broker);
      await there.link.open();
      const sent: Uint8Array[] = [];
      let from = 0;
      let isUp = true;
      const send = (): void => {
        const bytes = streamOf(from, 1 + Math.floor(random() * 400));
        from += 400;
        for (let at = 0; at < bytes.length; ) {
          const end = at + 1 + Math.floor(random() * 500);
          port.send(bytes.subarray(at, end));
          at = end;
        }
        sent.push(bytes);
      };
      const turn = async (): Promise<void> => {
        if (isUp) await broker.kill();
        else await broker.start();
        isUp = !isUp;
      };
      for (let step = 0; step < 14; step++) {
        const draw = random();
        if (draw < 0.6) send();
        else if (draw < 0.8) await turn();
        else {
          // The port is closed first, so that the relay stores all that it has read; then another process uses its folder.
          await relay.close();
          ({ relay } = startRelay(broker, folder, { link: port }));
        }
      }
      send();
      if (!isUp) await turn();
      const whole = joined(sent);
      await expect.poll(() => there.length).toBeGreaterThanOrEqual(whole.length);
      expect(toHex(there.bytes)).toBe(toHex(whole));
      await expect.poll(() => there.states.at(-1)!.kind).toBe('open');
    },
  );

  it('two hours without a broker wait on the disk, and come without one byte less', async () => {
    const { folder, broker } = await scene();
    const { port, said } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    await broker.kill();
    await expect.poll(() => there.states.at(-1)!.kind).toBe('lost');
    expect(there.states.at(-1)).toMatchObject({ reason: expect.stringContaining('broker') });
    // Two hours at 2,480 bytes a second; more than the memory holds, so that it is read from the disk.
    const minute = streamOf(0, 80 * 60);
    for (let i = 0; i < 120; i++) port.send(minute);
    await expect.poll(() => said.at(-1)).toMatch(/No broker answers .* kept on this computer/);
    await expect
      .poll(() => readdirSync(join(folder, 'log')).filter((name) => name.endsWith('.bytes')).length)
      .toBeGreaterThan(10);
    await broker.start();
    await expect.poll(() => there.length).toBe(120 * minute.length);
    expect(Buffer.compare(there.bytes, joined(Array.from({ length: 120 }, () => minute)))).toBe(0);
  });

  it('a frozen broker is noticed by both sides, and nothing is lost once it goes on', async () => {
    const { folder, broker } = await scene();
    const { port } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    broker.freeze();
    const bytes = streamOf(0, 800);
    port.send(bytes);
    await expect.poll(() => there.states.at(-1)!.kind).toBe('lost');
    broker.thaw();
    await expect.poll(() => there.length).toBe(bytes.length);
    await expect.poll(() => there.states.at(-1)!.kind).toBe('open');
    expect(toHex(there.bytes)).toBe(toHex(bytes));
  });

  it('what waited for the link is told as lost, and it is open again with the newest byte', async () => {
    const { folder, broker } = await scene();
    const { port } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    port.set({ kind: 'lost', reason: 'The sleeve on /dev/ttyX is unplugged or switched off.' });
    await expect
      .poll(() => there.states.at(-1))
      .toEqual({ kind: 'lost', reason: 'The sleeve on /dev/ttyX is unplugged or switched off.' });
    port.set({ kind: 'open' });
    await expect.poll(() => there.states.at(-1)!.kind).toBe('open');
  });

  it('a relay that is switched off, or dies, is said; it is found again', async () => {
    const { folder, broker } = await scene();
    const { relay, port } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    await relay.close();
    await expect
      .poll(() => there.states.at(-1))
      .toMatchObject({ kind: 'lost', reason: expect.stringMatching(/relay of sleeve 4711 is switched off/) });
    startRelay(broker, folder, { link: port });
    await expect.poll(() => there.states.at(-1)!.kind).toBe('open');
  });

  it('light and sound go to the sleeve; heartbeats are the relay’s own', async () => {
    const { folder, broker } = await scene();
    const { port } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    there.link.write(heartbeat(1));
    there.link.write(Uint8Array.of(0xe3, 0x14, 0x01));
    there.link.write(encodeMessage(MESSAGES.SOUND, { frequencyHz: 880, onMs: 90, offMs: 60, repeats: 2 }));
    await expect
      .poll(() => port.heard)
      .toContainEqual({ kind: 'sound', frequencyHz: 880, onMs: 90, offMs: 60, repeats: 2 });
    expect(port.heard).toContainEqual({ kind: 'analog', pin: 3, level: 148 });
    expect(port.heard).toContainEqual({ kind: 'heartbeat', guidanceOn: 1 });
  });

  it('of two programs that guide one sleeve the second is told so, and shows nothing', async () => {
    const { folder, broker } = await scene();
    const { port } = startRelay(broker, folder);
    const first = startLink(broker);
    await first.link.open();
    const second = startLink(broker);
    await expect(second.link.open()).rejects.toMatchObject({
      code: 'relay-silent',
      message: expect.stringContaining('Another program guides sleeve 4711'),
    });
    expect(first.states.at(-1)!.kind).toBe('open');
    expect(port.heard.filter(({ kind }) => kind === 'analog')).toEqual([]);
  });
});

describe.skipIf(noBroker !== null)('two relays with sleeves of one number', () => {
  it('the first keeps it; the second says so, stays dark, and takes over when the first is gone', async () => {
    const { folder, broker } = await scene();
    const first = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    const second = startRelay(broker, join(folder, 'other'));
    await expect
      .poll(() => second.said.at(-1))
      .toMatch(/Another relay already passes on a sleeve of the number 4711 in room "blue".*another number/);
    const bytes = streamOf(0, 50);
    second.port.send(streamOf(9000, 50));
    first.port.send(bytes);
    await expect.poll(() => there.length).toBe(bytes.length);
    expect(toHex(there.bytes)).toBe(toHex(bytes));
    expect(second.port.heard.some((one) => one.kind === 'heartbeat' && one.guidanceOn === 1)).toBe(false);
    await first.relay.close();
    second.port.send(streamOf(9050, 50));
    await expect.poll(() => there.states.at(-1)!.kind).toBe('open');
  });
});

describe.skipIf(noBroker !== null)('what goes wrong is said in a sentence', () => {
  it('a broker that is not there', async () => {
    const { folder, broker } = await scene();
    await broker.kill();
    await expect(startLink(broker).link.open()).rejects.toMatchObject({
      code: 'broker-away',
      message: `No broker answers at mqtt://localhost:${broker.port}.`,
    });
    const { said } = startRelay(broker, folder);
    await expect.poll(() => said).toHaveLength(1);
    expect(said[0]).toMatch(/^No broker answers at mqtt.*kept on this computer\.$/);
  });

  it('a sleeve number that nobody passes on, with those that are there', async () => {
    const { folder, broker } = await scene();
    startRelay(broker, folder);
    await startLink(broker).link.open();
    await expect(startLink(broker, undefined, 12).link.open()).rejects.toMatchObject({
      code: 'relay-none',
      message: expect.stringMatching(/sleeve of the number 12 in room "blue" of site "elm house"/),
      remedy: 'Sleeves there: 4711.',
    });
  });

  it('a wrong password; the right one over TLS is taken, and the certificate is checked', async () => {
    const { folder, broker } = await scene({ password: true, tls: 'good' });
    const { said } = startRelay(broker, folder);
    await expect.poll(() => said.at(-1)).toMatch(/^Sleeve 4711 is passed on to mqtts/);
    await startLink(broker).link.open();
    const wrong = { ...broker.address, password: 'guessed' };
    await expect(startLink({ address: wrong }).link.open()).rejects.toMatchObject({
      code: 'broker-password',
    });
    const unknown = { ...broker.address, ca: null };
    await expect(startLink({ address: unknown }).link.open()).rejects.toMatchObject({
      code: 'broker-certificate',
      remedy: expect.stringContaining('--broker-ca'),
    });
    const other = { ...broker.address, host: '127.0.0.2' };
    expect(
      (
        await startLink({ address: other })
          .link.open()
          .catch((error) => error)
      ).code,
    ).toMatch(/^broker-(certificate|away)$/);
  });

  it('an expired certificate', async () => {
    const { folder, broker } = await scene({ tls: 'expired' });
    await expect(startLink(broker).link.open()).rejects.toMatchObject({
      code: 'broker-certificate',
      message: expect.stringContaining('has expired'),
    });
    const { said } = startRelay(broker, folder);
    await expect.poll(() => said.at(-1)).toMatch(/has expired.*Renew it.*kept on this computer/);
  });

  it('a disk that takes nothing: said, and the bytes go on', async () => {
    const { folder, broker } = await scene();
    const { port, said } = startRelay(broker, folder);
    const there = startLink(broker);
    await there.link.open();
    // Without its folder the log cannot be written.
    rmSync(join(folder, 'log'), { recursive: true });
    const bytes = streamOf(0, 300);
    port.send(bytes);
    await expect.poll(() => said.at(-1)).toMatch(/^The disk does not take the sleeve's bytes/);
    await expect.poll(() => there.length).toBe(bytes.length);
    expect(existsSync(join(folder, 'log'))).toBe(false);
  });
});

describe.skipIf(noBroker !== null)(
  'beside the broker’s own client, MQTT 5 (mosquitto_sub, mosquitto_pub)',
  () => {
    it('hears the retained identity, the bytes, and what a relay’s last will says', async () => {
      const { folder, broker } = await scene();
      const { port } = startRelay(broker, folder);
      await startLink(broker).link.open();
      // Retain flag, topic, payload in hexadecimal digits.
      const client = await listenWithClient(broker, ['-q', '1', '-t', 'ebbline/#', '-F', '%r %x %t']);
      const relayWords = () =>
        client.lines
          .filter((line) => line.endsWith(TOPICS.relay))
          .map((line) => line.split(' '))
          .map(([retained, hex]) => ({ retained, ...JSON.parse(Buffer.from(hex!, 'hex').toString()) }));
      await client.until(() => relayWords().length > 0);
      expect(relayWords()[0]).toMatchObject({
        retained: '1',
        says: 'here',
        sleeveNumber: 4711,
        contractVersion: 2,
        firmwareVersion: '0.1.0',
      });
      const bytes = streamOf(0, 40);
      port.send(bytes);
      const got = () =>
        joined(
          client.lines
            .filter((line) => line.endsWith(TOPICS.fromSleeve))
            .map((line) => decodeSleeveFrame(Buffer.from(line.split(' ')[1]!, 'hex'))!.bytes),
        );
      await client.until(() => got().length >= bytes.length);
      expect(toHex(got())).toBe(toHex(bytes));
    });

    it('a word published by it, with the header of ours, is played', async () => {
      const { folder, broker } = await scene();
      const client = await listenWithClient(broker, ['-q', '1', '-t', TOPICS.fromSleeve, '-F', '%r %x %t']);
      const { port } = startRelay(broker, folder);
      const latest = () =>
        client.lines
          .filter((line) => line.endsWith(TOPICS.fromSleeve))
          .map((line) => decodeSleeveFrame(Buffer.from(line.split(' ')[1]!, 'hex'))!)
          .at(-1)!;
      await client.until(() => latest() !== undefined);
      const say = (number: number, bytes: Uint8Array): void => {
        const file = join(folder, 'word');
        const mark = { id: 'f'.repeat(16), ms: 0 };
        writeFileSync(
          file,
          encodeGuideFrame({
            mark,
            number,
            epoch: 0,
            relay: latest().mark,
            wants: null,
            isAsking: true,
            bytes,
          }),
        );
        publishWithClient(broker, TOPICS.toSleeve, file);
      };
      let number = 0;
      await expect
        .poll(() => {
          say(++number, Uint8Array.of(...heartbeat(1), 0xe5, 0x20, 0x00));
          return port.heard.some((one) => one.kind === 'heartbeat' && one.guidanceOn === 1);
        })
        .toBe(true);
      expect(port.heard).toContainEqual({ kind: 'analog', pin: 5, level: 32 });
      // The link passes on nothing that is not one of our messages.
      const noise = join(folder, 'noise');
      writeFileSync(noise, 'no such frame');
      publishWithClient(broker, TOPICS.toSleeve, noise);
      publishWithClient(broker, TOPICS.relay, noise);
      const before = latest().mark.id;
      port.send(streamOf(0, 10));
      await client.until(() => latest().bytes.length > 0);
      expect(latest().mark.id).toBe(before);
    });
  },
);
